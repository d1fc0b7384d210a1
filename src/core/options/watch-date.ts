import type { Clocks } from "../leak/clocks.ts";
import { dayAt } from "../leak/leak-clock.ts";
import { isoFromDay } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import type { Start } from "./node-events.ts";

const ROUNDING_YEARS = 1e-9;

/**
 * The date before which another low charge means repair: when season-adjusted time since the last fill, today's top-up
 * or that of the log, reaches the switch rule of `rule_years`. It may lie in the past. Null without a fill, after one
 * that left too little for its spell to count, or where the rule never repairs.
 */
export function watchDate(
  question: Pick<Question, "as_of_day">,
  start: Omit<Start, "nodes">,
  clocks: Pick<Clocks, "season_reaches">,
  rule_years: number,
): string | null {
  const from = start.top_up_now ? 0 : start.last_fill_counts ? start.last_fill_season : null;
  if (from === null || rule_years === 0) return null;
  // Two years are 730.5 days, just between two days: rounding errors must not decide which of them it is.
  return isoFromDay(dayAt(question.as_of_day, clocks.season_reaches(from + rule_years) + ROUNDING_YEARS));
}
