import { G_COUNT, X_COUNT } from "./leak-grid.ts";

/**
 * The nodes that a run of the filter goes through. A run under a slightly changed assumption may leave out what weighed
 * nothing in the first run, and is done again with all nodes where that turns out to have been too few.
 */

/** Nodes of one growth, or some of them: those from index `from` to before `to`. */
export interface Row {
  /** Index of its first node. */
  from: number;
  /** Index after its last node. */
  to: number;
}

/** A row for each growth; of a run that only scouts, any rows. */
export type Stretch = readonly Row[];

/** Every node. */
export const ALL_NODES: Stretch = Array.from({ length: G_COUNT }, (_, j) => ({
  from: j * X_COUNT,
  to: (j + 1) * X_COUNT,
}));

/** What is left of each row when the nodes at both ends that are light are left out. */
export function trimmed(stretch: Stretch, isLight: (n: number) => boolean): Stretch {
  return stretch.map(({ from, to }) => {
    let first = from;
    while (first < to && isLight(first)) first++;
    let end = to;
    while (end > first && isLight(end - 1)) end--;
    return { from: first, to: end };
  });
}

/** Share of the largest weight below which a node does not count. */
const UNCOUNTED = 1e-22;
/** Nodes kept beyond those that count, at either end: another assumption moves the leak rates that fit the log. */
const BEYOND = 5;
/** Rows kept beside those in which any count, each with that many more nodes at either end. */
const BESIDE = 2;
/** Share of the largest weight that a node may have for those beyond it to count for nothing. */
const LIGHT = 1e-13;

/** The nodes that count by `weight`, from the first to the last of each row, and those beyond and beside them. */
export function stretchOf(weight: Float64Array): Stretch {
  const least = UNCOUNTED * largestOf(weight);
  const counted = trimmed(ALL_NODES, (n) => weight[n]! < least).map(({ from, to }, j) => ({
    first: from - j * X_COUNT,
    end: to - j * X_COUNT,
  }));
  return ALL_NODES.map(({ from, to }, j) => {
    let first: number = X_COUNT;
    let end = 0;
    for (let beside = 0; beside <= BESIDE; beside++) {
      for (const row of [counted[j - beside], counted[j + beside]]) {
        if (row === undefined || row.first === row.end) continue;
        first = Math.min(first, row.first - (1 + beside) * BEYOND);
        end = Math.max(end, row.end + (1 + beside) * BEYOND);
      }
      if (first < end) break;
    }
    return first < end ? { from: Math.max(from, from + first), to: Math.min(to, from + end) } : { from, to: from };
  });
}

/** Whether nothing that counts was left out, by the weights of a run within `stretch`. */
export function endsAreLight(stretch: Stretch, weight: Float64Array): boolean {
  const most = LIGHT * largestOf(weight);
  return stretch.every(({ from, to }, j) => {
    const whole = ALL_NODES[j]!;
    if (from === to) return true;
    if (isEmpty(stretch[j - 1]) || isEmpty(stretch[j + 1])) {
      // The last row that was kept: those beyond it are light if all of it is.
      for (let n = from; n < to; n++) if (weight[n]! > most) return false;
    }
    return (from === whole.from || weight[from]! <= most) && (to === whole.to || weight[to - 1]! <= most);
  });
}

/** Whether a row of the grid was left out; there is none beyond its edge. */
function isEmpty(row: Row | undefined): boolean {
  return row !== undefined && row.from === row.to;
}

function largestOf(weight: Float64Array): number {
  let largest = 0;
  for (let n = 0; n < weight.length; n++) if (weight[n]! > largest) largest = weight[n]!;
  return largest;
}
