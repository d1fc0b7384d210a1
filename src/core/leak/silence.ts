import { NOTICED_WITHIN_YEARS, UNLOGGED_LEAST } from "../../../data/model-constants.ts";
import type { Question } from "../question/question.ts";
import type { ChargeFilter } from "./charge-filter.ts";
import { DAYS_PER_YEAR } from "./leak-clock.ts";

/**
 * What it means that a log which every charge is in has no entry for a while (MODEL §3): the vehicle was not found low,
 * or it was and that charge was not logged, which happens to each charge with the same chance.
 */

/** The span in which silence says something. */
export interface Silence {
  /** Its first day, years from the assessment date; null: that of the first entry. */
  from_t: number | null;
  /** Its last day, at most 0. */
  until_t: number;
  /** Chance that a charge was given and not logged, 0–0.5. */
  missed: number;
}

/** The silence of a question; null where nobody said that every charge is logged. */
export function silenceOf({ logged, as_of_day }: Pick<Question, "logged" | "as_of_day">): Silence | null {
  if (logged === null) return null;
  const { from_day, until_day, missed } = logged;
  return {
    from_t: from_day === null ? null : (from_day - as_of_day) / DAYS_PER_YEAR,
    until_t: Math.min(0, (until_day - as_of_day) / DAYS_PER_YEAR),
    missed,
  };
}

/**
 * Moves the filter from `from` to `to`, years, between which nothing was logged. Afterwards it is the part of the run
 * in which no charge was missed; the branches that it returns are those in which one was, two were, … Each had been low
 * as often as that, and still cools at `to`. Together they are what is known; `mergeIn` joins them.
 */
export function moveInSilence(filter: ChargeFilter, from: number, to: number, missed: number): ChargeFilter[] {
  filter.move(from, to);
  const branches: ChargeFilter[] = [];
  if (missed === 0 || from === to) {
    filter.look("ok");
    return branches;
  }
  let low = filter.branch();
  filter.look("ok");
  const cooling = filter.logEvidence();
  const share = () => Math.exp(low.logEvidence() - cooling);
  for (;;) {
    low.look("weak", false, 0);
    low.chargeUnlogged(from, to, missed);
    const one_more = share();
    if (!(one_more > UNLOGGED_LEAST)) return branches;
    low.keepBeside(cooling);
    const again = missed * one_more > UNLOGGED_LEAST ? low.branch() : null;
    low.look("ok");
    branches.push(low);
    if (again === null) return branches;
    low = again;
  }
}

/**
 * Takes in that nothing was logged after `last_t`, years, where the filter is: it was not found low. It may have got
 * low so late that nobody noticed yet. Gives the time to which the filter has moved.
 */
export function endInSilence(filter: ChargeFilter, last_t: number, { until_t, missed }: Silence): number {
  const to = until_t - NOTICED_WITHIN_YEARS / 2;
  if (to <= last_t) return last_t;
  filter.mergeIn(moveInSilence(filter, last_t, to, missed));
  return to;
}

/** A filter in which all branches of a run are joined; the filter itself where there are no others. */
export function joined(filter: ChargeFilter, others: readonly ChargeFilter[]): ChargeFilter {
  if (others.length === 0) return filter;
  const whole = filter.branch();
  whole.mergeIn(others);
  return whole;
}

/** Whether a span, years, lies within the silence. */
export function isWithin({ from_t, until_t }: Silence, from: number, to: number): boolean {
  return (from_t === null || from >= from_t) && to <= until_t;
}

/** How long before an entry its vehicle still was not found low: weak cooling is noticed within that. */
export function silentUntil(from: number, entry_t: number): number {
  return Math.max(from, entry_t - NOTICED_WITHIN_YEARS);
}
