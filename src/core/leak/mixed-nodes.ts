import { expNegative } from "../maths/normal.ts";
import { NODES } from "./leak-grid.ts";
import type { NodeStates } from "./node-states.ts";
import type { Stretch } from "./stretch.ts";

/** Mixtures within a run of the filter: of all its nodes, and node by node of its branches. */

/** Gives every node the mean and covariance of the mixture over nodes. */
export function mixNodes({ mean_m, mean_b, var_m, cov_mb, var_b }: NodeStates, weight: Float64Array): void {
  let m = 0;
  let b = 0;
  for (let n = 0; n < NODES; n++) {
    m += weight[n]! * mean_m[n]!;
    b += weight[n]! * mean_b[n]!;
  }
  let mm = 0;
  let mb = 0;
  let bb = 0;
  for (let n = 0; n < NODES; n++) {
    const from_m = mean_m[n]! - m;
    const from_b = mean_b[n]! - b;
    mm += weight[n]! * (var_m[n]! + from_m * from_m);
    mb += weight[n]! * (cov_mb[n]! + from_m * from_b);
    bb += weight[n]! * (var_b[n]! + from_b * from_b);
  }
  mean_m.fill(m);
  mean_b.fill(b);
  var_m.fill(mm);
  cov_mb.fill(mb);
  var_b.fill(bb);
}

/**
 * Makes `states` the mixture of itself and another branch, which has nothing outside `stretch`: weights add up, charge
 * and line get the mean and covariance of the mixture.
 */
export function mergeStates(states: NodeStates, other: NodeStates, stretch: Stretch): void {
  for (const { from, to } of stretch) {
    for (let n = from; n < to; n++) if (other.linear[n]! > 0) mergeNode(states, other, n);
  }
}

function mergeNode({ mean_m, mean_b, var_m, cov_mb, var_b, linear, log }: NodeStates, other: NodeStates, n: number) {
  const above = linear[n]! > 0 ? other.log[n]! - log[n]! : Infinity;
  const own = above > 0 ? linear[n]! * expNegative(above) : linear[n]!;
  const its = above > 0 ? other.linear[n]! : other.linear[n]! * expNegative(-above);
  linear[n] = own + its;
  if (above > 0) log[n] = other.log[n]!;
  const share = its / (own + its);
  const rest = 1 - share;
  const from_m = other.mean_m[n]! - mean_m[n]!;
  const from_b = other.mean_b[n]! - mean_b[n]!;
  mean_m[n]! += share * from_m;
  mean_b[n]! += share * from_b;
  var_m[n] = rest * var_m[n]! + share * (other.var_m[n]! + rest * from_m * from_m);
  cov_mb[n] = rest * cov_mb[n]! + share * (other.cov_mb[n]! + rest * from_m * from_b);
  var_b[n] = rest * var_b[n]! + share * (other.var_b[n]! + rest * from_b * from_b);
}
