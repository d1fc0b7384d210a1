import { LEAK_NOISE } from "../../../data/model-constants.ts";
import { FAR_BELOW, RECTIFY_LIMIT, rectifyAt, softSteps } from "../maths/normal.ts";
import type { ClockValues } from "./clocks.ts";
import { rowLook } from "./evidence-rows.ts";
import { X_COUNT } from "./leak-grid.ts";
import { type AmountErrors, AT, type NodeStates } from "./node-states.ts";
import type { Row } from "./stretch.ts";

/** The loops over one row that change its charge without learning from it: short ones, as in `evidence-rows.ts`. */

const VAR_M = AT.var_m;
const COV_MB = AT.cov_mb;
const NOISE2 = LEAK_NOISE * LEAK_NOISE;
const ROW_NODES = X_COUNT;

/** Lets a row leak between two readings of the clocks; `k`: grams a year at each leak rate. */
export function moveRow(all: Float64Array, k: Float64Array, before: ClockValues, after: ClockValues, row: Row): void {
  const { from, to } = row;
  const j = Math.floor(from / ROW_NODES);
  const span = after.growth[j]! - before.growth[j]!;
  const noise = NOISE2 * (after.growth_twice[j]! - before.growth_twice[j]!);
  const first = j * ROW_NODES;
  for (let n = from; n < to; n++) {
    const rate = k[n - first]!;
    all[n]! -= rate * span;
    all[n + VAR_M]! += rate * rate * noise;
  }
}

/** Adds an amount, grams, with its variance, g², to a row; a system takes no more than `most_g`. */
export function addRow(all: Float64Array, into_g: number, variance: number, most_g: number, { from, to }: Row): void {
  for (let n = from; n < to; n++) {
    all[n] = Math.min(most_g, all[n]! + into_g);
    all[n + VAR_M]! += variance;
  }
}

/** The same of an amount whose error is known to go with the charge and the line. */
export function addWithErrorRow(
  all: Float64Array,
  into_g: number,
  { mean_v, var_v, cov_mv, cov_bv }: AmountErrors,
  most_g: number,
  { from, to }: Row,
): void {
  for (let n = from; n < to; n++) {
    all[n] = Math.min(most_g, all[n]! + into_g + mean_v[n]!);
    all[n + VAR_M]! += 2 * cov_mv[n]! + var_v[n]!;
    all[n + COV_MB]! += cov_bv[n]!;
  }
}

const CLEAR = RECTIFY_LIMIT;
const CLEAR2 = CLEAR * CLEAR;
const FAR_BELOW2 = FAR_BELOW * FAR_BELOW;

/** Replaces m by max(0, m) in a row, as a normal of the same mean, variance and covariance with b. */
export function rectifyRow({ all, mean_m, var_m, cov_mb }: NodeStates, { from, to }: Row): void {
  // Charges fall along a row: what is clearly positive comes first, what is far below zero last.
  let first = from;
  while (first < to && isClear(all, first)) first++;
  let end = to;
  while (end > first && isFarBelow(all, end - 1)) {
    end--;
    rectifyAt(mean_m, var_m, end, cov_mb);
  }
  if (first === end) return;
  const { apart, per_sd: sd, chance, slope } = work;
  inSd(all, apart, sd, first, end);
  softSteps(apart, 0, chance, slope, end - first);
  for (let n = first; n < end; n++) {
    const mean = all[n]!;
    const variance = all[n + VAR_M]!;
    // Far below 0 nothing is left.
    const above = apart[n - first]! > -CLEAR ? chance[n - first]! : 0;
    const spread = sd[n - first]! * slope[n - first]! * above;
    const rectified = Math.max(0, mean * above + spread);
    all[n] = rectified;
    all[n + VAR_M] = Math.max(0, (mean * mean + variance) * above + mean * spread - rectified * rectified);
    all[n + COV_MB]! *= above;
  }
}

function isFarBelow(all: Float64Array, n: number): boolean {
  const mean = all[n]!;
  return mean <= 0 && mean * mean >= FAR_BELOW2 * all[n + VAR_M]!;
}

/** Whether rectifying changes nothing. */
function isClear(all: Float64Array, n: number): boolean {
  const mean = all[n]!;
  const variance = all[n + VAR_M]!;
  return mean * mean >= CLEAR2 * variance && (mean > 0 || (mean === 0 && variance === 0));
}

/** How far each charge is from 0, in sd, and the sd, grams; one that is known to be none is far below. */
function inSd(all: Float64Array, apart: Float64Array, sd: Float64Array, first: number, end: number): void {
  for (let n = first; n < end; n++) {
    const variance = all[n + VAR_M]!;
    const one = Math.sqrt(Math.max(0, variance));
    sd[n - first] = one;
    apart[n - first] = one > 0 ? all[n]! / one : -CLEAR;
  }
}

// Work space of a single row.
const work = rowLook();
