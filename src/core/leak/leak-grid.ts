import { grid, prior as priorOf } from "../../../data/model-constants.ts";

/**
 * The grid of the leak-rate posterior (MODEL §3): relative leak rate x (per year) times growth g (per year). Nodes lie
 * in typed arrays, growth-major: index = j·96 + i for x_i and g_j.
 */

export const X_COUNT = grid.ln_x_count;
export const G_COUNT = grid.growth_count;
export const NODES = X_COUNT * G_COUNT;
export const LN_X_STEP = (grid.ln_x_last - grid.ln_x_first) / (X_COUNT - 1);

export const LN_X = Float64Array.from({ length: X_COUNT }, (_, i) => grid.ln_x_first + i * LN_X_STEP);
export const X = LN_X.map(Math.exp);
/** (j − 3)/10, written so that the fourth is exactly 0. */
export const GROWTH = Float64Array.from({ length: G_COUNT }, (_, j) => (j - 3) / 10);

/** Normal weights on grid points, adding to 1. */
export function gridWeights(points: Float64Array, mean: number, sd: number): Float64Array {
  const weights = points.map((point) => Math.exp(-0.5 * ((point - mean) / sd) ** 2));
  let sum = 0;
  for (const weight of weights) sum += weight;
  return weights.map((weight) => weight / sum);
}

const GROWTH_PRIOR = gridWeights(GROWTH, priorOf.growth_mean, priorOf.growth_sd);

/** Joint weights on the nodes, from weights on ln x and the prior of growth; adding to 1. */
export function jointWeights(x_weights: Float64Array): Float64Array {
  const joint = new Float64Array(NODES);
  for (let j = 0; j < G_COUNT; j++) {
    for (let i = 0; i < X_COUNT; i++) joint[j * X_COUNT + i] = GROWTH_PRIOR[j]! * x_weights[i]!;
  }
  return joint;
}
