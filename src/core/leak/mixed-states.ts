import type { FilterState } from "./charge-filter.ts";
import { NODES } from "./leak-grid.ts";

/** The final state of a run of the filter, with the evidence for its log. */
export interface WeighedState extends FilterState {
  /** ln of the likelihood of the log, as `ChargeFilter.logEvidence` gives it. */
  log_evidence: number;
}

/**
 * The mixture of several runs over the same visits on different days. Each run counts by its evidence; at every node,
 * mean and covariance of charge and weak-cooling charge are those of the mixture. Throws RangeError without a run.
 */
export function mixedStates(runs: readonly WeighedState[]): WeighedState {
  if (runs.length === 0) throw new RangeError("A mixture of nothing");
  const largest = Math.max(...runs.map(({ log_evidence }) => log_evidence));
  const evidence = runs.map(({ log_evidence }) => Math.exp(log_evidence - largest));
  const total = evidence.reduce((sum, one) => sum + one, 0);
  const mixed = {
    weight: new Float64Array(NODES),
    mean_m: new Float64Array(NODES),
    mean_b: new Float64Array(NODES),
    var_m: new Float64Array(NODES),
    cov_mb: new Float64Array(NODES),
    var_b: new Float64Array(NODES),
    held: runs[0]!.held === null ? null : new Float64Array(NODES),
    stretches: [],
  };
  for (let n = 0; n < NODES; n++) {
    const parts = runs.map(({ weight }, r) => (evidence[r]! / total) * weight[n]!);
    const sum = parts.reduce((all, one) => all + one, 0);
    // A node that has no weight in any run is mixed in equal parts.
    const share = (r: number) => (sum > 0 ? parts[r]! / sum : 1 / runs.length);
    const mean = (of: (run: WeighedState) => number) => runs.reduce((all, run, r) => all + share(r) * of(run), 0);
    const m = mean(({ mean_m }) => mean_m[n]!);
    const b = mean(({ mean_b }) => mean_b[n]!);
    mixed.weight[n] = sum;
    mixed.mean_m[n] = m;
    mixed.mean_b[n] = b;
    mixed.var_m[n] = mean(({ var_m, mean_m }) => var_m[n]! + (mean_m[n]! - m) ** 2);
    mixed.cov_mb[n] = mean(({ cov_mb, mean_m, mean_b }) => cov_mb[n]! + (mean_m[n]! - m) * (mean_b[n]! - b));
    mixed.var_b[n] = mean(({ var_b, mean_b }) => var_b[n]! + (mean_b[n]! - b) ** 2);
    if (mixed.held !== null) mixed.held[n] = mean(({ held }) => held?.[n] ?? 0);
  }
  return { ...mixed, log_evidence: largest + Math.log(total / runs.length) };
}
