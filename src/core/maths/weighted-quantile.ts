const ROUNDING = 1e-12;
/** Bins of equal width that values are first counted in; fewer values than this are not worth the counting. */
const BINS = 256;

/**
 * For each of `shares`, the smallest value whose cumulative weight reaches that share of the total: the bin that it
 * lies in, then quickselect within the bin, linear time. A share within rounding of a weight counts as reached.
 * `values` must not be empty, and be finite.
 */
export function weightedQuantiles(values: Float64Array, weights: Float64Array, shares: readonly number[]): number[] {
  let sum = 0;
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) {
    sum += weights[i]!;
    const value = values[i]!;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  // A variable of its own: one that a loop adds to and a closure reads takes memory at every step.
  const total = sum;
  const goals = shares.map((share) => (share - ROUNDING) * total);
  if (values.length <= BINS || !(most > least)) {
    return goals.map((goal) => selected(values.slice(), weights.slice(), goal));
  }

  const per_width = (BINS - 0.001) / (most - least);
  const bin_of = new Uint8Array(values.length);
  const bin_weight = new Float64Array(BINS);
  const bin_count = new Int32Array(BINS);
  for (let i = 0; i < values.length; i++) {
    const bin = ((values[i]! - least) * per_width) | 0;
    bin_of[i] = bin;
    bin_weight[bin]! += weights[i]!;
    bin_count[bin]!++;
  }
  return selectedInBins(values, weights, { of: bin_of, weight: bin_weight, count: bin_count }, goals);
}

/** Values counted in bins. */
interface Bins {
  /** The bin of each value. */
  of: Uint8Array;
  /** Weight in each bin. */
  weight: Float64Array;
  /** Number of values in each bin. */
  count: Int32Array;
}

/** The values of one bin, and their weights. */
interface OneBin {
  /** Weight of all bins before it. */
  before: number;
  /** As many as there are in the bin. */
  values: Float64Array;
  /** The weight of each. */
  weights: Float64Array;
  /** How many are filled in so far. */
  filled: number;
}

/** As `selected` for each of `goals`, which looks through one bin only. */
function selectedInBins(values: Float64Array, weights: Float64Array, bins: Bins, goals: readonly number[]): number[] {
  // By bin: the one that a goal lies in; null: none does.
  const wanted = new Array<OneBin | null>(BINS).fill(null);
  const bin_of_goal = goals.map((goal) => {
    let bin = 0;
    let before = 0;
    while (bin < BINS - 1 && (bins.count[bin] === 0 || before + bins.weight[bin]! < goal))
      before += bins.weight[bin++]!;
    const count = bins.count[bin]!;
    const one = { before, values: new Float64Array(count), weights: new Float64Array(count), filled: 0 };
    wanted[bin] ??= one;
    return wanted[bin];
  });
  for (let i = 0; i < values.length; i++) {
    const one = wanted[bins.of[i]!]!;
    if (one === null) continue;
    one.values[one.filled] = values[i]!;
    one.weights[one.filled++] = weights[i]!;
  }
  return goals.map((goal, g) => {
    const { before, values: in_bin, weights: weights_in_bin } = bin_of_goal[g]!;
    return selected(in_bin, weights_in_bin, goal - before);
  });
}

/** The smallest value whose cumulative weight reaches `goal`, the largest if none does. Reorders both arrays. */
function selected(values: Float64Array, weights: Float64Array, goal: number): number {
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
