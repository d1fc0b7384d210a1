import { grid, prior as priorOf } from "../../../data/model-constants.ts";

/**
 * The grid of the leak-rate posterior (MODEL §3): every relative leak rate x with every growth g of it, both per year.
 * Values of nodes lie in typed arrays of length `NODES`, growth-major: the node of x_i and g_j has index
 * j·`X_COUNT` + i.
 */

/** Number of leak rates. */
export const X_COUNT = grid.ln_x_count;
/** Number of growths. */
export const G_COUNT = grid.growth_count;
/** Number of nodes. */
export const NODES = X_COUNT * G_COUNT;
/** Distance between neighbors in `LN_X`. */
export const LN_X_STEP = (grid.ln_x_last - grid.ln_x_first) / (X_COUNT - 1);

/** ln of each leak rate, ascending in equal steps. */
export const LN_X = Float64Array.from({ length: X_COUNT }, (_, i) => grid.ln_x_first + i * LN_X_STEP);
/** Leak rates, shares of the nameplate charge a year. */
export const X = LN_X.map(Math.exp);
/** Growths of the leak rate, per year; written so that the one at 0 is exactly 0. */
export const GROWTH = Float64Array.from({ length: G_COUNT }, (_, j) => (j - 3) / 10);

/** Weights of a normal distribution on grid points, adding to 1. */
export function gridWeights(points: Float64Array, mean: number, sd: number): Float64Array {
  const weights = points.map((point) => Math.exp(-0.5 * ((point - mean) / sd) ** 2));
  let sum = 0;
  for (const weight of weights) sum += weight;
  return weights.map((weight) => weight / sum);
}

const GROWTH_PRIOR = gridWeights(GROWTH, priorOf.growth_mean, priorOf.growth_sd);

/** Weights of the nodes, adding to 1: weights of the leak rates times the prior of growth. */
export function jointWeights(x_weights: Float64Array): Float64Array {
  const joint = new Float64Array(NODES);
  for (let j = 0; j < G_COUNT; j++) {
    for (let i = 0; i < X_COUNT; i++) joint[j * X_COUNT + i] = GROWTH_PRIOR[j]! * x_weights[i]!;
  }
  return joint;
}
