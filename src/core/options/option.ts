import type { OptionAnswer, OptionId } from "../question/contract.ts";
import type { Futures } from "./futures.ts";

/** An option as it is compared, the cases that it splits into, and where what each comes to is tallied. */

/** What an option does in one case: at once, or after one outcome of a test. Arrays are by place. */
export interface Branch {
  /** What is done. */
  course: "repair-now" | "repair-after-dye" | "top-off";
  /** Index of the switch rule; 0 for repairs. */
  rule: number;
  /** Chance of this case, 0–1. */
  chance: number;
  /** Chance of this case if the leak is at each place, 0–1. */
  chance_given: readonly number[];
  /** Chance of each place in this case, adding to 1. */
  belief: readonly number[];
  /** Fee for finding the place, due with a repair, money. */
  locate: number;
}

/** An option compared; what it shares with `OptionAnswer` is said there. */
export interface Option {
  /** Which option. */
  id: OptionId;
  /** Whether it can be chosen. */
  offered: boolean;
  /** Why it cannot be chosen; null where it can. */
  not_offered_because: OptionAnswer["not_offered_because"];
  /** Cost that no outcome changes, money: the price of a test, or the worth of the seasons lived without. */
  fixed: number;
  /** The cases it splits into; none for living without. */
  branches: readonly Branch[];
  /** Average cost, money discounted to today, without carbon. */
  expected_cost: number;
  /** Average release, grams. */
  release_g: number;
  /** `expected_cost` plus the carbon price of the release, money. */
  expected_cost_with_carbon: number;
  /** Of a test: chance that a repair follows, 0–1; else null. */
  leads_to_repair: number | null;
}

/** Costs whose relative difference is below this are equal up to rounding. */
export const SAME_COST = 1e-9;

/** Mean tallies that hold a branch, and the row of it in them. */
export function meanPath(futures: Futures, branch: Pick<Branch, "course" | "rule">): [Float64Array, number] {
  if (branch.course === "repair-now") return [futures.repair_now, 0];
  if (branch.course === "repair-after-dye") return [futures.repair_after_dye_mean, 0];
  return [futures.top_off_mean, branch.rule];
}

/** Where the tallies of single nodes of a branch are: the array, the row of node 0, and the rows between two nodes. */
export function nodeRows(futures: Futures, branch: Branch): { tallies: Float64Array; first: number; stride: number } {
  if (branch.course === "repair-now") return { tallies: futures.repair_now, first: 0, stride: 0 };
  if (branch.course === "repair-after-dye") return { tallies: futures.repair_after_dye, first: 0, stride: 1 };
  return { tallies: futures.top_off, first: branch.rule, stride: futures.rules.length };
}
