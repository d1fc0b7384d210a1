import { leakPriorOf } from "../../../data/leak-priors.ts";
import { cohort as weak } from "../../../data/model-constants.ts";
import { G_COUNT, gridWeights, LN_X, NODES, X_COUNT } from "../leak/leak-grid.ts";
import type { Posterior } from "../leak/posterior.ts";
import { NORMAL_95 } from "../maths/normal.ts";
import type { VehicleKind } from "../question/contract.ts";
import type { LeakPrior, Question } from "../question/question.ts";

/**
 * Vehicles of a group inform each other (MODEL §9): ln of the relative leak rate x (per year) is N(m, s) within a
 * cohort. m and s are fitted by EM to what each vehicle's log says of ln x on the posterior's grid, with m ~ N(that of
 * its kind of vehicle, 0.8) beforehand and s never below 0.3.
 *
 * EM: Dempster, Laird, Rubin, J. R. Stat. Soc. B 39 (1977). Its steps are squaremStep as in Varadhan and Roland, Scand.
 * J. Stat. 35 (2008), scheme S3: vague logs would otherwise need thousands of them; the fixed point is the same.
 */

/**
 * What is believed of ln x where there is no cohort and nobody said what the vehicle is (MODEL §3).
 *
 * @internal Called from outside by tests alone.
 */
export const GENERAL_PRIOR: LeakPrior = leakPriorOf(null);

/** The prior of a group: that of its kind of vehicle, or the middle where there are several kinds. */
export function startOf(kinds: readonly (VehicleKind | null)[]): LeakPrior {
  const [first, ...others] = new Set(kinds);
  if (first === undefined || others.length === 0) return leakPriorOf(first ?? null);
  const priors = kinds.map(leakPriorOf);
  const middle = (of: (one: LeakPrior) => number) => priors.reduce((sum, one) => sum + of(one), 0) / priors.length;
  return { ln_x_mean: middle((one) => one.ln_x_mean), ln_x_sd: middle((one) => one.ln_x_sd) };
}

/**
 * Log-likelihoods are clipped this far below the largest: e^−700 is the end of the floating point range.
 */
const LN_LEAST = -700;
/** A log whose log-likelihood varies by less than this over x carries no information. */
const LN_FLAT = 1e-9;
const MAX_ROUNDS = 500;
const TOLERANCE = 1e-9;

/** The fit, and the number of informative vehicles in it. */
export interface CohortFit extends LeakPrior {
  vehicles: number;
  /** How well the mean is known: sd of it, given the logs. */
  mean_sd: number;
}

/** Whether a vehicle counts in its cohort: a repair in the log made its leak another one. */
export function takesPart(question: Pick<Question, "log">): boolean {
  return question.log.every((entry) => entry.repair == null);
}

/**
 * ln of the likelihood Σ_g prior(g)·evidence at the 96 grid points of ln x, the largest set to 0: the posterior's
 * weights divided by the prior `used` that made them. Only for a log without a repair. Not below −700.
 */
export function lnLikelihoodOf(posterior: Pick<Posterior, "weight">, used: LeakPrior = GENERAL_PRIOR): Float64Array {
  const ln = new Float64Array(X_COUNT);
  let largest = -Infinity;
  for (let i = 0; i < X_COUNT; i++) {
    let weight = 0;
    for (let j = 0; j < G_COUNT; j++) weight += posterior.weight[j * X_COUNT + i]!;
    // The prior's logarithm, so that a narrow prior's tail is not divided by zero.
    ln[i] = Math.log(weight) + 0.5 * ((LN_X[i]! - used.ln_x_mean) / used.ln_x_sd) ** 2;
    largest = Math.max(largest, ln[i]!);
  }
  return ln.map((value) => Math.max(LN_LEAST, value - largest));
}

/**
 * Fits a cohort to the likelihoods of its vehicles (as of `lnLikelihoodOf`, repaired ones left out), with its mean
 * believed near that of `start`. Without a vehicle that has something to say it is `start`.
 */
export function fitCohort(ln_likelihoods: readonly Float64Array[], start: LeakPrior = GENERAL_PRIOR): CohortFit {
  const telling = ln_likelihoods.filter((ln) => Math.max(...ln) - Math.min(...ln) > LN_FLAT);
  if (telling.length === 0) return { ...start, vehicles: 0, mean_sd: weak.ln_x_mean_sd };
  const likelihoods = new Float64Array(telling.length * X_COUNT);
  telling.forEach((ln, v) => {
    for (let i = 0; i < X_COUNT; i++) likelihoods[v * X_COUNT + i] = Math.exp(ln[i]!);
  });
  const step = (from: LeakPrior): LeakPrior => emStep(likelihoods, telling.length, from, start.ln_x_mean);

  let at = step(start);
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const next = step(at);
    if (Math.hypot(next.ln_x_mean - at.ln_x_mean, Math.log(next.ln_x_sd / at.ln_x_sd)) < TOLERANCE) break;
    at = squaremStep(at, next, step(next), step);
  }
  return { ...at, vehicles: telling.length, mean_sd: meanSd(likelihoods, telling.length, at) };
}

/**
 * The sd of a cohort's mean from its observed information: that of fully known vehicles less what their logs leave open
 * (Louis, J. R. Stat. Soc. B 44 (1982)), and the belief beforehand.
 */
