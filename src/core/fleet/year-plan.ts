import type { OptionId } from "../question/contract.ts";
import type { FleetOption } from "./answer.ts";
import type { AsIs } from "./as-is.ts";
import {
  aimedAt,
  type BudgetAim,
  type BudgetPlan,
  isRoutine,
  type Limits,
  type Lock,
  type PlannedOption,
  planBudget,
} from "./budget.ts";
import type { FleetVehicle, RepairLock } from "./row.ts";
import { monthsOf, type Shop, workOf } from "./work-months.ts";

/** A year's repairs: what is to be done to which vehicle in which month, within money and shop time. */

/** What a person asks of a year's plan; money in the workspace's currency. */
export interface PlanTerms {
  year: number;
  /** For repairs and tests, all depots together. */
  budget: number;
  aim: BudgetAim;
  /** Null: the shop has time for all. */
  shop: Shop | null;
  /** Depots with money of their own, and a shop of their own where `a_month` says how much that does. */
  depots: readonly { depot: string; money: number; a_month: number | null }[];
}

/** The most of a plan's terms: money, jobs or hours a month, hours of a job. */
export const planBounds = { money: 1e9, a_month: 10_000, hours: 100 } as const;

/** What is known of a vehicle before it is planned. */
export interface Candidate extends FleetVehicle {
  options: readonly FleetOption[];
  as_is: AsIs;
  /** The day on which it is as likely as not low; null: not within 20 years. */
  next_low: string | null;
  /** Whether nothing is in its log, so that its leak is a guess from its group or its kind. */
  no_entries: boolean;
}

/** An order that stands: what is done, or held, while the rest is planned anew. */
export interface StandingOrder {
  vehicle_id: string;
  depot: string | null;
  option: OptionId;
  /** Paid where it is done, else planned. */
  price: number;
  month: string;
}

export interface WorkOrder {
  vehicle: FleetVehicle;
  option: PlannedOption;
  /** Against topping off for ever; below 0, it costs more. */
  saves: number;
  avoids_kg: number;
  /** `2027-03`; null for what is not done. */
  month: string | null;
  next_low: string | null;
  no_entries: boolean;
  lock: RepairLock | null;
}

/** A better choice that more money would pay for. */
export interface NextStep extends WorkOrder {
  /** Money more than what is planned for the vehicle. */
  price: number;
}

export interface DepotSum {
  depot: string | null;
  orders: number;
  repair_outlay: number;
  routine_outlay: number;
  saves: number;
  avoids_kg: number;
  /** Money of its own; null where it shares. */
  money: number | null;
}

export interface YearPlan {
  plan: BudgetPlan;
  /** By depot, then month, then how soon it runs low. */
  orders: WorkOrder[];
  not_done: WorkOrder[];
  by_depot: DepotSum[];
  /** Best first. */
  next_steps: NextStep[];
}

const NEXT_STEPS = 10;
const REPAIRS = ["repair", "dye-test", "electronic-test"] as const;

/** A test may lead to a repair, so a vehicle that must not be repaired is not tested either. */
function lockOf(lock: RepairLock | undefined, year: number): Lock | undefined {
  if (lock === undefined || (lock.year !== null && lock.year !== year)) return undefined;
  if (lock.repair === "must") return { must: "repair" };
  return { must_not: REPAIRS, for_ever: lock.year === null };
}

/** The money and time of a year: one purse for each depot with money of its own, "" for what the others share. */
class Purses {
  readonly #terms: PlanTerms;
  readonly #months: readonly string[];
  readonly #standing: readonly StandingOrder[];
  readonly own: ReadonlyMap<string, PlanTerms["depots"][number]>;

  constructor(terms: PlanTerms, months: readonly string[], standing: readonly StandingOrder[]) {
    this.#terms = terms;
    this.#months = months;
    this.#standing = standing;
    this.own = new Map(terms.depots.map((one) => [one.depot, one]));
  }

  of(depot: string | null): string {
    return depot !== null && this.own.has(depot) ? depot : "";
  }

  /** What an option takes of a month's work. */
  takes(option: OptionId): number {
    return this.#terms.shop === null ? 1 : workOf(this.#terms.shop, option);
  }

