import { X_COUNT } from "./leak-grid.ts";
import type { Stretch } from "./stretch.ts";

/**
 * What may be left out of a run before its end, proven: a few nodes, the scouts, go through the log first, as they will
 * in the whole run, since until a repair mixes them no node depends on another. What they weigh at the end is the least
 * that all nodes together weigh there. No look multiplies a weight by more than its chance of being no mistake, and no
 * reading by more than the height of its density, so a node whose weight times all that is still ahead is under
 * `LEFT_OUT` of that least counts for under `LEFT_OUT` at the end, and all that are left out for under 2e-17.
 */

/** Share of the scouts' weight at the end that a node may come to which is left out. */
export const LEFT_OUT = 1e-20;

/** One scout at every so many leak rates of these rows, those of the growths that are likeliest beforehand. */
const EVERY_X = 8;
const SCOUT_ROWS: readonly number[] = [2, 4, 6];
const SCOUTS_A_ROW = X_COUNT / EVERY_X;

/** The scouts stand side by side at the beginning of their row. */
export const SCOUTS: Stretch = SCOUT_ROWS.map((j) => ({ from: j * X_COUNT, to: j * X_COUNT + SCOUTS_A_ROW }));

/** Brings values of the grid's rows, or of a single row, to where their scouts stand. */
export function gatherScouts(values: Float64Array): void {
  for (let first = 0; first < values.length; first += X_COUNT) {
    for (let i = 0; i < SCOUTS_A_ROW; i++) values[first + i] = values[first + i * EVERY_X + EVERY_X / 2]!;
  }
}

/** What is known of the end of a regime, the time up to the next repair, before it. */
export interface Foresight {
  /** ln of the least that all nodes together weigh at the end, as `ChargeFilter.logEvidence` counts. */
  least_end: number;
  /** ln of the most that the whole regime multiplies a weight by. */
  most: number;
}
