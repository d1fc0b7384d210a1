import type { Futures } from "./futures.ts";
import { type Branch, nodeRows } from "./option.ts";
import { type PriceTags, repairTimes, runningCost, servicePartCost, tallyRelease } from "./tally.ts";

/**
 * What a branch costs each node, apart by what of it depends on the place of the leak: at a place it is `running` +
 * part·`service` + price·`times`. Loops of their own, each over one place: nested ones are compiled again and again.
 */
export class NodeCosts {
  /** Number of nodes. */
  count = 0;
  /** Money that falls due wherever it leaks. */
  running = new Float64Array(0);
  /** Full services around repairs, money; a place pays a part of them. */
  service = new Float64Array(0);
  /** How many times the price of a repair falls due. */
  times = new Float64Array(0);

  /** Takes in the first `count` nodes of a branch; `carbon`: what they release is priced. */
  take(futures: Futures, branch: Branch, tags: PriceTags, count: number, carbon: boolean): void {
    const { tallies, first, stride } = nodeRows(futures, branch);
    if (this.running.length < count) {
      this.running = new Float64Array(count);
      this.service = new Float64Array(count);
      this.times = new Float64Array(count);
    }
    this.count = count;
    const release = carbon ? tags.release : 0;
    for (let n = 0; n < count; n++) {
      const row = first + n * stride;
      this.running[n] = runningCost(tallies, row, tags) + release * tallyRelease(tallies, row, tags);
      this.service[n] = servicePartCost(tallies, row, tags);
      this.times[n] = repairTimes(tallies, row, tags);
    }
  }

  /** Writes `fixed` and what the nodes cost at a place, money, from index `at` on. */
  write(into: Float64Array, at: number, fixed: number, part: number, price: number): void {
    const { count, running, service, times } = this;
    for (let n = 0; n < count; n++) into[at + n] = fixed + running[n]! + part * service[n]! + price * times[n]!;
  }

  /** Adds `chance` times what the nodes cost at a place, money, from index `at` on. */
  add(into: Float64Array, at: number, chance: number, part: number, price: number): void {
    const { count, running, service, times } = this;
    for (let n = 0; n < count; n++) into[at + n]! += chance * (running[n]! + part * service[n]! + price * times[n]!);
  }
}

/** Writes the first `count` of `weights`, times `factor`, from index `at` on. */
export function writeScaled(
  into: Float64Array,
  at: number,
  weights: Float64Array,
  count: number,
  factor: number,
): void {
  for (let n = 0; n < count; n++) into[at + n] = factor * weights[n]!;
}
