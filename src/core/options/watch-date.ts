import type { Clocks } from "../leak/clocks.ts";
import { dayAt } from "../leak/leak-clock.ts";
import { isoFromDay } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import type { Start } from "./node-events.ts";

const ROUNDING_YEARS = 1e-9;

/**
 * The date before which another low charge means repair: where season-adjusted time since the last fill, now or that of
 * the log, reaches the switch rule of `rule_years`. It may lie in the past. Null without a fill, after a fill of the
 * log that left too little for its spell to be judged, or when the rule never repairs.
 */
export function watchDate(
  question: Pick<Question, "as_of_day">,
  start: Omit<Start, "nodes">,
  clocks: Pick<Clocks, "season_reaches">,
  rule_years: number,
): string | null {
  const from = start.top_up_now ? 0 : start.last_fill_counts ? start.last_fill_season : null;
  if (from === null || rule_years === 0) return null;
  // Half a day, the end of two calendar years, counts as reached however the sum is rounded.
  return isoFromDay(dayAt(question.as_of_day, clocks.season_reaches(from + rule_years) + ROUNDING_YEARS));
}
