import type { ChargeFilter } from "./charge-filter.ts";
import { joined } from "./silence.ts";
import { roomForSnapshots, type Snapshot } from "./snapshot.ts";

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
