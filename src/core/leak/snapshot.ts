import { NODES } from "./leak-grid.ts";

/** The charge at a point of the log, not rectified. Arrays hold a value for each node of the grid. */
export interface Snapshot {
  /** Years from the assessment date, 0 or negative. */
  t: number;
  /** Position of the entry in the sorted log. */
  entry: number;
  /** Whether this is just before the entry or just after it. */
  moment: "before" | "after";
  /** Mean charge, grams. */
  mean_m: Float64Array;
  /** Variance of the charge, g². */
  var_m: Float64Array;
}

/** Numbers that a snapshot keeps. */
export const SNAPSHOT_VALUES = 2 * NODES;

/** Room for so many snapshots, in one piece: much less work than an array for each. */
export function roomForSnapshots(count: number): () => Float64Array {
  const room = new Float64Array(count * SNAPSHOT_VALUES);
  let next = 0;
  return () => room.subarray(next * SNAPSHOT_VALUES, ++next * SNAPSHOT_VALUES);
}
