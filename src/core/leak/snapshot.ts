import type { ChargeFilter } from "./charge-filter.ts";
import { NODES } from "./leak-grid.ts";
import { joined } from "./silence.ts";

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
function roomForSnapshots(count: number): () => Float64Array {
  const room = new Float64Array(count * SNAPSHOT_VALUES);
  let next = 0;
  return () => room.subarray(next * SNAPSHOT_VALUES, ++next * SNAPSHOT_VALUES);
}

/** What a run records at each entry of its log, beside its result. */
export class RunRecord {
  /** Charge before and after each entry. */
  readonly snapshots: Snapshot[] = [];
  /** Fall in the standard deviation of ln x with each entry. */
  readonly learned: number[] = [];
  readonly #room: () => Float64Array;
  #sd: number;

  /** Of a run that begins as `filter` is, over so many entries. */
  constructor(filter: ChargeFilter, entries: number) {
    this.#room = roomForSnapshots(2 * entries);
    this.#sd = filter.lnXSd();
  }

  /** Notes how a filter and its branches arrive at an entry. */
  arrive(filter: ChargeFilter, branches: readonly ChargeFilter[], t: number, entry: number): void {
    this.snapshots.push(joined(filter, branches).snapshot(t, entry, "before", this.#room()));
  }

  /** Notes how it leaves the entry. */
  leave(filter: ChargeFilter, t: number, entry: number): void {
    this.snapshots.push(filter.snapshot(t, entry, "after", this.#room()));
    const sd = filter.lnXSd();
    this.learned.push(this.#sd - sd);
    this.#sd = sd;
  }
}
