import { EVIDENCE_WORTH_NAMING, features, findingPriors } from "../../../data/readings-table.ts";
import { type Evidence, type FeatureId, FINDING_IDS, type Finding } from "./contract.ts";
import { countsAt, type Observed } from "./features.ts";

/** Probabilities of the findings in the order of `FINDING_IDS`; they add up to 1. */
export type Belief = readonly number[];

/**
 * The table's row of each finding for one feature at `ambient_c`: shares of the bands, raised to the power of how much
 * the feature counts and normalised, so that on a cold day a row is flat and says nothing.
 */
export function rowsAt(feature: FeatureId, ambient_c: number): readonly (readonly number[])[] {
  const counts = countsAt(feature, ambient_c);
  return FINDING_IDS.map((id) => {
    const { shares } = features[feature].rows[id];
    return counts === 1 ? shares : normalised(shares.map((share) => share ** counts));
  });
}

/** Bayes' rule over the observed features, taken as independent once the finding is known. */
export function believe(observed: readonly Observed[], ambient_c: number): Belief {
  let belief: Belief = normalised(FINDING_IDS.map((id) => findingPriors[id].share));
  for (const { feature, in_band } of observed) {
    const likelihoods = likelihoodsOf(feature, in_band, ambient_c);
    belief = normalised(belief.map((probability, i) => probability * likelihoods[i]!));
  }
  return belief;
}

/** All findings, likeliest first, each with what speaks for and against it. */
export function rankedFindings(belief: Belief, observed: readonly Observed[], ambient_c: number): Finding[] {
  const findings = FINDING_IDS.map((id, i) => {
    const evidence = observed
      .map(({ feature, band, in_band }): Evidence => {
        const likelihoods = likelihoodsOf(feature, in_band, ambient_c);
        return { feature, band, weight: Math.log(likelihoods[i]! / amongOthers(likelihoods, i)) };
      })
      .filter(({ weight }) => Math.abs(weight) >= Math.log(EVIDENCE_WORTH_NAMING))
      .sort((a, b) => Math.abs(b.weight) - Math.abs(a.weight));
    return {
      id,
      probability: belief[i]!,
      speaks_for: evidence.filter(({ weight }) => weight > 0),
      speaks_against: evidence.filter(({ weight }) => weight < 0),
    };
  });
  return findings.sort((a, b) => b.probability - a.probability);
}

/**
 * What taking a reading would tell, in bits: the entropy of the belief minus its expectation after the reading, over
 * every combination of bands of the features that the reading makes judgeable.
 */
export function expectedGainBits(belief: Belief, judgeable: readonly FeatureId[], ambient_c: number): number {
  const tables = judgeable.map((feature) => rowsAt(feature, ambient_c));
  let after = 0;
  const visit = (joint: readonly number[], depth: number): void => {
    const rows = tables[depth];
    if (rows === undefined) {
      const chance = sum(joint);
      if (chance > 0) after += chance * entropyBits(joint.map((share) => share / chance));
      return;
    }
    for (let band = 0; band < rows[0]!.length; band++) {
      visit(
        joint.map((share, i) => share * rows[i]![band]!),
        depth + 1,
      );
    }
  };
  visit(belief, 0);
  // An uninformative reading leaves a rounding error of either sign.
  return Math.max(0, entropyBits(belief) - after);
}

function likelihoodsOf(feature: FeatureId, in_band: readonly number[], ambient_c: number): number[] {
  return rowsAt(feature, ambient_c).map((row) => sum(row.map((share, band) => share * in_band[band]!)));
}

/** The likelihood of a reading if the finding at `i` is not the case: the others' mean by their prior shares. */
function amongOthers(likelihoods: readonly number[], i: number): number {
  const others = FINDING_IDS.map((id, j) => (j === i ? 0 : findingPriors[id].share));
  return sum(likelihoods.map((likelihood, j) => likelihood * others[j]!)) / sum(others);
}

function entropyBits(probabilities: readonly number[]): number {
  return -sum(probabilities.map((p) => (p > 0 ? p * Math.log2(p) : 0)));
}

function normalised(weights: readonly number[]): number[] {
  const total = sum(weights);
  return weights.map((weight) => weight / total);
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
