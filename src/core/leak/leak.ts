import { classes } from "../../../data/model-constants.ts";
import { cdfAndSlope, NORMAL_95 } from "../maths/normal.ts";
import { risingRoot } from "../maths/root.ts";
import { weightedMean } from "../maths/weighted-mean.ts";
import type { LeakAnswer, Spread } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { G_COUNT, GROWTH, LN_X, LN_X_STEP, NODES, X, X_COUNT } from "./leak-grid.ts";
import { NEGLIGIBLE, type Nodes } from "./nodes.ts";
import type { Posterior } from "./posterior.ts";
import { regulationRates } from "./regulation.ts";
import { repairSureDate } from "./repair-sure.ts";

/** What the posterior says about the leak and the charge, as the answer has it (MODEL §3). */
export function leakOf(question: Question, posterior: Posterior, nodes: Nodes): LeakAnswer {
  const { nameplate_g } = question;
  const by_growth = new Float64Array(G_COUNT);
  for (let n = 0; n < NODES; n++) by_growth[Math.floor(n / X_COUNT)]! += posterior.weight[n]!;
  const fraction = leakFractionOf(posterior);
  const lasting = lastingOf(posterior, nameplate_g);
  return {
    g_per_year: scaled(fraction, nameplate_g),
    fraction_per_year: fraction,
    growth_per_year: {
      mean: weightedMean(GROWTH, by_growth),
      p05: cellQuantile(GROWTH, by_growth, 0.1, 0.05),
      p95: cellQuantile(GROWTH, by_growth, 0.1, 0.95),
    },
    charge_now_g: chargeNowOf(posterior, nodes, nameplate_g),
    low_below_g: weightedMean(posterior.mean_b, posterior.weight),
    full_charge_lasts_months: lastsMonths(lasting),
    class: leakClasses(lasting),
    repair_held: posterior.held === null ? null : Math.min(1, weightedMean(posterior.held, posterior.weight)),
    repair_sure_date: repairSureDate(question, posterior),
    learned: posterior.learned,
    regulation: regulationRates(question),
  };
}

/** Leak rate as a share of the nameplate charge a year. */
export function leakFractionOf(posterior: Posterior): Spread {
  const by_x = new Float64Array(X_COUNT);
  for (let n = 0; n < NODES; n++) by_x[n % X_COUNT]! += posterior.weight[n]!;
  const at = (p: number): number => Math.exp(cellQuantile(LN_X, by_x, LN_X_STEP, p));
  return { mean: weightedMean(X, by_x), median: at(0.5), p05: at(0.05), p25: at(0.25), p75: at(0.75), p95: at(0.95) };
}

/** Charge at the assessment date, grams. */
export function chargeNowOf(posterior: Posterior, nodes: Nodes, nameplate_g: number): LeakAnswer["charge_now_g"] {
  return { mean: meanChargeOf(posterior), ...chargeRange(nodes, nameplate_g) };
}

/** Mean charge at the assessment date, grams; much cheaper than `chargeNowOf` with its range. */
export function meanChargeOf({ mean_m, weight }: Posterior): number {
  return weightedMean(mean_m, weight);
}

function scaled(spread: Spread, factor: number): Spread {
  const { mean, median, p05, p25, p75, p95 } = spread;
  return {
    mean: mean * factor,
    median: median * factor,
    p05: p05 * factor,
    p25: p25 * factor,
    p75: p75 * factor,
    p95: p95 * factor,
  };
}

/**
 * The `p` quantile of weights on `points`, the weight of each spread evenly over half a `step` to either side.
 *
 * @internal Called from outside by tests alone.
 */
export function cellQuantile(points: Float64Array, weights: Float64Array, step: number, p: number): number {
  let total = 0;
  for (const weight of weights) total += weight;
  const goal = p * total;
  let before = 0;
  for (let i = 0; i < points.length; i++) {
    const weight = weights[i]!;
    if (before + weight >= goal && weight > 0) return points[i]! - step / 2 + (step * (goal - before)) / weight;
    before += weight;
  }
  return points[points.length - 1]! + step / 2;
}

/** A mixture of normals by its nodes: the chance at x is Σ `weight`·Φ(`from` + `slope`·x), over the first `count`. */
interface Mixture {
  /** Weight of each node. */
  weight: Float64Array;
  /** Score, in sd, at 0. */
  from: Float64Array;
  /** What the score rises by for each unit of x. */
  slope: Float64Array;
  /** Number of nodes. */
  count: number;
}

