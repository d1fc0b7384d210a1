import { monthsAfter } from "../../src/core/quantities/dates.ts";
import { chosenOption, type Outcome, watchDateOf } from "./outcome.ts";

/**
 * The one limit that someone who tops it off acts on: low again before a date, or, where no date can be told yet, after
 * fewer months than a charge has to last. Null where nothing but topping off comes, or the date lies beyond the years
 * that it will be kept. What the model compares besides, a leak rate say, is this limit in other units.
 */
export type Limit = { kind: "date"; iso: string } | { kind: "months"; months: number };

/** The limit under an answer that tops off, now or later. */
export function limitOf(outcome: Pick<Outcome, "answer" | "question">): Limit | null {
  const { switch_months = null } = chosenOption(outcome) ?? {};
  if (switch_months === 0) return null;
  const iso = watchDateOf(outcome);
  if (iso !== null) return { kind: "date", iso };
  return isBeyondKeeping(outcome) ? null : { kind: "months", months: switch_months ?? 0 };
}

/** Whether the watch date comes after the years that it will be kept: any low charge before then is too soon. */
export function isBeyondKeeping(outcome: Pick<Outcome, "answer" | "question">): boolean {
  const { watch_date = null } = chosenOption(outcome) ?? {};
  const { answer, question } = outcome;
  return watch_date !== null && watch_date > monthsAfter(answer.as_of, 12 * question.plan.keep_years);
}

/** The day around which a charge that is filled up today is low again. */
export function lowAgainIfFilled({ answer }: Pick<Outcome, "answer">): string {
  return monthsAfter(answer.as_of, answer.leak.full_charge_lasts_months.median);
}
