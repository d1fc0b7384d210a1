import { frontier, type Packing, pack, relax } from "../maths/knapsack.ts";
import { packWithin, type WorkChoice } from "../maths/two-limits.ts";
import type { OptionId } from "../question/contract.ts";
import type { FleetOption } from "./answer.ts";
import type { AsIs } from "./as-is.ts";

/**
 * Which vehicles to repair with this year's money (MODEL §9): one option for every vehicle, so that all together cost
 * least over the years they are kept, or release least, while the money for repairs and the shop's time both suffice.
 * Routine top-offs are no part of that money: they fall due whatever is decided about repairs.
 */

/** The quantity to minimize: expected cost including the carbon price, or kg CO₂e released. */
export const BUDGET_AIMS = ["cost", "co2e"] as const;
export type BudgetAim = (typeof BUDGET_AIMS)[number];

/** A choice made beforehand: this option, or any but these; no repair within the year either that may come up. */
export interface Lock {
  must?: OptionId | null;
  must_not?: readonly OptionId[];
  /** Of topping off, only topping off for ever is left. */
  for_ever?: boolean;
}

export interface BudgetVehicle {
  id: string;
  options: readonly FleetOption[];
  as_is: AsIs;
  depot?: string | null;
  lock?: Lock;
}

/** Money for repairs and the shop's time (jobs or hours; null: as much as is needed), for the year. */
export interface Limits {
  money: number;
  work: number | null;
}

export interface BudgetLimits extends Limits {
  /** Depots with money, and a shop, of their own; all others share the rest. */
  depots?: readonly (Limits & { depot: string })[];
  /** What a job takes of the shop's time; 1 each unless said. */
  workOf?: (option: OptionId) => number;
}

/** An option as the budget counts it. */
export interface PlannedOption extends FleetOption {
  /** Of this year's money, what repairs and tests take, with what follows from them. */
  repair_outlay: number;
  /** Of this year's money, what topping off takes where nothing else is done. */
  routine_outlay: number;
  /** At the shop. */
  work: number;
  /** Neither topped off nor repaired: there is no money or time for it. */
  not_done: boolean;
  /** Topped off without a repair later on. */
  for_ever: boolean;
}

/** Sums over the planned vehicles. */
export interface PlanTotals {
  expected_cost: number;
  /** This year, for repairs and tests. */
  repair_outlay: number;
  /** This year, for routine top-offs. */
  routine_outlay: number;
  co2e_kg: number;
}

export interface BudgetPlan {
  /** False when money or shop time does not reach for what has to be done: some choices are then `not_done`. */
  feasible: boolean;
  choices: { vehicle_id: string; option: PlannedOption }[];
  /** Vehicles without an option to choose: none is offered to them, or the locks left none. */
  left_out: { vehicle_id: string; because: "nothing-offered" | "locks" }[];
  totals: PlanTotals;
  /** Every planned vehicle topped off for ever: the baseline of the savings. */
  as_is: PlanTotals;
  /** Within `totals.repair_outlay`: for repairs that may come up in vehicles that are topped off now. */
  reserve: number;
  /** The plan that asks least money for repairs this year. */
  least_outlay: PlanTotals;
  /** The plan without a limit. */
  unlimited: PlanTotals;
  /** No plan within the limits has less of the aim; with `gap` above it, and that as a share of it. */
  bound: number;
  gap: number;
  gap_share: number;
  exact: boolean;
  /** The gain from one more unit of money: money saved over the years, or kg CO₂e avoided. */
  shadow_price: number;
  /**
   * Least cost (or kg) that an amount for repairs can reach with time enough at the shop, from the least outlay to
   * where more brings nothing; amounts ascend.
   */
  curve: { budget: number; least: number }[];
  /** The way from the least outlay to this plan, order by order, the one that gains most for its money first. */
  path: { vehicle_id: string; budget: number; least: number }[];
}

const CURVE_POINTS = 60;
/** Money. Choices that ask nearly the same of this year are no choice to a person, and slow to tell apart. */
const LEAST_ASKED_LESS = 1;

interface Planned {
  vehicle_id: string;
  depot: string | null;
  options: PlannedOption[];
  as_is: AsIs;
  settled: boolean;
}

