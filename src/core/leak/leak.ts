import { classes, LEAK_NOISE, looks, REPAIR_SURE } from "../../../data/model-constants.ts";
import { normalCdfFast, sumOfCdf } from "../maths/normal.ts";
import { rootOf } from "../maths/root.ts";
import { isoFromDay } from "../quantities/dates.ts";
import type { LeakAnswer, Spread } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { dayAt } from "./leak-clock.ts";
import { G_COUNT, GROWTH, LN_X, LN_X_STEP, NODES, X, X_COUNT } from "./leak-grid.ts";
import type { Nodes } from "./nodes.ts";
import type { Posterior } from "./posterior.ts";
import { regulationRates } from "./regulation.ts";

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
  return {
    mean: meanChargeOf(posterior),
    p05: chargeQuantile(nodes, nameplate_g, 0.05),
    p95: chargeQuantile(nodes, nameplate_g, 0.95),
  };
}

/** Mean charge at the assessment date, grams; much cheaper than `chargeNowOf` with its range. */
export function meanChargeOf({ mean_m, weight }: Posterior): number {
  return weightedMean(mean_m, weight);
}

function weightedMean(values: Float64Array, weights: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += weights[i]! * values[i]!;
  return sum;
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

/** The `p` quantile of the charge, grams, at least 0: where the mixture of the nodes' normals reaches `p`. */
function chargeQuantile(nodes: Nodes, nameplate_g: number, p: number): number {
  const sd_least = 1e-6 * nameplate_g;
  const from = new Float64Array(nodes.count);
  const per_sd = new Float64Array(nodes.count);
  let high = 0;
  for (let n = 0; n < nodes.count; n++) {
    const sd = Math.max(sd_least, Math.sqrt(nodes.var_m[n]!));
    per_sd[n] = 1 / sd;
    from[n] = -nodes.mean_m[n]! / sd;
    high = Math.max(high, nodes.mean_m[n]! + 9 * sd);
  }
  const away = new Float64Array(nodes.count);
  const miss = (m: number): number =>
    sumOfCdf(nodes.weight, lineAt(away, from, per_sd, m, nodes.count), nodes.count) - p;
  const at_zero = miss(0);
  if (at_zero >= 0) return 0;
  return rootOf(miss, 0, high, 1e-13 * nameplate_g, at_zero);
}

/** Chance that a full charge lasts less than `years`, at today's rate in years of average weather. */
export function lastsLessThan(posterior: Posterior, nameplate_g: number, years: number): number {
  return lastingOf(posterior, nameplate_g)(years);
}

/** `lastsLessThan` for many spans of years of one posterior. */
function lastingOf(posterior: Posterior, nameplate_g: number): (years: number) => number {
  const { weight, mean_b, var_b } = posterior;
  // For each node that counts, in standard deviations of b: the low line less a full charge, and what leaks in a year.
  const kept = new Float64Array(NODES);
  const from = new Float64Array(NODES);
  const a_year = new Float64Array(NODES);
  let count = 0;
  for (let n = 0; n < NODES; n++) {
    if (weight[n]! < NEGLIGIBLE) continue;
    const per_sd = 1 / Math.sqrt(var_b[n]!);
    kept[count] = weight[n]!;
    from[count] = (mean_b[n]! - nameplate_g) * per_sd;
    a_year[count] = X[n % X_COUNT]! * nameplate_g * per_sd;
    count++;
  }
  const by = new Float64Array(count);
  return (years) => sumOfCdf(kept, lineAt(by, from, a_year, years, count), count);
}

/** Writes `from` + `slope`·`x` to the first `count` of `into`, and gives it. */
function lineAt(into: Float64Array, from: Float64Array, slope: Float64Array, x: number, count: number): Float64Array {
  for (let n = 0; n < count; n++) into[n] = from[n]! + slope[n]! * x;
  return into;
}

/** Nodes of less weight change no digit that matters, even all of them together. */
const NEGLIGIBLE = 1e-16;
const LASTS_LEAST_YEARS = 0.001;
const LASTS_MOST_YEARS = 10_000;

function lastsMonths(lasting: (years: number) => number): LeakAnswer["full_charge_lasts_months"] {
  const least = Math.log(LASTS_LEAST_YEARS);
  const most = Math.log(LASTS_MOST_YEARS);
  const root = (p: number, low: number, high: number): number =>
    rootOf((ln_years) => lasting(Math.exp(ln_years)) - p, low, high, 1e-10);
  const median = root(0.5, least, most);
  const months = (ln_years: number): number => 12 * Math.exp(ln_years);
  return {
    median: months(median),
    p05: months(root(0.05, least, median)),
    p95: months(root(0.95, median, most)),
  };
}

function leakClasses(lasting: (years: number) => number): LeakAnswer["class"] {
  const fast = lasting(classes.fast);
  const moderate = lasting(classes.moderate);
  const slow = lasting(classes.slow);
  return { fast, moderate: moderate - fast, slow: slow - moderate, seep: Math.max(0, 1 - slow) };
}

/**
 * First quarter's date at which one more `ok` look would settle that the repair held; null without a repair, or when
 * that takes more than five years.
 */
function repairSureDate(question: Question, posterior: Posterior): string | null {
  const { held, weight } = posterior;
  if (held === null) return null;
  if (weightedMean(held, weight) >= REPAIR_SURE) return question.as_of;
  const { softness, mistaken } = looks.ok;
  const soft2 = (softness * question.nameplate_g) ** 2;
  for (let quarter = 1; quarter <= 20; quarter++) {
    const t = quarter / 4;
    const { growth: spans, growth_twice } = posterior.clocks.at(t);
    const noises = growth_twice.map((spread) => LEAK_NOISE * LEAK_NOISE * spread);
    let all = 0;
    let kept = 0;
    for (let n = 0; n < NODES; n++) {
      if (weight[n]! < NEGLIGIBLE) continue;
      const j = Math.floor(n / X_COUNT);
      const k = X[n % X_COUNT]! * question.nameplate_g;
      const apart = posterior.mean_m[n]! - k * spans[j]! - posterior.mean_b[n]!;
      const s2 = posterior.var_m[n]! + k * k * noises[j]! - 2 * posterior.cov_mb[n]! + posterior.var_b[n]! + soft2;
      const evidence = mistaken + (1 - 2 * mistaken) * normalCdfFast(apart / Math.sqrt(s2));
      all += weight[n]! * evidence;
      kept += weight[n]! * evidence * held[n]!;
    }
    if (kept >= REPAIR_SURE * all) return isoFromDay(dayAt(question.as_of_day, t));
  }
  return null;
}
