import { NODES } from "./leak-grid.ts";
import { type AmountErrors, AT } from "./node-states.ts";
import type { Row } from "./stretch.ts";

/**
 * The loops over one row of nodes that learn from a look or a reading (`observations.ts`). Those of a look are so short
 * that the engine keeps all that one needs in registers, and what one node waits for (a root, a division, a table) is
 * hidden behind its neighbors: a single long loop takes half as long again. The line comes in an array, since numbers
 * passed alone take memory at each call.
 */

// Constants of this very module are part of the compiled loop; those of another are looked up at every step.
const MEAN_B = AT.mean_b;
const VAR_M = AT.var_m;
const COV_MB = AT.cov_mb;
const VAR_B = AT.var_b;
const LINEAR = AT.linear;
const LOG = AT.log;

/** Outside these bounds the linear part of a weight moves into its log part, well before it leaves the float range. */
const FLUSH_BELOW = 1e-150;
const FLUSH_ABOVE = 1e150;

/** Numbers of a line: its own·b + fixed, the variance of its softness, and the sign of the side that was seen. */
export const LINE = { own: 0, fixed: 1, soft2: 2, sign: 3 } as const;
const OWN = LINE.own;
const FIXED = LINE.fixed;
const SOFT2 = LINE.soft2;
const SIGN = LINE.sign;

/** What a look comes to at each node of a row, counted from its first: work space. */
export interface RowLook {
  /** How far the charge is on the side that was seen, sd. */
  apart: Float64Array;
  /** 1/sd of that, g⁻¹. */
  per_sd: Float64Array;
  /** Chance of the look. */
  chance: Float64Array;
  /** Slope of its logarithm by `apart`. */
  slope: Float64Array;
}

/** Room for the longest row. */
export function rowLook(): RowLook {
  const of = () => new Float64Array(NODES);
  return { apart: of(), per_sd: of(), chance: of(), slope: of() };
}

/** How far the charge of each node is from the line: sets `apart` and `per_sd`. */
export function standApart(
  all: Float64Array,
  line: Float64Array,
  { apart, per_sd }: RowLook,
  from: number,
  to: number,
): void {
  const own = line[OWN]!;
  const fixed = line[FIXED]!;
  const soft2 = line[SOFT2]!;
  const sign = line[SIGN]!;
  for (let n = from; n < to; n++) {
    const cov_mb = all[n + COV_MB]!;
    const s2 = all[n + VAR_M]! - own * (cov_mb + cov_mb - all[n + VAR_B]!) + soft2;
    const one = 1 / Math.sqrt(s2);
    per_sd[n - from] = one;
    apart[n - from] = sign * (own * all[n + MEAN_B]! + fixed - all[n]!) * one;
  }
}

/** Multiplies the weight of each node by the chance of the look there. */
export function weighRow(all: Float64Array, { chance }: RowLook, from: number, to: number): void {
  for (let n = from; n < to; n++) {
    const product = all[n + LINEAR]! * chance[n - from]!;
    all[n + LINEAR] = product;
    if (product < FLUSH_BELOW && product > 0) flush(all, n);
  }
}

/** Moves the linear part of a weight into its log part. */
function flush(all: Float64Array, n: number): void {
  all[n + LOG]! += Math.log(all[n + LINEAR]!);
  all[n + LINEAR] = 1;
}

/** What the look says of the charge and the line of each node. */
export function shiftRow(
  all: Float64Array,
  line: Float64Array,
  { apart, per_sd, slope }: RowLook,
  from: number,
  to: number,
): void {
  const own = line[OWN]!;
  const sign = line[SIGN]!;
  for (let n = from; n < to; n++) {
    const h = slope[n - from]!;
    const per_s = per_sd[n - from]!;
    const var_m = all[n + VAR_M]!;
    const cov_mb = all[n + COV_MB]!;
    const var_b = all[n + VAR_B]!;
    const d_m = var_m - own * cov_mb;
    const d_b = cov_mb - own * var_b;
    const moved = h * per_s;
    const shift = sign * moved;
    const shrink = moved * (h + apart[n - from]!) * per_s;
    all[n]! -= d_m * shift;
    all[n + MEAN_B]! -= d_b * shift;
    all[n + VAR_M] = var_m - d_m * d_m * shrink;
    all[n + COV_MB] = cov_mb - d_m * d_b * shrink;
    all[n + VAR_B] = var_b - d_b * d_b * shrink;
  }
}

