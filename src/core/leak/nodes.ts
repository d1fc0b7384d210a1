import { NODE_CUT } from "../../../data/model-constants.ts";
import { NODES, X, X_COUNT } from "./leak-grid.ts";
import type { Posterior } from "./posterior.ts";

/**
 * The nodes of a posterior that carry enough weight to matter (`NODE_CUT`), in the order of the grid. Arrays hold a
 * value for each of them; m is the charge, b the charge below which it cools poorly.
 */
export interface Nodes {
  /** How many there are. */
  count: number;
  /** Weight, adding to 1. */
  weight: Float64Array;
  /** Index of the leak rate in `X`. */
  x_index: Int32Array;
  /** Index of the growth in `GROWTH`. */
  growth_index: Int32Array;
  /** Leak rate, grams a year. */
  k: Float64Array;
  /** Mean of m, grams. */
  mean_m: Float64Array;
  /** Mean of b, grams. */
  mean_b: Float64Array;
  /** Variance of m, g². */
  var_m: Float64Array;
  /** Covariance of m and b, g². */
  cov_mb: Float64Array;
  /** Variance of b, g². */
  var_b: Float64Array;
}

/** Nodes of a posterior of less weight change no digit that matters, even all of them together. */
export const NEGLIGIBLE = 1e-16;

/** The nodes of a posterior that matter, their weights scaled to add to 1. */
export function nodesOf(posterior: Posterior, nameplate_g: number): Nodes {
  let largest = 0;
  for (const weight of posterior.weight) if (weight > largest) largest = weight;
  const kept: number[] = [];
  let sum = 0;
  for (let n = 0; n < NODES; n++) {
    if (posterior.weight[n]! >= NODE_CUT * largest) {
      kept.push(n);
      sum += posterior.weight[n]!;
    }
  }
  // A plain loop: `from` of a typed array with a function takes many times as long.
  const of = (values: Float64Array): Float64Array => {
    const picked = new Float64Array(kept.length);
    for (let i = 0; i < kept.length; i++) picked[i] = values[kept[i]!]!;
    return picked;
  };
  const x_index = new Int32Array(kept.length);
  const growth_index = new Int32Array(kept.length);
  for (let i = 0; i < kept.length; i++) {
    x_index[i] = kept[i]! % X_COUNT;
    growth_index[i] = Math.floor(kept[i]! / X_COUNT);
  }
  const weight = of(posterior.weight);
  const k = new Float64Array(kept.length);
  for (let i = 0; i < kept.length; i++) {
    weight[i]! /= sum;
    k[i] = X[x_index[i]!]! * nameplate_g;
  }
  return {
    count: kept.length,
    weight,
    x_index,
    growth_index,
    k,
    mean_m: of(posterior.mean_m),
    mean_b: of(posterior.mean_b),
    var_m: of(posterior.var_m),
    cov_mb: of(posterior.cov_mb),
    var_b: of(posterior.var_b),
  };
}
