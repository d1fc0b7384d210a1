const ROUNDING = 1e-12;

/**
 * The smallest value whose cumulative weight reaches `p` of the total: quickselect by weight, expected linear time.
 * Reorders both arrays. A share within rounding of `p` counts as reaching it. `values` must not be empty.
 */
export function weightedQuantile(values: Float64Array, weights: Float64Array, p: number): number {
  let total = 0;
  for (const weight of weights) total += weight;
  let goal = (p - ROUNDING) * total;
  let first = 0;
  let end = values.length;
  for (;;) {
    const pivot = middleOfThree(values[first]!, values[(first + end) >> 1]!, values[end - 1]!);
    // [first, less) below the pivot, [less, more) at it, [more, end) above.
    let less = first;
    let more = end;
    let weight_less = 0;
    let weight_equal = 0;
    for (let i = first; i < more; ) {
      const value = values[i]!;
      if (value < pivot) {
        weight_less += weights[i]!;
        swap(values, weights, less++, i++);
      } else if (value > pivot) {
        swap(values, weights, i, --more);
      } else {
        weight_equal += weights[i]!;
        i++;
      }
    }
    if (weight_less >= goal && less > first) end = less;
    else if (weight_less + weight_equal >= goal || more === end) return pivot;
    else {
      goal -= weight_less + weight_equal;
      first = more;
    }
  }
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

function swap(values: Float64Array, weights: Float64Array, i: number, j: number): void {
  const value = values[i]!;
  const weight = weights[i]!;
  values[i] = values[j]!;
  weights[i] = weights[j]!;
  values[j] = value;
  weights[j] = weight;
}
