import type { Finding } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { afterFinding, findingsSinceRepair } from "./locations.ts";

/** One finding with the belief by place before and after it, in the order of `LOCATION_IDS`. */
export interface BeliefStep {
  finding: Finding;
  before: number[];
  after: number[];
}

/**
 * How each finding since the last repair moved the belief, in the order of the question; the last `after` is what the
 * answer says. `k_g` is the posterior mean leak in grams a year.
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
