import type { Question } from "../question/question.ts";
import { type ClockReading, LeakClock, seasonWeights } from "./leak-clock.ts";
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
  /** The table of all growths to a horizon, made once for all that ask. */
  months: (horizon: Pick<Horizon, "years" | "hazard">) => MonthTable;
}

/** Tables kept at once, one a hazard: there are few. */
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
  const growth = Array.from(GROWTH, (g) => clock.reading(g));
  const season = growth[GROWTH.indexOf(0)]!;
  const tables = new Map<number, { years: number; table: MonthTable }>();
  return {
    season,
    season_reaches: (due) => clock.seasonReaches(due),
    growth,
    growth_twice: Array.from(GROWTH, (g) => clock.reading(2 * g)),
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