/** The 5 % and 95 % quantiles of the charge, grams, at least 0: of the mixture of the nodes' normals. */
function chargeRange(nodes: Nodes, nameplate_g: number): { p05: number; p95: number } {
  const { count, weight, mean_m, var_m } = nodes;
  const sd_least = 1e-6 * nameplate_g;
  const mixture: Mixture = { weight, from: new Float64Array(count), slope: new Float64Array(count), count };
  let high = 0;
  let mean = 0;
  let square = 0;
  for (let n = 0; n < count; n++) {
    const sd = Math.max(sd_least, Math.sqrt(var_m[n]!));
    mixture.slope[n] = 1 / sd;
    mixture.from[n] = -mean_m[n]! / sd;
    high = Math.max(high, mean_m[n]! + 9 * sd);
    mean += weight[n]! * mean_m[n]!;
    square += weight[n]! * (mean_m[n]! * mean_m[n]! + var_m[n]!);
  }
  const reach = NORMAL_95 * Math.sqrt(Math.max(0, square - mean * mean));
  const at_zero = chanceBelow(mixture, 0);
  const quantile = (p: number, guess: number): number =>
    at_zero >= p ? 0 : quantileOf(mixture, p, { low: 0, high, guess, tolerance: 1e-12 * nameplate_g });
  return { p05: quantile(0.05, mean - reach), p95: quantile(0.95, mean + reach) };
}

/** Chance that a full charge lasts less than `years`, at today's rate in years of average weather. */
export function lastsLessThan(posterior: Posterior, nameplate_g: number, years: number): number {
  return chanceBelow(lastingOf(posterior, nameplate_g), years);
}

/** How many years a full charge lasts. In sd of b: the low line less a full charge, and what leaks in a year. */
function lastingOf({ weight, mean_b, var_b }: Posterior, nameplate_g: number): Mixture {
  const kept = new Float64Array(NODES);
  const from = new Float64Array(NODES);
  const slope = new Float64Array(NODES);
  let count = 0;
  for (let n = 0; n < NODES; n++) {
    if (weight[n]! < NEGLIGIBLE) continue;
    const per_sd = 1 / Math.sqrt(var_b[n]!);
    kept[count] = weight[n]!;
    from[count] = (mean_b[n]! - nameplate_g) * per_sd;
    slope[count] = X[n % X_COUNT]! * nameplate_g * per_sd;
    count++;
  }
  return { weight: kept, from, slope, count };
}

// Work space of a chance: it and its slope.
const chance = new Float64Array(2);

function chanceBelow(mixture: Mixture, x: number): number {
  cdfAndSlope(mixture.weight, mixture, x, chance);
  return chance[0]!;
}

/** The quantile `p` of a mixture between two values, from a guess; `log`: all of them are natural logarithms. */
function quantileOf(
  mixture: Mixture,
  p: number,
  bounds: { low: number; high: number; guess: number; tolerance: number; log?: boolean },
): number {
  const miss = (at: number, into: Float64Array): void => {
    const x = bounds.log ? Math.exp(at) : at;
    cdfAndSlope(mixture.weight, mixture, x, into);
    into[0]! -= p;
    if (bounds.log) into[1]! *= x;
  };
  return risingRoot(miss, bounds.low, bounds.high, bounds.guess, bounds.tolerance);
}

const LASTS_LEAST_YEARS = 0.001;
const LASTS_MOST_YEARS = 10_000;

function lastsMonths(lasting: Mixture): LeakAnswer["full_charge_lasts_months"] {
  const least = Math.log(LASTS_LEAST_YEARS);
  const most = Math.log(LASTS_MOST_YEARS);
  // A guess to begin from: as if the logarithm of the years were normal over the nodes.
  let mean = 0;
  let square = 0;
  for (let n = 0; n < lasting.count; n++) {
    const ln_years = Math.log(Math.max(LASTS_LEAST_YEARS, -lasting.from[n]! / lasting.slope[n]!));
    mean += lasting.weight[n]! * ln_years;
    square += lasting.weight[n]! * ln_years * ln_years;
  }
  const reach = NORMAL_95 * Math.sqrt(Math.max(0, square - mean * mean));
  const quantile = (p: number, low: number, high: number, guess: number): number =>
    quantileOf(lasting, p, { low, high, guess, tolerance: 1e-10, log: true });
  const median = quantile(0.5, least, most, mean);
  const months = (ln_years: number): number => 12 * Math.exp(ln_years);
  return {
    median: months(median),
    p05: months(quantile(0.05, least, median, mean - reach)),
    p95: months(quantile(0.95, median, most, mean + reach)),
  };
}

function leakClasses(lasting: Mixture): LeakAnswer["class"] {
  const fast = chanceBelow(lasting, classes.fast);
  const moderate = chanceBelow(lasting, classes.moderate);
  const slow = chanceBelow(lasting, classes.slow);
  return { fast, moderate: moderate - fast, slow: slow - moderate, seep: Math.max(0, 1 - slow) };
}
