import { looks, recovery } from "../../../data/model-constants.ts";
import { softSteps } from "../maths/normal.ts";
import type { Cooling } from "../question/contract.ts";
import type { Fill } from "./charge-log.ts";
import { NODES } from "./leak-grid.ts";
import { FLUSH_BELOW, flush, LINE, rowLook, shiftRow, standApart, weighRow } from "./look-rows.ts";
import { AT, type NodeStates } from "./node-states.ts";
import type { Stretch } from "./stretch.ts";

/**
 * What a look or a reading tells at every node of the filter (MODEL §3): how likely it was there, and what it says of
 * the charge m and the weak-cooling charge b. Loops run row by row of the grid, which then stays in the nearest cache.
 */

const MEAN_B = AT.mean_b;
const VAR_M = AT.var_m;
const COV_MB = AT.cov_mb;
const VAR_B = AT.var_b;
const LINEAR = AT.linear;
const LOG = AT.log;

/** Above this the linear part of a weight moves into its log part, too. */
const FLUSH_ABOVE = 1e150;

/** Of each node: v, the error of the amount that a visit adds, as a third variable. For that visit only. */
export interface AmountErrors {
  /** Mean of v. */
  readonly mean_v: Float64Array;
  /** Variance of v. */
  readonly var_v: Float64Array;
  /** Covariance of m and v. */
  readonly cov_mv: Float64Array;
  /** Covariance of b and v. */
  readonly cov_bv: Float64Array;
}

/** Room for the amount's error at every node. */
export function amountErrors(): AmountErrors {
  const of = () => new Float64Array(NODES);
  return { mean_v: of(), var_v: of(), cov_mv: of(), cov_bv: of() };
}

/** A look as the filter takes it. */
export interface Look {
  /** What was seen. */
  kind: Cooling | "fill-unknown";
  /** Chance that it was a mistake, 0–1. */
  mistaken: number;
}

/** The line that a look compares the charge with, `own`·b + `fixed`, and the variance of its softness, g². */
export function lineOf(kind: Look["kind"], nameplate_g: number): { own: number; fixed: number; soft2: number } {
  const { line, softness } = looks[kind];
  const soft2 = (softness * nameplate_g) ** 2;
  return line === null ? { own: 1, fixed: 0, soft2 } : { own: 0, fixed: line * nameplate_g, soft2 };
}

/** Takes in that the charge lies on one side of a line. `errors` are updated along with m and b. */
export function takeLook(
  { all }: NodeStates,
  stretch: Stretch,
  { kind, mistaken }: Look,
  nameplate_g: number,
  errors: AmountErrors | null = null,
): void {
  const { own, fixed, soft2 } = lineOf(kind, nameplate_g);
  line[LINE.own] = own;
  line[LINE.fixed] = fixed;
  line[LINE.soft2] = soft2;
  line[LINE.sign] = kind === "ok" ? -1 : 1;
  for (const { from, to } of stretch) {
    standApart(all, line, row, from, to);
    softSteps(row.apart, mistaken, row.chance, row.slope, to - from);
    weighRow(all, row, from, to);
    if (errors !== null) shiftErrors(all, errors, from, to);
    shiftRow(all, line, row, from, to);
  }
}

/** What a look at the line b says of the error of the amount; before `shiftRow`. */
function shiftErrors(
  all: Float64Array,
  { mean_v, var_v, cov_mv, cov_bv }: AmountErrors,
  from: number,
  to: number,
): void {
  const own = line[LINE.own]!;
  const sign = line[LINE.sign]!;
  const { apart, per_sd, slope } = row;
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

/** Takes in what a recovery machine weighed: reading = `recovery.share`·m + N(0, sd). */
export function takeRecovered(
  { all }: NodeStates,
  stretch: Stretch,
  { reading_g, sd_g }: { reading_g: number; sd_g: number },
  nameplate_g: number,
): void {
  const c = recovery.share;
  const r2 = sd_g * sd_g;
  for (const { from, to } of stretch) {
    for (let n = from; n < to; n++) {
      const cov_my = c * all[n + VAR_M]!;
      const cov_by = c * all[n + COV_MB]!;
      const per_s2 = 1 / (c * cov_my + r2);
      const off = reading_g - c * all[n]!;
      weigh(all, n, off, per_s2, nameplate_g);
      const gain_m = cov_my * per_s2;
      const gain_b = cov_by * per_s2;
      all[n]! += gain_m * off;
      all[n + MEAN_B]! += gain_b * off;
      all[n + VAR_M]! -= gain_m * cov_my;
      all[n + COV_MB]! -= gain_m * cov_by;
      all[n + VAR_B]! -= gain_b * cov_by;
    }
  }
}

/** Takes in the level judged after an amount went in: reading = m + into + v + N(0, sd). Sets `errors`. */
export function takeLevel(
  { all }: NodeStates,
  stretch: Stretch,
  { into_g, sd_g, reading }: Extract<Fill, { kind: "amount" }>,
  nameplate_g: number,
  { mean_v, var_v, cov_mv, cov_bv }: AmountErrors,
): void {
  if (reading === null) return;
  const v2 = sd_g * sd_g;
  const r2 = reading.sd_g * reading.sd_g;
  const expected = reading.mean_g - into_g;
  for (const { from, to } of stretch) {
    for (let n = from; n < to; n++) {
      const cov_my = all[n + VAR_M]!;
      const cov_by = all[n + COV_MB]!;
      const off = expected - all[n]!;
      const per_s2 = 1 / (cov_my + v2 + r2);
      weigh(all, n, off, per_s2, nameplate_g);
      const gain_m = cov_my * per_s2;
      const gain_b = cov_by * per_s2;
      const gain_v = v2 * per_s2;
      all[n]! += gain_m * off;
      all[n + MEAN_B]! += gain_b * off;
      mean_v[n] = gain_v * off;
      all[n + VAR_M]! -= gain_m * cov_my;
      all[n + COV_MB]! -= gain_m * cov_by;
      all[n + VAR_B]! -= gain_b * cov_by;
      cov_mv[n] = -gain_m * v2;
      cov_bv[n] = -gain_b * v2;
      var_v[n] = v2 - gain_v * v2;
    }
  }
}

/** Weighs a node by the density of a reading `off` grams from its expected value; `per_s2`: 1/variance, g⁻². */
function weigh(all: Float64Array, n: number, off: number, per_s2: number, nameplate_g: number): void {
  all[n + LOG]! -= 0.5 * off * off * per_s2;
  const product = all[n + LINEAR]! * (nameplate_g * Math.sqrt(per_s2));
  all[n + LINEAR] = product;
  if ((product < FLUSH_BELOW && product > 0) || product > FLUSH_ABOVE) flush(all, n);
}

// Work space of a single look: nothing is kept in it from one to the next.
const line = new Float64Array(Object.keys(LINE).length);
const row = rowLook();