function meanSd(likelihoods: Float64Array, count: number, { ln_x_mean, ln_x_sd }: LeakPrior): number {
  const weights = gridWeights(LN_X, ln_x_mean, ln_x_sd);
  let open = 0;
  for (let v = 0; v < count; v++) {
    let total = 0;
    let first = 0;
    let second = 0;
    for (let i = 0; i < X_COUNT; i++) {
      const weight = weights[i]! * likelihoods[v * X_COUNT + i]!;
      total += weight;
      first += weight * LN_X[i]!;
      second += weight * LN_X[i]! * LN_X[i]!;
    }
    open += second / total - (first / total) ** 2;
  }
  const known = Math.max(0, count / ln_x_sd ** 2 - open / ln_x_sd ** 4);
  return 1 / Math.sqrt(known + 1 / weak.ln_x_mean_sd ** 2);
}

/** One EM step: the mean and spread of all vehicles' ln x under the cohort `from`, the prior on the mean counted in. */
function emStep(likelihoods: Float64Array, count: number, from: LeakPrior, prior_mean: number): LeakPrior {
  const weights = gridWeights(LN_X, from.ln_x_mean, from.ln_x_sd);
  let sum_mean = 0;
  let sum_square = 0;
  for (let v = 0; v < count; v++) {
    const at = v * X_COUNT;
    let total = 0;
    let first = 0;
    let second = 0;
    for (let i = 0; i < X_COUNT; i++) {
      const away = LN_X[i]! - from.ln_x_mean;
      const weight = weights[i]! * likelihoods[at + i]!;
      total += weight;
      first += weight * away;
      second += weight * away * away;
    }
    sum_mean += first / total;
    sum_square += second / total;
  }
  const precision = count / from.ln_x_sd ** 2;
  const prior_precision = 1 / weak.ln_x_mean_sd ** 2;
  const shift =
    (precision * (sum_mean / count) + prior_precision * (prior_mean - from.ln_x_mean)) / (precision + prior_precision);
  const variance = sum_square / count - 2 * shift * (sum_mean / count) + shift * shift;
  return { ln_x_mean: from.ln_x_mean + shift, ln_x_sd: Math.max(weak.ln_x_sd_least, Math.sqrt(variance)) };
}

/**
 * The point to which three EM points converge, followed by one more EM step; the last of the three where that would
 * diverge.
 */
function squaremStep(a: LeakPrior, b: LeakPrior, c: LeakPrior, step: (from: LeakPrior) => LeakPrior): LeakPrior {
  const [a_mean, a_sd, b_mean, b_sd, c_mean, c_sd] = [a, b, c].flatMap((one) => [
    one.ln_x_mean,
    Math.log(one.ln_x_sd),
  ]) as [number, number, number, number, number, number];
  const r = [b_mean - a_mean, b_sd - a_sd] as const;
  const v = [c_mean - b_mean - r[0], c_sd - b_sd - r[1]] as const;
  const bend = Math.hypot(...v);
  const length = bend > 0 ? -Math.hypot(...r) / bend : -1;
  if (!(length < -1)) return c;
  const ln_x_mean = a_mean - 2 * length * r[0] + length * length * v[0];
  const ln_x_sd = Math.exp(a_sd - 2 * length * r[1] + length * length * v[1]);
  const inside = ln_x_mean > LN_X[0]! && ln_x_mean < LN_X[X_COUNT - 1]! && ln_x_sd < MOST_SD;
  return inside ? step({ ln_x_mean, ln_x_sd: Math.max(weak.ln_x_sd_least, ln_x_sd) }) : c;
}

/** A spread wider than the whole grid carries no information. */
const MOST_SD = LN_X[X_COUNT - 1]! - LN_X[0]!;

/**
 * The cohort as its vehicles' answers use it: mean and spread in steps of 0.05, far inside what they are known to. So
 * one more entry in one vehicle's log seldom changes the answers of all the others. With fewer than three vehicles
 * that have something to say it is `start`, and each of its vehicles is answered by its own kind.
 */
export function cohortPrior(
  { ln_x_mean, ln_x_sd, vehicles }: Omit<CohortFit, "mean_sd">,
  start: LeakPrior = GENERAL_PRIOR,
): LeakPrior {
  if (vehicles < weak.vehicles_least) return start;
  const inSteps = (value: number): number => Math.round(value / weak.step) * weak.step;
  return { ln_x_mean: inSteps(ln_x_mean), ln_x_sd: Math.max(weak.ln_x_sd_least, inSteps(ln_x_sd)) };
}

/**
 * The leak of a group's vehicles, of nameplate a year: half leak less than `median`, nine of ten between the others.
 */
export function groupLeak({ ln_x_mean, ln_x_sd }: LeakPrior): Record<"p05" | "median" | "p95", number> {
  const at = (sds: number): number => Math.exp(ln_x_mean + sds * ln_x_sd);
  return { p05: at(-NORMAL_95), median: at(0), p95: at(NORMAL_95) };
}

/**
 * How much of a vehicle's estimate comes from its own log, 0 … 1: the part of the posterior's precision (1/variance of
 * ln x) that the prior `used` did not bring; the rest comes from the group or, without one, from leaks in general. 0
 * without a log, and where a contradictory log widened the prior.
 */
export function ownShare(posterior: Pick<Posterior, "weight">, used: LeakPrior): number {
  // Both on the grid, which cuts a wide prior's tails.
  const before = variance(gridWeights(LN_X, used.ln_x_mean, used.ln_x_sd));
  const by_x = new Float64Array(X_COUNT);
  for (let n = 0; n < NODES; n++) by_x[n % X_COUNT]! += posterior.weight[n]!;
  return Math.min(1, Math.max(0, 1 - variance(by_x) / before));
}

function variance(weights: Float64Array): number {
  let mean = 0;
  for (let i = 0; i < X_COUNT; i++) mean += weights[i]! * LN_X[i]!;
  let sum = 0;
  for (let i = 0; i < X_COUNT; i++) sum += weights[i]! * (LN_X[i]! - mean) ** 2;
  return sum;
}
