/** Σ `weights`·`values`, for weights that add to 1. */
export function weightedMean(values: Float64Array, weights: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += weights[i]! * values[i]!;
  return sum;
}
