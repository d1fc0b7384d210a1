import { type OrderOfVehicle, type OrderOption, stands, takes } from "../../core/fleet/order.ts";
import { monthsLeft } from "../../core/fleet/work-months.ts";
import { type Candidate, type PlanTerms, planYear, type StandingOrder } from "../../core/fleet/year-plan.ts";
import { Problem } from "../../core/problem.ts";
import { Conflict } from "../../store/errors.ts";
import type { PlannedOrder } from "../../store/fleet-plans.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { submitKeyOf, versionOf } from "../forms/posted-form.ts";

/**
 * Plans a year within its terms and saves it. Orders that are done or held stay, and `carried` ones of the year before
 * come first.
 */
export async function savePlan(
  store: WorkspaceStore,
  terms: PlanTerms,
  { currency, today, form }: { currency: string; today: string; form: URLSearchParams },
  carried: readonly OrderOfVehicle[] = [],
): Promise<"saved" | "overtaken"> {
  const months = monthsLeft(terms.year, today);
  const [first] = months;
  if (first === undefined) throw new Problem("invalid", `${terms.year} is over. Plan ${today.slice(0, 4)} instead.`);
  // The version stands for what is read here: whoever changes an order in between is told.
  const [plan, orders, candidates, locks] = await Promise.all([
    store.fleetPlans.find(terms.year),
    store.fleetPlans.orders(terms.year),
    store.fleet.options(),
    store.fleet.locks(),
  ]);
  const version = versionOf(form);
  if ((plan?.version ?? 0) !== version) return "overtaken";
  const standing = orders.filter(stands);
  const taken = new Set(standing.map(({ vehicle_id }) => vehicle_id));
  const again = carried
    .filter(({ vehicle_id }) => !taken.has(vehicle_id))
    .map((order) => carriedOver(order, candidates, first));
  const planned = planYear(candidates, locks, terms, months, [...standing.map(asStanding), ...again.map(asStanding)]);
  const made = planned.orders.map(
    ({ vehicle, option, month, saves, avoids_kg }): PlannedOrder => ({
      vehicle_id: vehicle.id,
      option: option.id as OrderOption,
      price: option.repair_outlay,
      month: month!,
      depot: vehicle.depot,
      saves,
      avoids_kg,
      held: false,
      carried_from: null,
    }),
  );
  const { year, ...rest } = terms;
  const change = store.fleetPlans.save(
    { year, terms: rest, currency },
    [...again, ...made],
    version,
    submitKeyOf(form),
  );
  return (await unlessOvertaken(change)) instanceof Conflict ? "overtaken" : "saved";
}

function asStanding(order: PlannedOrder & { paid?: number | null }): StandingOrder {
  const { vehicle_id, depot, option, month } = order;
  return { vehicle_id, depot, option, month, price: takes({ price: order.price, paid: order.paid ?? null }) };
}

/** An order of the year before, at the price that it has now where that is known. */
function carriedOver(order: OrderOfVehicle, candidates: readonly Candidate[], month: string): PlannedOrder {
  const { vehicle_id, option, saves, avoids_kg, vehicle } = order;
  const now = candidates.find(({ id }) => id === vehicle_id);
  const offered = now?.options.find((one) => one.id === option && one.offered);
  return {
    ...{ vehicle_id, option, month, depot: vehicle.depot, held: true, carried_from: order.carried_from ?? order.year },
    price: offered === undefined ? order.price : Math.max(0, offered.outlay_first_year),
    saves: offered === undefined ? saves : now!.as_is.expected_cost - offered.expected_cost,
    avoids_kg: offered === undefined ? avoids_kg : now!.as_is.co2e_kg - offered.co2e_kg,
  };
}