  #standingOf(purse: string): StandingOrder[] {
    return this.#standing.filter(({ depot }) => this.of(depot) === purse);
  }

  #aMonth(purse: string): number | null {
    return purse === "" ? (this.#terms.shop?.a_month ?? null) : this.own.get(purse)!.a_month;
  }

  /** What the standing orders leave of a purse. */
  left(purse: string): Limits {
    const { budget, depots } = this.#terms;
    const money = purse === "" ? budget - depots.reduce((sum, one) => sum + one.money, 0) : this.own.get(purse)!.money;
    const a_month = this.#aMonth(purse);
    const those = this.#standingOf(purse);
    const spent = those.reduce((sum, { price }) => sum + price, 0);
    const worked = those
      .filter(({ month }) => this.#months.includes(month))
      .reduce((sum, { option }) => sum + this.takes(option), 0);
    return {
      money: Math.max(0, money - spent),
      work: a_month === null ? null : Math.max(0, a_month * this.#months.length - worked),
    };
  }

  /** The month of each job of a purse, beside the standing orders. */
  monthsOf(purse: string, jobs: readonly { low: string | null; work: number }[]): string[] {
    const promised = new Map<string, number>();
    for (const { month, option } of this.#standingOf(purse))
      promised.set(month, (promised.get(month) ?? 0) + this.takes(option));
    return monthsOf(jobs, this.#months, this.#aMonth(purse), promised);
  }
}

/**
 * Plans `months` of the year (those that are not over) for all vehicles but those with a standing order, within what
 * these leave of money and time.
 */
export function planYear(
  candidates: readonly Candidate[],
  locks: ReadonlyMap<string, RepairLock>,
  terms: PlanTerms,
  months: readonly string[],
  standing: readonly StandingOrder[] = [],
): YearPlan {
  const { aim, year } = terms;
  const taken = new Set(standing.map(({ vehicle_id }) => vehicle_id));
  const open = candidates.filter(({ id }) => !taken.has(id));
  const purses = new Purses(terms, months, standing);
  const plan = planBudget(
    open.map(({ id, options, as_is, depot }) => {
      const lock = lockOf(locks.get(id), year);
      return lock === undefined ? { id, options, as_is, depot } : { id, options, as_is, depot, lock };
    }),
    {
      ...purses.left(""),
      depots: terms.depots.map(({ depot }) => ({ depot, ...purses.left(depot) })),
      workOf: (option) => purses.takes(option),
    },
    aim,
  );

  const by_id = new Map(open.map((one) => [one.id, one]));
  const orderOf = (id: string, option: PlannedOption, month: string | null): WorkOrder => {
    const { options: _, as_is, next_low, no_entries, ...vehicle } = by_id.get(id)!;
    return {
      vehicle,
      option,
      saves: as_is.expected_cost - option.expected_cost,
      avoids_kg: as_is.co2e_kg - option.co2e_kg,
      month,
      next_low,
      no_entries,
      lock: locks.get(id) ?? null,
    };
  };
  const jobs = plan.choices.filter(({ option }) => !isRoutine(option));
  const month_of = monthOfJobs(jobs, by_id, purses);
  return {
    plan,
    orders: jobs
      .map(({ vehicle_id, option }) => orderOf(vehicle_id, option, month_of.get(vehicle_id)!))
      .sort((a, b) => inOrder(a, b)),
    not_done: plan.choices
      .filter(({ option }) => option.not_done)
      .map(({ vehicle_id, option }) => orderOf(vehicle_id, option, null)),
    by_depot: byDepot(plan, by_id, purses.own),
    next_steps: nextSteps(plan, by_id, locks, aim).map(({ id, option, price }) => ({
      ...orderOf(id, option, null),
      price,
    })),
  };
}

/** The month of each job, by vehicle. */
function monthOfJobs(
  jobs: BudgetPlan["choices"],
  by_id: ReadonlyMap<string, Candidate>,
  purses: Purses,
): Map<string, string> {
  const month_of = new Map<string, string>();
  for (const [purse, those] of Map.groupBy(jobs, ({ vehicle_id }) => purses.of(by_id.get(vehicle_id)!.depot))) {
    const months = purses.monthsOf(
      purse,
      those.map(({ vehicle_id, option }) => ({ low: by_id.get(vehicle_id)!.next_low, work: option.work })),
    );
    those.forEach(({ vehicle_id }, i) => {
      month_of.set(vehicle_id, months[i]!);
    });
  }
  return month_of;
}

function inOrder(a: WorkOrder, b: WorkOrder): number {
  const key = ({ vehicle, month, next_low }: WorkOrder) =>
    [vehicle.depot ?? "\uffff", month ?? "", next_low ?? "9999", vehicle.label].join("\u0000");
  const [at_a, at_b] = [key(a), key(b)];
  return at_a < at_b ? -1 : at_a > at_b ? 1 : 0;
}

function byDepot(
  plan: BudgetPlan,
  by_id: ReadonlyMap<string, Candidate>,
  own: ReadonlyMap<string, { money: number }>,
): DepotSum[] {
  const depots = Map.groupBy(plan.choices, ({ vehicle_id }) => by_id.get(vehicle_id)!.depot);
  return Array.from(depots, ([depot, choices]) => {
    const sum: DepotSum = {
      depot,
      orders: 0,
      repair_outlay: 0,
      routine_outlay: 0,
      saves: 0,
      avoids_kg: 0,
      money: own.get(depot ?? "")?.money ?? null,
    };
    for (const { vehicle_id, option } of choices) {
      const { as_is } = by_id.get(vehicle_id)!;
      if (!isRoutine(option)) sum.orders++;
      sum.repair_outlay += option.repair_outlay;
      sum.routine_outlay += option.routine_outlay;
      sum.saves += as_is.expected_cost - option.expected_cost;
      sum.avoids_kg += as_is.co2e_kg - option.co2e_kg;
    }
    return sum;
  }).sort((a, b) => ((a.depot ?? "\uffff") < (b.depot ?? "\uffff") ? -1 : 1));
}

/** For each vehicle whose choice could be better, the step that gains most for its money. */
function nextSteps(
  plan: BudgetPlan,
  by_id: ReadonlyMap<string, Candidate>,
  locks: ReadonlyMap<string, RepairLock>,
  aim: BudgetAim,
) {
  const steps = plan.choices.flatMap(({ vehicle_id: id, option: now }) => {
    if (locks.has(id)) return [];
    return by_id
      .get(id)!
      .options.filter((one) => !isRoutine(one) && one.offered && aimedAt(one, aim) < aimedAt(now, aim))
      .map((option) => ({ option, price: option.outlay_first_year - now.repair_outlay }))
      .filter(({ price }) => price > 0)
      .map(({ option, price }) => ({
        id,
        price,
        option: {
          ...option,
          repair_outlay: option.outlay_first_year,
          routine_outlay: 0,
          work: 0,
          not_done: false,
          for_ever: false,
        },
        worth: (aimedAt(now, aim) - aimedAt(option, aim)) / price,
      }))
      .sort((a, b) => b.worth - a.worth)
      .slice(0, 1);
  });
  return steps.sort((a, b) => b.worth - a.worth).slice(0, NEXT_STEPS);
}
