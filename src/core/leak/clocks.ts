import { dayNumber } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import { type ClockReading, DAYS_PER_YEAR, LeakClock, seasonWeights } from "./leak-clock.ts";
import { G_COUNT, GROWTH } from "./leak-grid.ts";
import { firstYears, type Horizon, type MonthTable, monthTable } from "./month-table.ts";

/** The leak clocks (MODEL §1) of a question: years from the assessment date to season-adjusted years. */
export interface Clocks {
  /** Season alone, without growth. */
  season: ClockReading;
  /** When, in years, season-adjusted time reaches `due`: the inverse of `season`. */
  season_reaches: (due: number) => number;
  /** A clock for each growth of the grid. */
  growth: readonly ClockReading[];
  /** A clock for twice each growth, which the variance of what leaks follows. */
  growth_twice: readonly ClockReading[];
  /** What `growth` and `growth_twice` read at a time, years; kept for when the same time is asked for again. */
  at: (t: number) => ClockValues;
  /** A clock for any growth, per year. */
  reading: (g: number) => ClockReading;
  /** Monthly values of `season` and `growth` up to a horizon; computed once. */
  months: (horizon: Pick<Horizon, "years" | "hazard">) => MonthTable;
}

/** The leak clocks at one time, by growth of the grid. */
export interface ClockValues {
  /** Leak clock of growth g, years. */
  growth: Float64Array;
  /** Leak clock of growth 2·g, years. */
  growth_twice: Float64Array;
}

/** For each growth of the grid: where twice as much stands in it; −1: nowhere. */
const TWICE = Int32Array.from(GROWTH, (g) => GROWTH.indexOf(2 * g));

/** Most times whose readings are kept: a log's entries, and the months that a forecast looks at. */
const TIMES_KEPT = 500;
/** Most month tables kept, one for each hazard; there are only a few hazards. */
const TABLES_KEPT = 16;

/** Clocks for a question, from `first_t` to `last_u` years from the assessment date. */
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
  // Twice a growth is often another growth of the grid, so readings are shared.
  const reading = (g: number): ClockReading => {
    const known = of_growth.get(g) ?? clock.reading(g);
    of_growth.set(g, known);
    return known;
  };
  const growth = Array.from(GROWTH, reading);
  const growth_twice = Array.from(GROWTH, (g) => reading(2 * g));
  const season = growth[GROWTH.indexOf(0)]!;
  const times = new Map<number, ClockValues>();
  const tables = new Map<number, { years: number; table: MonthTable }>();
  return {
    season,
    season_reaches: (due) => clock.seasonReaches(due),
    growth,
    growth_twice,
    at: (t) => {
      const known = times.get(t);
      if (known !== undefined) return known;
      const values: ClockValues = { growth: new Float64Array(G_COUNT), growth_twice: new Float64Array(G_COUNT) };
      for (let j = 0; j < G_COUNT; j++) {
        values.growth[j] = growth[j]!(t);
      }
      for (let j = 0; j < G_COUNT; j++) {
        const same = TWICE[j]!;
        values.growth_twice[j] = same >= 0 ? values.growth[same]! : growth_twice[j]!(t);
      }
      if (times.size === TIMES_KEPT) times.clear();
      times.set(t, values);
      return values;
    },
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

/** Years ahead that the forecast needs; the longest plan is no longer. */
export const CLOCK_YEARS_AHEAD = 20;

/** Years back that shared clocks cover: longer than most logs. */
const YEARS_BACK = 30;
/** Most shared clocks kept; beyond this the oldest goes. A fleet has few climates, refrigerants and days. */
const KEPT = 32;

/** Clocks kept for a whole fleet: questions with the same refrigerant, climate and day have equal ones. */
export class SharedClocks {
  readonly #known = new Map<string, Clocks>();

  /** Clocks for `posteriorOf`; null where the log goes back further than shared clocks do, so that it makes its own. */
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
