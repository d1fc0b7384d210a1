import { rectifyAt } from "../../../src/core/maths/normal.ts";

/** `rectifyAt` of a single variable. */
export function rectified(mean: number, variance: number): [mean: number, variance: number] {
  const means = Float64Array.of(mean);
  const variances = Float64Array.of(variance);
  rectifyAt(means, variances, 0);
  return [means[0]!, variances[0]!];
}
