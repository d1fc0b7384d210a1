import { EVIDENCE_WORTH_NAMING, features, findingPriors } from "../../../data/readings-table.ts";
import { countsAt, type Equipment, type Observed } from "./features.ts";
import { type Diagnosis, type Evidence, type FeatureId, FINDING_IDS, type FindingId } from "./readings-contract.ts";

/** Probabilities of the findings in the order of `FINDING_IDS`; they add up to 1. */
export type Belief = readonly number[];

/**
 * For each finding, the chances of a feature's bands at `ambient_c`, °C: the shares of the table raised to the power of
 * how much the feature counts, adding to 1. Where it counts nothing, as on a cold day, all bands are equally likely.
 *
 * @internal Called from outside by tests alone.
 */
export function rowsAt(
  feature: FeatureId,
  ambient_c: number,
  equipment: Equipment = {},
): readonly (readonly number[])[] {
  const counts = countsAt(feature, ambient_c, equipment);
  return FINDING_IDS.map((id) => {
    const { shares } = features[feature].rows[id];
    return counts === 1 ? shares : normalised(shares.map((share) => share ** counts));
  });
}

/** Bayes' rule over the observed features, taken as independent once the finding is known. */
export function believe(observed: readonly Observed[], ambient_c: number, equipment: Equipment = {}): Belief {
  let belief: Belief = normalised(FINDING_IDS.map((id) => findingPriors[id].share));
  for (const { feature, in_band } of observed) {
    const likelihoods = likelihoodsOf(feature, in_band, ambient_c, equipment);
    belief = normalised(belief.map((probability, i) => probability * likelihoods[i]!));
  }
  return belief;
}

/** All findings, the likeliest first, each with the readings that speak for and against it. */
export function rankedFindings(
  belief: Belief,
  observed: readonly Observed[],
  ambient_c: number,
  equipment: Equipment = {},
): Diagnosis[] {
  const findings = FINDING_IDS.map((id, i) => {
    const evidence = observed
      .map(({ feature, band, in_band }): Evidence => {
        const likelihoods = likelihoodsOf(feature, in_band, ambient_c, equipment);
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
 * Expected information gain of a reading, bits: the entropy of the belief less its mean after the reading, over every
 * combination of bands of `judgeable`, the features that the reading adds.
 */
export function expectedGainBits(
  belief: Belief,
  judgeable: readonly FeatureId[],
  ambient_c: number,
  equipment: Equipment = {},
): number {
  const tables = judgeable.map((feature) => rowsAt(feature, ambient_c, equipment));
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

/**
 * The two findings that a reading would most likely tell apart, likelier first: the pair with the greatest divergence
 * of its rows (Jeffreys 1946: the sum over bands of (p − q) ln(p/q)), weighted by the belief in both.
 */
export function tellsApart(
  belief: Belief,
  judgeable: readonly FeatureId[],
  ambient_c: number,
  equipment: Equipment = {},
): [FindingId, FindingId] {
  const tables = judgeable.map((feature) => rowsAt(feature, ambient_c, equipment));
  let best: [number, number] = [0, 1];
  let most = -1;
  for (let i = 0; i < belief.length; i++) {
    for (let j = i + 1; j < belief.length; j++) {
      const apart = belief[i]! * belief[j]! * sum(tables.map((rows) => divergence(rows[i]!, rows[j]!)));
      if (apart > most) {
        most = apart;
        best = belief[i]! >= belief[j]! ? [i, j] : [j, i];
      }
    }
  }
  return [FINDING_IDS[best[0]]!, FINDING_IDS[best[1]]!];
}

function divergence(one: readonly number[], other: readonly number[]): number {
  return sum(one.map((share, band) => (share - other[band]!) * Math.log(share / other[band]!)));
}

function likelihoodsOf(
  feature: FeatureId,
  in_band: readonly number[],
  ambient_c: number,
  equipment: Equipment,
): number[] {
  return rowsAt(feature, ambient_c, equipment).map((row) => sum(row.map((share, band) => share * in_band[band]!)));
}

/** Likelihood of a reading if the finding at `i` is not the cause: mean over the others, by their prior shares. */
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
