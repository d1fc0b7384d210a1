import { tests } from "../../../data/model-constants.ts";
import { dayNumber } from "../quantities/dates.ts";
import { type Finding, LOCATION_IDS, type TestId } from "../question/contract.ts";
import type { Prices, Question } from "../question/question.ts";

/** Where the leak is, by findings (MODEL §5). Arrays over places are in the order of `LOCATION_IDS`. */

const PLACES = LOCATION_IDS.length;

/** Findings after the day of the last repair: earlier ones concern the leak that was repaired. */
export function findingsSinceRepair(question: Question): Finding[] {
  const repair = question.log.findLast((entry) => entry.repair != null);
  if (repair === undefined) return [...question.findings];
  return question.findings.filter((finding) => dayNumber(finding.date) > dayNumber(repair.date));
}

/**
 * Chance, by place, that `test` shows a leak that is there. It falls off for a tiny leak; `k_g` is the posterior mean
 * leak, grams a year.
 *
 * @internal Called from outside by tests alone.
 */
export function testSees(prices: Prices, test: TestId, k_g: number): number[] {
  const detected = 1 - Math.exp(-k_g / tests[test].k_min_g);
  return prices[test].map((chance) => chance * detected);
}

/** Chance of each place after the findings, adding to 1. `k_g` as in `testSees`. */
export function locationBeliefs(question: Question, findings: readonly Finding[], k_g: number): number[] {
  let belief = [...question.prices.share];
  for (const finding of findings) belief = afterFinding(belief, finding, question.prices, k_g);
  return belief;
}

/** Chance of each place after one more finding, by Bayes' rule. `k_g` as in `testSees`. */
export function afterFinding(belief: readonly number[], finding: Finding, prices: Prices, k_g: number): number[] {
  const sees = testSees(prices, finding.test, k_g);
  const false_place = tests[finding.test].false_alarm / (PLACES - 1);
  const likelihood = LOCATION_IDS.map((id, l) => {
    if (finding.location === "anywhere") return 1 - sees[l]!;
    const lights = finding.location === id ? sees[l]! : false_place;
    return finding.result === "leak" ? lights : 1 - lights;
  });
  const joint = belief.map((share, l) => share * likelihood[l]!);
  const total = joint.reduce((sum, one) => sum + one, 0);
  // A finding that rules out every place that is left is ignored.
  return total > 0 ? joint.map((one) => one / total) : [...belief];
}

/** A possible outcome of a test of the whole system: it shows one place, or nothing. */
export interface TestOutcome {
  /** Index of the place shown; null: nothing. */
  place: number | null;
  /** Chance of this outcome, 0–1. */
  chance: number;
  /** Chance of this outcome if the leak is at each place, 0–1. */
  chance_given: number[];
  /** Chance of each place after this outcome, adding to 1. */
  belief: number[];
}

/** The possible outcomes of `test` (MODEL §6). `k_g` as in `testSees`. */
export function testOutcomes(belief: readonly number[], prices: Prices, test: TestId, k_g: number): TestOutcome[] {
  const sees = testSees(prices, test, k_g);
  const { false_alarm } = tests[test];
  const outcomes: TestOutcome[] = [];
  for (let p = 0; p <= PLACES; p++) {
    const place = p < PLACES ? p : null;
    const chance_given = sees.map((d, l) => {
      if (place === null) return (1 - d) * (1 - false_alarm);
      return l === place ? d : ((1 - d) * false_alarm) / (PLACES - 1);
    });
    const joint = belief.map((share, l) => share * chance_given[l]!);
    const chance = joint.reduce((sum, one) => sum + one, 0);
    if (chance > 0) outcomes.push({ place, chance, chance_given, belief: joint.map((one) => one / chance) });
  }
  return outcomes;
}
