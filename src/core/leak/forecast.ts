import { LEAK_NOISE, LOW_SOFTNESS } from "../../../data/model-constants.ts";
import { NORMAL_95, rectifiedMoments, sumOfCdf } from "../maths/normal.ts";
import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { CurvePoint, ForecastAnswer } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import type { ClockValues } from "./clocks.ts";
import { DAYS_PER_YEAR, dayAt } from "./leak-clock.ts";
import { NODES, X, X_COUNT } from "./leak-grid.ts";
import type { Nodes } from "./nodes.ts";
import type { Posterior } from "./posterior.ts";

const MONTHS_AHEAD = 240;
const CURVE_QUARTERS_AHEAD = 8;
/** Nodes of less weight do not change the curve. */
const CURVE_CUT = 1e-14;

/** When it will be low again, and the charge over the years of the log and the two ahead (MODEL §4). */
export function forecastOf(question: Question, posterior: Posterior, nodes: Nodes): ForecastAnswer {
  return { next_low: nextLowOf(question, posterior, nodes), curve: curveOf(question, posterior) };
}

/** Dates by which it is low again with a chance of 10, 50 and 90 %; all today while a low look stands. */
export function nextLowOf(question: Question, posterior: Posterior, nodes: Nodes): ForecastAnswer["next_low"] {
  const { dateOf } = lowAgainOf(question, posterior, nodes);
  return { p10: dateOf(0.1), p50: dateOf(0.5), p90: dateOf(0.9) };
}

/** The dates between which it runs low again in nine of ten cases. */
export function likelyLowOf(question: Question, posterior: Posterior, nodes: Nodes): LikelyLow {
  const { dateOf } = lowAgainOf(question, posterior, nodes);
  return { p05: dateOf(0.05), p95: dateOf(0.95) };
}

export interface LikelyLow {
  /** Date by which it is low with a chance of 5 %; null: not within 20 years. */
  p05: string | null;
  /** Date by which it is low with a chance of 95 %; null: not within 20 years. */
  p95: string | null;
}

/** When it will be low again: the date by which it is with a chance, and the chance that it is by a date. */
export interface LowAgain {
  /** Today where it is low as seen; null when not within 20 years. */
  dateOf: (chance: number) => string | null;
  /** Beyond 20 years that of then. */
  chanceBy: (date: string) => number;
}

/** Both ways round, each computed when asked for. */
export function lowAgainOf(question: Question, posterior: Posterior, nodes: Nodes): LowAgain {
  if (posterior.standing !== null) return { dateOf: () => question.as_of, chanceBy: () => 1 };
  const low_by = lowByMonth(question, posterior, nodes);
  return {
    dateOf: (chance) => {
      const t = firstTime(low_by, chance);
      return t === null ? null : isoFromDay(dayAt(question.as_of_day, t));
    },
    chanceBy: (date) => {
      const months = Math.min(MONTHS_AHEAD, (12 * (dayNumber(date) - question.as_of_day)) / DAYS_PER_YEAR);
      const month = Math.min(MONTHS_AHEAD - 1, Math.floor(months));
      return low_by(month) + (months - month) * (low_by(month + 1) - low_by(month));
    },
  };
}

/** The charge if nothing is added, every three months from the assessment date until at least `years` ahead. */
export function curveAhead(question: Question, posterior: Posterior, years: number): CurvePoint[] {
  return curveOf(question, { ...posterior, snapshots: [] }, Math.ceil(4 * years - 1e-9));
}

/** P(low by month j), j = 0..240, computed on demand and kept. */
function lowByMonth(question: Question, posterior: Posterior, nodes: Nodes): (month: number) => number {
  const known = new Map<number, number>();
  const distance = distanceToLow(question, nodes);
  return (month) => {
    const cached = known.get(month);
    if (cached !== undefined) return cached;
    const chance = chanceOfLow(nodes, distance, posterior.clocks.at(month / 12));
    known.set(month, chance);
    return chance;
  };
}

/** Of each node today: how far the charge is above the low line, with the softness of that. */
interface DistanceToLow {
  /** Low line less charge, grams. */
  apart: Float64Array;
  /** Variance of that, g². */
  spread2: Float64Array;
  /** Work space: `apart` in sd at another time. */
  in_sd: Float64Array;
}

function distanceToLow({ nameplate_g }: Question, nodes: Nodes): DistanceToLow {
  const { count, mean_m, mean_b, var_m, cov_mb, var_b } = nodes;
  const [apart, spread2] = [new Float64Array(count), new Float64Array(count)];
  const softness2 = (LOW_SOFTNESS * nameplate_g) ** 2;
  for (let n = 0; n < count; n++) {
    apart[n] = mean_b[n]! - mean_m[n]!;
    spread2[n] = var_m[n]! - 2 * cov_mb[n]! + var_b[n]! + softness2;
  }
  return { apart, spread2, in_sd: new Float64Array(count) };
}

