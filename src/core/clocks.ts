import { type ClockReading, LeakClock, seasonWeights } from "./leak-clock.ts";
import { GROWTH } from "./leak-grid.ts";
import type { Question } from "./question.ts";

/** Clock readings for each growth g_j, and for 2·g_j (the variance of what leaks), and for the season alone. */
export interface Clocks {
  season: ClockReading;
  growth: readonly ClockReading[];
  growth_twice: readonly ClockReading[];
  /** For any growth. */
  reading: (g: number) => ClockReading;
}

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
  return {
    season: growth[GROWTH.indexOf(0)]!,
    growth,
    growth_twice: Array.from(GROWTH, (g) => clock.reading(2 * g)),
    reading: (g) => clock.reading(g),
  };
}

/** Years ahead that the forecast needs; repair plans look no further. */
export const CLOCK_YEARS_AHEAD = 20;