/** The best plan within the limits. Vehicles keep their order. */
export function planBudget(vehicles: readonly BudgetVehicle[], limits: BudgetLimits, aim: BudgetAim): BudgetPlan {
  const left_out: BudgetPlan["left_out"] = [];
  const planned: Planned[] = [];
  const workOf = limits.workOf ?? (() => 1);
  for (const { id, options, as_is, lock, depot = null } of vehicles) {
    const offered = options.filter((one) => one.offered).flatMap((one) => plannedOptions(one, as_is, workOf));
    const open = offered.filter((one) => allows(lock, one));
    const settled = lock?.must != null;
    if (open.length > 0) planned.push({ vehicle_id: id, depot, options: open, as_is, settled });
    else left_out.push({ vehicle_id: id, because: offered.length > 0 ? "locks" : "nothing-offered" });
  }
  const relaxed = relax(planned.map(({ options }) => options.map((one) => choiceOf(one, aim))));
  const chosenFrom = (chosen: Int32Array): PlannedOption[] => planned.map(({ options }, v) => options[chosen[v]!]!);

  const packed = packedByPurse(planned, limits, aim);
  const choices = planned.map(({ vehicle_id }, v) => ({ vehicle_id, option: packed.options[v]! }));
  const { value, bound } = packed;
  return {
    feasible: packed.feasible,
    choices,
    left_out,
    totals: totalsOf(packed.options),
    as_is: totalsOf(
      planned.map(({ as_is }) => ({ ...as_is, repair_outlay: 0, routine_outlay: as_is.outlay_first_year })),
    ),
    reserve: packed.options.reduce((sum, one) => sum + (isRoutine(one) ? one.repair_outlay : 0), 0),
    least_outlay: totalsOf(chosenFrom(relaxed.least.chosen)),
    unlimited: totalsOf(chosenFrom(pack(relaxed, Infinity)!.chosen)),
    bound,
    gap: value - bound,
    gap_share: value === bound ? 0 : (value - bound) / Math.abs(bound),
    exact: packed.exact,
    shadow_price: packed.multiplier,
    curve: thinned(frontier(relaxed)),
    path: packed.feasible ? pathOf(chosenFrom(relaxed.least.chosen), choices, aim) : [],
  };
}

/** What each choice adds to the plan of least outlay, summed up in the order of gain for money. */
function pathOf(least: readonly PlannedOption[], choices: BudgetPlan["choices"], aim: BudgetAim): BudgetPlan["path"] {
  let budget = least.reduce((sum, { repair_outlay }) => sum + repair_outlay, 0);
  let left = least.reduce((sum, one) => sum + aimedAt(one, aim), 0);
  return choices
    .map(({ vehicle_id, option }, v) => ({
      vehicle_id,
      added: option.repair_outlay - least[v]!.repair_outlay,
      saved: aimedAt(least[v]!, aim) - aimedAt(option, aim),
    }))
    .filter(({ added }) => added > 0)
    .sort((a, b) => b.saved / b.added - a.saved / a.added)
    .map(({ vehicle_id, added, saved }) => {
      budget += added;
      left -= saved;
      return { vehicle_id, budget, least: left };
    });
}

/** Each depot that has its own limits by itself, all others together. */
function packedByPurse(planned: readonly Planned[], limits: BudgetLimits, aim: BudgetAim) {
  const own = new Map((limits.depots ?? []).map((one) => [one.depot, one]));
  const by_purse = Map.groupBy(planned.keys(), (v) => own.get(planned[v]!.depot ?? "") ?? limits);
  const options: PlannedOption[] = Array.from({ length: planned.length });
  const all = { value: 0, bound: 0, multiplier: 0, exact: true, feasible: true };
  for (const [purse, members] of by_purse) {
    const those = Array.from(members, (v) => planned[v]!);
    const packing = packedWithin(those, purse, aim);
    members.forEach((v, i) => {
      options[v] = packing.chosen[i]!;
    });
    all.value += packing.value;
    all.bound += packing.bound;
    all.multiplier = Math.max(all.multiplier, packing.multiplier);
    all.exact &&= packing.exact;
    all.feasible &&= packing.feasible;
  }
  return { ...all, options };
}

