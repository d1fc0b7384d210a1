import { type Futures, futuresOf } from "../options/futures.ts";
import type { Outlook } from "../options/outlook.ts";
import { runningCost, tallyRelease } from "../options/tally.ts";
import { co2eKg } from "../refrigerant/gwp.ts";

/**
 * What a vehicle comes to when nothing changes: topped off now if it is due, and at every low charge after that, for as
 * long as it is kept. The option `top-off` of the answer ends in a repair when a charge does not last; this does not.
 */
export interface AsIs {
  expected_cost: number;
  expected_cost_with_carbon: number;
  /** Money due within a year, nothing discounted. */
  outlay_first_year: number;
  release_g: number;
  co2e_kg: number;
}

/** The switch rule that never repairs: no spell is shorter than nothing. */
const NEVER = [0];

/**
 * Topping off for ever (MODEL §6 with τ = 0). `first_year` is the same outlook walked for a year, nothing discounted.
 */
export function asIsOf(outlook: Outlook, first_year: Pick<Outlook, "question" | "futures">): AsIs {
  const { question, tags } = outlook;
  const path = walked(outlook);
  const expected_cost = runningCost(path, 0, tags);
  const release_g = tallyRelease(path, 0, tags);
  return {
    expected_cost,
    expected_cost_with_carbon: expected_cost + tags.release * release_g,
    outlay_first_year: runningCost(walked(first_year), 0, tags),
    release_g,
    co2e_kg: co2eKg(question.plan.gwp, question.refrigerant, release_g),
  };
}

function walked({ question, futures }: { question: Outlook["question"]; futures: Futures }): Float64Array {
  return futuresOf(question, futures.start, futures.table, { rules: NEVER, means_only: true }).top_off_mean;
}
