import type { Finding } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { afterFinding, findingsSinceRepair } from "./locations.ts";

/** What one finding did to the belief about the leak's place. */
export interface BeliefStep {
  /** The test result. */
  finding: Finding;
  /** Chance of each place before it, in the order of `LOCATION_IDS`. */
  before: number[];
  /** Chance of each place after it, in the same order. */
  after: number[];
}

/**
 * A step for each finding since the last repair, in the order of the question; the last `after` is the answer's belief.
 * `k_g`: posterior mean leak, grams a year.
 */
export function beliefSteps(question: Question, k_g: number): BeliefStep[] {
  let before = [...question.prices.share];
  return findingsSinceRepair(question).map((finding) => {
    const after = afterFinding(before, finding, question.prices, k_g);
    const step = { finding, before, after };
    before = after;
    return step;
  });
}