function packedWithin(planned: readonly Planned[], limits: Limits, aim: BudgetAim) {
  const packed = packing(
    planned.map(({ options }) => options.map((one) => choiceOf(one, aim))),
    limits,
  );
  if (packed !== null)
    return { ...packed, feasible: true, chosen: planned.map(({ options }, v) => options[packed.chosen[v]!]!) };

  // What has to be done asks for more than there is: as many as possible, first those that a person settled.
  const costs = planned.map(({ options }) => options.map((one) => choiceOf(one, aim).value));
  const stakes = planned.map(({ as_is }, v) => {
    const values = [...costs[v]!, aimedAt(as_is, aim)];
    return Math.max(...values) - Math.min(...values);
  });
  const weighty = 1 + stakes.reduce((sum, one) => sum + one, 0);
  const widened = planned.map(({ options, as_is, settled }) => {
    if (options.some(({ repair_outlay, work }) => repair_outlay === 0 && work === 0)) return { options, penalty: 0 };
    return { options: [...options, notDone(as_is)], penalty: settled ? weighty * (planned.length + 1) : weighty };
  });
  const found = packing(
    widened.map(({ options, penalty }) =>
      options.map((one) => {
        const choice = choiceOf(one, aim);
        return one.not_done ? { ...choice, value: choice.value + penalty } : choice;
      }),
    ),
    { ...limits, money: Math.max(0, limits.money) },
  )!;
  const chosen = widened.map(({ options }, v) => options[found.chosen[v]!]!);
  const value = chosen.reduce((sum, one) => sum + choiceOf(one, aim).value, 0);
  return {
    chosen,
    value,
    bound: value - (found.value - found.bound),
    multiplier: 0,
    exact: found.exact,
    feasible: false,
  };
}

function packing(classes: readonly (readonly WorkChoice[])[], { money, work }: Limits): Packing | null {
  return work === null ? pack(relax(classes), money) : packWithin(classes, { weight: money, work });
}

/** The options for the budget. Topping off is there twice: for ever, and with the repair that it may end in. */
function plannedOptions(option: FleetOption, as_is: AsIs, workOf: (id: OptionId) => number): PlannedOption[] {
  const { id, outlay_first_year } = option;
  const plain = { ...option, repair_outlay: 0, routine_outlay: 0, work: 0, not_done: false, for_ever: false };
  if (id === "top-off") {
    const reserve = outlay_first_year - as_is.outlay_first_year;
    const ends = reserve > LEAST_ASKED_LESS ? reserve : 0;
    return [
      { ...plain, ...as_is, routine_outlay: as_is.outlay_first_year, for_ever: true },
      { ...plain, repair_outlay: ends, routine_outlay: Math.max(0, outlay_first_year - ends) },
    ];
  }
  if (id === "live-without") return [plain];
  return [{ ...plain, repair_outlay: Math.max(0, outlay_first_year), work: workOf(id) }];
}

/** Left as it is: what it then costs and releases is what topping off for ever would, though nobody tops it off. */
function notDone(as_is: AsIs): PlannedOption {
  const nothing = { repair_outlay: 0, routine_outlay: 0, outlay_first_year: 0, work: 0, probability_cheapest: 0 };
  return { ...as_is, ...nothing, id: "top-off", offered: false, not_done: true, for_ever: true };
}

/** Whether a choice needs no work order. */
export function isRoutine({ id }: Pick<FleetOption, "id">): boolean {
  return id === "top-off" || id === "live-without";
}

function allows(lock: Lock | undefined, { id, for_ever, repair_outlay }: PlannedOption): boolean {
  if (lock === undefined) return true;
  if (lock.must != null) return lock.must === id;
  if (id === "top-off" && !for_ever && (lock.for_ever || (lock.must_not?.includes("repair") && repair_outlay > 0)))
    return false;
  return !(lock.must_not ?? []).includes(id);
}

/** What the aim makes of an option. */
export function aimedAt(
  { expected_cost_with_carbon, co2e_kg }: Pick<FleetOption, "expected_cost_with_carbon" | "co2e_kg">,
  aim: BudgetAim,
): number {
  return aim === "cost" ? expected_cost_with_carbon : co2e_kg;
}

function choiceOf(option: PlannedOption, aim: BudgetAim): WorkChoice {
  return { value: aimedAt(option, aim), weight: option.repair_outlay, work: option.work };
}

function totalsOf(chosen: readonly PlanTotals[]): PlanTotals {
  const totals = { expected_cost: 0, repair_outlay: 0, routine_outlay: 0, co2e_kg: 0 };
  for (const { expected_cost, repair_outlay, routine_outlay, co2e_kg } of chosen) {
    totals.expected_cost += expected_cost;
    totals.repair_outlay += repair_outlay;
    totals.routine_outlay += routine_outlay;
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
