import { dayNumber } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import { type ClockReading, DAYS_PER_YEAR, LeakClock, seasonWeights } from "./leak-clock.ts";
import { GROWTH } from "./leak-grid.ts";
import { firstYears, type Horizon, type MonthTable, monthTable } from "./month-table.ts";

/** Clock readings for each growth g_j, and for 2·g_j (the variance of what leaks), and for the season alone. */
export interface Clocks {
  season: ClockReading;
  /** When season-adjusted time reaches a value: the inverse of `season`. */
  season_reaches: (due: number) => number;
  growth: readonly ClockReading[];
  growth_twice: readonly ClockReading[];
  /** For any growth. */
  reading: (g: number) => ClockReading;
  /** The table of all growths to a horizon, computed once. */
  months: (horizon: Pick<Horizon, "years" | "hazard">) => MonthTable;
}

/** Tables kept, one for each hazard: there are few. */
const TABLES_KEPT = 16;

/** Clocks for a question, covering its log and `last_u` years ahead. */
export function clocksOf(
  question: Pick<Question, "refrigerant" | "monthly_mean_c" | "as_of_day">,
  first_t: number,
  last_u: number,
): Clocks {
  const clock = new LeakClock(
    seasonWeights(question.refrigerant, question.monthly_mean_c),
    question.as_of_day,
    Math.min(0, first_t),
    last_u,
  );
  const of_growth = new Map<number, ClockReading>();
  // Twice one growth is often another.
  const reading = (g: number): ClockReading => {
    const known = of_growth.get(g) ?? clock.reading(g);
    of_growth.set(g, known);
    return known;
  };
  const growth = Array.from(GROWTH, reading);
  const season = growth[GROWTH.indexOf(0)]!;
  const tables = new Map<number, { years: number; table: MonthTable }>();
  return {
    season,
    season_reaches: (due) => clock.seasonReaches(due),
    growth,
    growth_twice: Array.from(GROWTH, (g) => reading(2 * g)),
    reading: (g) => clock.reading(g),
    months: (horizon) => {
      const known = tables.get(horizon.hazard);
      if (known !== undefined && known.years >= horizon.years) return firstYears(known.table, horizon.years);
      const table = monthTable(season, growth, horizon);
      if (tables.size === TABLES_KEPT) tables.clear();
      tables.set(horizon.hazard, { years: horizon.years, table });
      return table;
    },
  };
}

/** Years ahead that the forecast needs; repair plans look no further. */
export const CLOCK_YEARS_AHEAD = 20;

/** Years back that shared clocks cover: longer than most logs. */
const YEARS_BACK = 30;
/** Shared clocks that are kept: a fleet has few climates, refrigerants and days. Beyond this the oldest goes. */
const KEPT = 32;

/** Shared clocks: questions with the same refrigerant, climate and day have equal ones. */
export class SharedClocks {
  readonly #known = new Map<string, Clocks>();

  /** The clocks of a question, as `posteriorOf` takes them; null for a log that goes back too far to share any. */
  of(question: Pick<Question, "refrigerant" | "monthly_mean_c" | "as_of_day" | "log" | "logged">): Clocks | null {
    const { refrigerant, monthly_mean_c, as_of_day, log, logged } = question;
    const furthest = as_of_day - YEARS_BACK * DAYS_PER_YEAR;
    if ((logged?.from_day ?? furthest) < furthest) return null;
    if (log.some(({ date, date_within_days }) => dayNumber(date) - (date_within_days ?? 0) < furthest)) return null;
    const key = `${refrigerant} ${as_of_day} ${monthly_mean_c?.join()}`;
    let clocks = this.#known.get(key);
    if (clocks === undefined) {
      clocks = clocksOf(question, -YEARS_BACK, CLOCK_YEARS_AHEAD);
      if (this.#known.size >= KEPT) this.#known.delete(this.#known.keys().next().value!);
      this.#known.set(key, clocks);
    }
    return clocks;
  }
}
