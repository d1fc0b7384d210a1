import { type ClockReading, DAYS_PER_YEAR, dayAt } from "../leak/leak-clock.ts";
import { rootOf } from "../maths/root.ts";
import { isoFromDay } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import type { Start } from "./node-events.ts";

const ROUNDING_YEARS = 1e-9;

/**
 * The date before which another low charge means repair: where season-adjusted time since the last fill, now or that of
 * the log, reaches the switch rule of `rule_years`. Null without a fill, or when the rule never repairs.
 */
export function watchDate(question: Question, start: Start, season: ClockReading, rule_years: number): string | null {
  const from = start.top_up_now ? 0 : start.last_fill_season;
  if (from === null || rule_years === 0) return null;
  // A winter too cold to leak stops this clock: the day it stops counts as reached, however the sum is rounded.
  const due = from + rule_years - ROUNDING_YEARS;
  const miss = (t: number): number => season(t) - due;
  // A year of season is a year of calendar, so the date lies within a year of `due`.
  const t = rootOf(miss, due - 1, due + 1, 0.01 / DAYS_PER_YEAR);
  return isoFromDay(dayAt(question.as_of_day, t));
}
