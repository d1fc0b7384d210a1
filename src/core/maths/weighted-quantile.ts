const ROUNDING = 1e-12;
/** Bins of equal width that values are first counted in; fewer values than this are not worth the counting. */
const BINS = 256;

/**
 * For each of `shares`, the smallest value whose cumulative weight reaches that share of the total: the bin that it
 * lies in, then quickselect within the bin, linear time. A share within rounding of a weight counts as reached.
 * `values` must not be empty, and be finite.
 */
export function weightedQuantiles(values: Float64Array, weights: Float64Array, shares: readonly number[]): number[] {
  const total = sumOf(weights, values.length);
  const [least, most] = [leastOf(values), mostOf(values)];
  const goals = shares.map((share) => (share - ROUNDING) * total);
  if (values.length <= BINS || !(most > least)) {
    return goals.map((goal) => selected(values.slice(), weights.slice(), goal));
  }
  return selectedInBins(values, weights, inBins(values, weights, least, most), goals);
}

// Each loop in a function of its own: one that runs on into another is compiled while it runs, and again after it.

function sumOf(weights: Float64Array, count: number): number {
  let sum = 0;
  for (let i = 0; i < count; i++) sum += weights[i]!;
  return sum;
}

function leastOf(values: Float64Array): number {
  let least = Infinity;
  for (let i = 0; i < values.length; i++) if (values[i]! < least) least = values[i]!;
  return least;
}

function mostOf(values: Float64Array): number {
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) if (values[i]! > most) most = values[i]!;
  return most;
}

/** Counts values, from `least` to `most`, in bins. */
function inBins(values: Float64Array, weights: Float64Array, least: number, most: number): Bins {
  const bins = {
    of: new Uint8Array(values.length),
    weight: new Float64Array(BINS),
    count: new Int32Array(BINS),
  };
  countIn(bins, values, weights, least, (BINS - 0.001) / (most - least));
  return bins;
}

function countIn(bins: Bins, values: Float64Array, weights: Float64Array, least: number, per_width: number): void {
  const { of, weight, count } = bins;
  for (let i = 0; i < values.length; i++) {
    const bin = ((values[i]! - least) * per_width) | 0;
    of[i] = bin;
    weight[bin]! += weights[i]!;
    count[bin]!++;
  }
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
  gather(wanted, values, weights, bins.of);
  return goals.map((goal, g) => {
    const { before, values: in_bin, weights: weights_in_bin } = bin_of_goal[g]!;
    return selected(in_bin, weights_in_bin, goal - before);
  });
}

function gather(
  wanted: readonly (OneBin | null)[],
  values: Float64Array,
  weights: Float64Array,
  bin_of: Uint8Array,
): void {
  for (let i = 0; i < values.length; i++) {
    const one = wanted[bin_of[i]!]!;
    if (one === null) continue;
    one.values[one.filled] = values[i]!;
    one.weights[one.filled++] = weights[i]!;
  }
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