/** What a look says of the error of an amount; before `shiftRow`. */
export function shiftErrors(
  all: Float64Array,
  line: Float64Array,
  { apart, per_sd, slope }: RowLook,
  { mean_v, var_v, cov_mv, cov_bv }: AmountErrors,
  from: number,
  to: number,
): void {
  const own = line[OWN]!;
  const sign = line[SIGN]!;
  for (let n = from; n < to; n++) {
    const h = slope[n - from]!;
    const per_s = per_sd[n - from]!;
    const cov_mb = all[n + COV_MB]!;
    const d_m = all[n + VAR_M]! - own * cov_mb;
    const d_b = cov_mb - own * all[n + VAR_B]!;
    const d_v = cov_mv[n]! - own * cov_bv[n]!;
    const moved = d_v * h * per_s;
    const shrink = moved * (h + apart[n - from]!) * per_s;
    mean_v[n]! -= sign * moved;
    var_v[n]! -= d_v * shrink;
    cov_mv[n]! -= d_m * shrink;
    cov_bv[n]! -= d_b * shrink;
  }
}

/** What a reading, grams with its variance, says that is `share` of the charge. */
export function recoveredRow(
  all: Float64Array,
  { from, to }: Row,
  share: number,
  reading_g: number,
  variance: number,
  nameplate_g: number,
): void {
  for (let n = from; n < to; n++) {
    const cov_my = share * all[n + VAR_M]!;
    const cov_by = share * all[n + COV_MB]!;
    const per_s2 = 1 / (share * cov_my + variance);
    const off = reading_g - share * all[n]!;
    weigh(all, n, off, per_s2, nameplate_g);
    learn(all, n, off, per_s2, cov_my, cov_by);
  }
}

/**
 * What a level says that is judged after an amount went in: it puts the charge before at `before_g`, with the variance
 * `v2` of the amount's error v and that of the judgment, g². Sets `errors`.
 */
export function levelRow(
  all: Float64Array,
  { from, to }: Row,
  { mean_v, var_v, cov_mv, cov_bv }: AmountErrors,
  before_g: number,
  v2: number,
  variance: number,
  nameplate_g: number,
): void {
  for (let n = from; n < to; n++) {
    const cov_my = all[n + VAR_M]!;
    const cov_by = all[n + COV_MB]!;
    const off = before_g - all[n]!;
    const per_s2 = 1 / (cov_my + v2 + variance);
    weigh(all, n, off, per_s2, nameplate_g);
    learn(all, n, off, per_s2, cov_my, cov_by);
    const gain_v = v2 * per_s2;
    mean_v[n] = gain_v * off;
    cov_mv[n] = -cov_my * gain_v;
    cov_bv[n] = -cov_by * gain_v;
    var_v[n] = v2 - gain_v * v2;
  }
}

/** Weighs a node by the density of a reading `off` grams from its expected value; `per_s2`: 1/variance, g⁻². */
function weigh(all: Float64Array, n: number, off: number, per_s2: number, nameplate_g: number): void {
  all[n + LOG]! -= 0.5 * off * off * per_s2;
  const product = all[n + LINEAR]! * (nameplate_g * Math.sqrt(per_s2));
  all[n + LINEAR] = product;
  if ((product < FLUSH_BELOW && product > 0) || product > FLUSH_ABOVE) flush(all, n);
}

/** What such a reading, which goes with charge and line by these covariances, g², says of both. */
function learn(all: Float64Array, n: number, off: number, per_s2: number, cov_my: number, cov_by: number): void {
  const gain_m = cov_my * per_s2;
  const gain_b = cov_by * per_s2;
  all[n]! += gain_m * off;
  all[n + MEAN_B]! += gain_b * off;
  all[n + VAR_M]! -= gain_m * cov_my;
  all[n + COV_MB]! -= gain_m * cov_by;
  all[n + VAR_B]! -= gain_b * cov_by;
}
