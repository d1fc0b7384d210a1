import { type Choice, frontier, pack, relax } from "../maths/knapsack.ts";
import type { OptionId } from "../question/contract.ts";
import type { FleetOption } from "./answer.ts";
import type { AsIs } from "./as-is.ts";

/**
 * Which vehicles to repair with this year's money (MODEL §9): one option for every vehicle, so that all together cost
 * least over the years they are kept, or release least, while what falls due within a year stays within the budget.
 */

/** The quantity to minimize: expected cost including the carbon price, or kg CO₂e released. */
export const BUDGET_AIMS = ["cost", "co2e"] as const;
export type BudgetAim = (typeof BUDGET_AIMS)[number];

/** A choice made beforehand: this option, or any but these. */
export interface Lock {
  must?: OptionId | null;
  must_not?: readonly OptionId[];
}

export interface BudgetVehicle {
  id: string;
  options: readonly FleetOption[];
  as_is: AsIs;
  lock?: Lock;
}

/** Sums over the planned vehicles. */
export interface PlanTotals {
  expected_cost: number;
  outlay_first_year: number;
  co2e_kg: number;
}

export interface BudgetPlan {
  /** False when even the cheapest choices exceed the budget; `choices` are then those. */
  feasible: boolean;
  choices: { vehicle_id: string; option: FleetOption }[];
  /** Vehicles without an option to choose: none is offered to them, or the locks left none. */
  left_out: { vehicle_id: string; because: "nothing-offered" | "locks" }[];
  totals: PlanTotals;
  /** Every planned vehicle topped off for ever: the baseline of the savings. */
  as_is: PlanTotals;
  /** This year's money for vehicles that are topped off or left alone: they need no work order. */
  routine_outlay: number;
  /** The plan with the lowest outlay this year. */
  least_outlay: PlanTotals;
  /** The plan without a limit. */
  unlimited: PlanTotals;
  /** No plan within the budget has less of the aim; with `gap` above it, and that as a share of it. */
  bound: number;
  gap: number;
  gap_share: number;
  exact: boolean;
  /** The gain from one more unit of budget: money saved over the years, or kg CO₂e avoided. */
  shadow_price: number;
  /** Least cost (or kg) that a budget can reach, from the least outlay to where more brings nothing; budgets ascend. */
  curve: { budget: number; least: number }[];
}

const CURVE_POINTS = 60;
/** Money. Choices that ask nearly the same of this year are no choice to a person, and slow to tell apart. */
const LEAST_ASKED_LESS = 1;

/** The best plan within `budget` (money due this year). Vehicles keep their order. */
export function planBudget(vehicles: readonly BudgetVehicle[], budget: number, aim: BudgetAim): BudgetPlan {
  const left_out: BudgetPlan["left_out"] = [];
  const planned: { vehicle_id: string; options: FleetOption[]; as_is: AsIs }[] = [];
  for (const { id, options, as_is, lock } of vehicles) {
    const offered = options.filter((option) => option.offered).flatMap((option) => choicesWith(option, as_is));
    const open = offered.filter((option) => allows(lock, option.id));
    if (open.length > 0) planned.push({ vehicle_id: id, options: open, as_is });
    else left_out.push({ vehicle_id: id, because: offered.length > 0 ? "locks" : "nothing-offered" });
  }
  const relaxed = relax(planned.map(({ options }) => options.map((option) => choiceOf(option, aim))));
  const packing = pack(relaxed, budget);
  const choicesOf = (chosen: Int32Array): BudgetPlan["choices"] =>
    planned.map(({ vehicle_id, options }, v) => ({ vehicle_id, option: options[chosen[v]!]! }));
  const least = choicesOf(relaxed.least.chosen);
  const all = choicesOf(pack(relaxed, Infinity)!.chosen);
  const choices = packing === null ? least : choicesOf(packing.chosen);
  const { value, bound, multiplier, exact } = packing ?? {
    value: relaxed.least.value,
    bound: relaxed.least.value,
    multiplier: 0,
    exact: true,
  };
  return {
    feasible: packing !== null,
    choices,
    left_out,
    totals: totalsOf(choices.map(({ option }) => option)),
    as_is: totalsOf(planned.map(({ as_is }) => as_is)),
    routine_outlay: choices.reduce((sum, { option }) => sum + (isRoutine(option) ? option.outlay_first_year : 0), 0),
    least_outlay: totalsOf(least.map(({ option }) => option)),
    unlimited: totalsOf(all.map(({ option }) => option)),
    bound,
    gap: value - bound,
    gap_share: value === bound ? 0 : (value - bound) / Math.abs(bound),
    exact,
    shadow_price: multiplier,
    curve: thinned(frontier(relaxed)),
  };
}

/**
 * The options for the budget, with topping off for ever added: it costs less this year than a repair as soon as a
 * charge does not last.
 */
function choicesWith(option: FleetOption, as_is: AsIs): FleetOption[] {
  const asks_less = option.outlay_first_year - as_is.outlay_first_year > LEAST_ASKED_LESS;
  return option.id === "top-off" && asks_less ? [{ ...option, ...as_is }, option] : [option];
}

/** Whether a choice needs no work order. */
export function isRoutine({ id }: Pick<FleetOption, "id">): boolean {
  return id === "top-off" || id === "live-without";
}

function allows(lock: Lock | undefined, id: OptionId): boolean {
  if (lock === undefined) return true;
  return lock.must != null ? lock.must === id : !(lock.must_not ?? []).includes(id);
}

function choiceOf(option: FleetOption, aim: BudgetAim): Choice {
  return {
    value: aim === "cost" ? option.expected_cost_with_carbon : option.co2e_kg,
    weight: Math.max(0, option.outlay_first_year),
  };
}

function totalsOf(chosen: readonly PlanTotals[]): PlanTotals {
  const totals = { expected_cost: 0, outlay_first_year: 0, co2e_kg: 0 };
  for (const { expected_cost, outlay_first_year, co2e_kg } of chosen) {
    totals.expected_cost += expected_cost;
    totals.outlay_first_year += outlay_first_year;
    totals.co2e_kg += co2e_kg;
  }
  return totals;
}

/** A few points of the frontier, evenly along the budget, first and last among them. */
function thinned(points: readonly { weight: number; value: number }[]): BudgetPlan["curve"] {
  const first = points[0]!;
  const last = points.at(-1)!;
  const step = (last.weight - first.weight) / (CURVE_POINTS - 1);
  const kept: BudgetPlan["curve"] = [];
  for (const { weight, value } of points) {
    const at = kept.at(-1);
    if (at === undefined || weight >= at.budget + step || weight === last.weight)
      kept.push({ budget: weight, least: value });
  }
  return kept;
}
