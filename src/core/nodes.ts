import { NODE_CUT } from "../../data/model-constants.ts";
import { G_COUNT, NODES, type Posterior, X, X_COUNT } from "./posterior.ts";

/** The nodes that count: those of at least a millionth of the largest weight, renormalised; growth-major order. Grams and years. */
export interface Nodes {
  count: number;
  weight: Float64Array;
  /** Index of the node's leak rate in `X` and growth in `GROWTH`. */
  x_index: Int32Array;
  growth_index: Int32Array;
  k: Float64Array;
  mean_m: Float64Array;
  mean_b: Float64Array;
  var_m: Float64Array;
  cov_mb: Float64Array;
  var_b: Float64Array;
}

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
  const of = (values: Float64Array): Float64Array => Float64Array.from(kept, (n) => values[n]!);
  const x_index = Int32Array.from(kept, (n) => n % X_COUNT);
  return {
    count: kept.length,
    weight: Float64Array.from(kept, (n) => posterior.weight[n]! / sum),
    x_index,
    growth_index: Int32Array.from(kept, (n) => Math.floor(n / X_COUNT) % G_COUNT),
    k: Float64Array.from(x_index, (i) => X[i]! * nameplate_g),
    mean_m: of(posterior.mean_m),
    mean_b: of(posterior.mean_b),
    var_m: of(posterior.var_m),
    cov_mb: of(posterior.cov_mb),
    var_b: of(posterior.var_b),
  };
}