/** Chance that it is low once the clocks read this. No closure: those are compiled anew each time they are made. */
function chanceOfLow(nodes: Nodes, distance: DistanceToLow, { growth, growth_twice }: ClockValues): number {
  const { apart, spread2, in_sd } = distance;
  const { k: rate, growth_index, count } = nodes;
  for (let n = 0; n < count; n++) {
    const k = rate[n]!;
    const j = growth_index[n]!;
    const noise = LEAK_NOISE * LEAK_NOISE * growth_twice[j]!;
    in_sd[n] = (apart[n]! + k * growth[j]!) / Math.sqrt(spread2[n]! + k * k * noise);
  }
  return sumOfCdf(nodes.weight, in_sd, count);
}

/**
 * First time, years, at which the chance reaches `p`, linear between months; null when not within 20 years. Bisects:
 * the chance rises from month to month, as the mean of what has leaked grows faster than its standard deviation.
 */
function firstTime(chance: (month: number) => number, p: number): number | null {
  if (chance(0) >= p) return 0;
  if (chance(MONTHS_AHEAD) < p) return null;
  let below = 0;
  let reached = MONTHS_AHEAD;
  while (reached - below > 1) {
    const middle = (below + reached) >> 1;
    if (chance(middle) >= p) reached = middle;
    else below = middle;
  }
  const from = chance(below);
  return (below + (p - from) / (chance(reached) - from)) / 12;
}

/** The curve through the posterior's snapshots, the assessment date and the quarters ahead. */
function curveOf(question: Question, posterior: Posterior, quarters_ahead = CURVE_QUARTERS_AHEAD): CurvePoint[] {
  const { as_of_day, nameplate_g } = question;
  const { weight, mean_m, var_m } = posterior;
  const shown = shownNodes(weight);
  const points = posterior.snapshots.map(({ t, mean_m: mean, var_m: variance }) =>
    pointOf(isoFromDay(dayAt(as_of_day, t)), shown, weight, { mean, variance }),
  );
  points.push(pointOf(question.as_of, shown, weight, { mean: mean_m, variance: var_m }, true));
  const ahead = { mean: new Float64Array(NODES), variance: new Float64Array(NODES) };
  for (let quarter = 1; quarter <= quarters_ahead; quarter++) {
    const t = quarter / 4;
    chargesAhead(ahead, posterior, shown, posterior.clocks.at(t), nameplate_g);
    points.push(pointOf(isoFromDay(dayAt(as_of_day, t)), shown, weight, ahead));
  }
  return points;
}

/** Writes the charge of the nodes shown, grams and g², once the clocks read this and nothing was added. */
function chargesAhead(
  { mean, variance }: { mean: Float64Array; variance: Float64Array },
  { mean_m, var_m }: Posterior,
  shown: Int32Array,
  { growth, growth_twice }: ClockValues,
  nameplate_g: number,
): void {
  for (let i = 0; i < shown.length; i++) {
    const n = shown[i]!;
    const j = Math.floor(n / X_COUNT);
    const k = X[n - j * X_COUNT]! * nameplate_g;
    mean[n] = mean_m[n]! - k * growth[j]!;
    variance[n] = var_m[n]! + k * k * LEAK_NOISE * LEAK_NOISE * growth_twice[j]!;
  }
}

/** The nodes whose weight shows in the curve, in their order. */
function shownNodes(weight: Float64Array): Int32Array {
  const shown = new Int32Array(NODES);
  let count = 0;
  for (let n = 0; n < NODES; n++) if (weight[n]! > CURVE_CUT) shown[count++] = n;
  return shown.subarray(0, count);
}

/**
 * A point of the curve: the mixture over nodes, its range that of a normal of the same mean and variance, from 0 up.
 * `rectified`: the nodes' normals are rectified already and do not reach below 0.
 */
function pointOf(
  date: string,
  shown: Int32Array,
  weight: Float64Array,
  nodes: { mean: Float64Array; variance: Float64Array },
  rectified = false,
): CurvePoint {
  if (rectified) momentsOf(shown, weight, nodes);
  else rectifiedMoments(shown, weight, nodes, moments);
  const mean = moments[0]!;
  const sd = Math.sqrt(Math.max(0, moments[1]! - mean * mean));
  return { date, mean_g: mean, p05_g: Math.max(0, mean - NORMAL_95 * sd), p95_g: mean + NORMAL_95 * sd };
}

function momentsOf(
  shown: Int32Array,
  weight: Float64Array,
  { mean, variance }: { mean: Float64Array; variance: Float64Array },
): void {
  moments.fill(0);
  for (const n of shown) {
    moments[0]! += weight[n]! * mean[n]!;
    moments[1]! += weight[n]! * (mean[n]! * mean[n]! + variance[n]!);
  }
}

// Work space of a point: the mean of the charge, and of its square.
const moments = new Float64Array(2);
