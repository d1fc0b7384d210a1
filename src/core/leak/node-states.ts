import { NODES } from "./leak-grid.ts";

/**
 * The state of the filter at every node: its weight, and charge m and weak-cooling charge b, jointly normal, in grams
 * and g². All lies in one piece of memory, one quantity after the other, so that a loop needs a single address.
 */

/** What a node's state consists of, in the order in which it lies in memory. */
const STATE = ["mean_m", "mean_b", "var_m", "cov_mb", "var_b", "linear", "log"] as const;

/** Numbers of all states. */
export const STATE_VALUES = STATE.length * NODES;

/** The states of all nodes. */
export interface NodeStates {
  /** All of what follows, which are views of it: each quantity has `NODES` values. */
  readonly all: Float64Array;
  /** Mean of m. */
  readonly mean_m: Float64Array;
  /** Mean of b. */
  readonly mean_b: Float64Array;
  /** Variance of m. */
  readonly var_m: Float64Array;
  /** Covariance of m and b. */
  readonly cov_mb: Float64Array;
  /** Variance of b. */
  readonly var_b: Float64Array;
  /** Weight of a node = linear · e^{log}: looks multiply the linear part, readings add to the log part. */
  readonly linear: Float64Array;
  /** The log part of that. */
  readonly log: Float64Array;
}

/** Where each quantity begins in `NodeStates.all`. */
export const AT = {
  mean_m: 0,
  mean_b: NODES,
  var_m: 2 * NODES,
  cov_mb: 3 * NODES,
  var_b: 4 * NODES,
  linear: 5 * NODES,
  log: 6 * NODES,
} as const satisfies Record<(typeof STATE)[number], number>;

/** The values of one quantity in all of the states. */
export function partOf(all: Float64Array, name: keyof typeof AT): Float64Array {
  return all.subarray(AT[name], AT[name] + NODES);
}

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
