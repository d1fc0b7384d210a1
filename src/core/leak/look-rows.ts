import { NODES } from "./leak-grid.ts";
import { AT } from "./node-states.ts";

/**
 * The loops of a look (`takeLook`) over one row of nodes. Each is so short that the engine keeps all that it needs in
 * registers, and what one node waits for (a root, a division, a table) is hidden behind its neighbors: a single long
 * loop takes half as long again. Numbers come in an array, since one passed alone takes memory at each call.
 */

// Constants of this very module are part of the compiled loop; those of another are looked up at every step.
const MEAN_B = AT.mean_b;
const VAR_M = AT.var_m;
const COV_MB = AT.cov_mb;
const VAR_B = AT.var_b;
const LINEAR = AT.linear;
const LOG = AT.log;

/** Under this the linear part of a weight moves into its log part, well before it leaves the float range. */
export const FLUSH_BELOW = 1e-150;

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
export function flush(all: Float64Array, n: number): void {
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
