import { type Context, Hono } from "hono";
import { PlanPage, type PlanPageProps, type ShownOrder } from "../../../views/fleet/plan-page.tsx";
import {
  type FleetOrder,
  type FleetPlan,
  type OrderOfVehicle,
  type OrderOption,
  type RecordedWork,
  stands,
  takes,
} from "../../core/fleet/order.ts";
import { monthsLeft } from "../../core/fleet/work-months.ts";
import { type Candidate, type PlanTerms, planYear, type StandingOrder } from "../../core/fleet/year-plan.ts";
import { Problem } from "../../core/problem.ts";
import { dayNumber } from "../../core/quantities/dates.ts";
import { Conflict } from "../../store/errors.ts";
import type { PlannedOrder } from "../../store/fleet-plans.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { Refusals, readDay } from "../forms/form-reading.ts";
import { formOf, newSubmitKey, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { isEmpty } from "../forms/typed-values.ts";
import { dayContextOf, moneyAndUnits, todayIn } from "../workspace.ts";
import { fieldsOf, planFields, planQuery, readPlanTerms, typedSum } from "./plan-request.ts";

type Granted = Context<AppEnv & GrantedEnv>;

/** An entry of the log belongs to an order that was ticked off within so many days of it. */
const SAME_WORK_DAYS = 14;

/** The plan of a year that is kept: orders ticked off, the rest planned anew, the next year begun from it. */
export function fleetPlanRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/plan", requireRole("viewer"), (c) => show(c, yearOf(c.req.query("year"))))
    .get("/fleet/plan.csv", requireRole("viewer"), async (c) => {
      const found = await kept(c, yearOf(c.req.query("year")));
      if (found === null) return c.redirect("/fleet/plan", 303);
      const { plan, orders } = found;
      return csvFile(c, `work-orders-${plan.year}`, ordersCsv(orders, plan.currency));
    })
    .post("/fleet/plan", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const { store } = c.var;
      const { currency, today } = await manner(c);
      const { depots } = await store.fleet.choices();
      const { terms, errors } = readPlanTerms(planFields(form, depots, Number(today.slice(0, 4))), currency);
      if (terms === null)
        throw new Problem("invalid", errors[0]?.message ?? "Say how much money there is for repairs.");
      return saved(c, terms.year, await save(store, terms, { currency, today, form }));
    })
    .post("/fleet/plan/again", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const found = await kept(c, yearOf(form.get("year") ?? undefined));
      if (found === null) return c.redirect("/fleet/plan", 303);
      const { plan } = found;
      const { currency, today } = await manner(c);
      const terms = { ...plan.terms, year: plan.year };
      return saved(c, plan.year, await save(c.var.store, terms, { currency, today, form }));
    })
    .post("/fleet/plan/next", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const found = await kept(c, yearOf(form.get("year") ?? undefined));
      if (found === null) return c.redirect("/fleet/plan", 303);
      const { plan, orders } = found;
      const { currency, today } = await manner(c);
      const terms = { ...plan.terms, year: plan.year + 1 };
      const carried = orders.filter(({ done_on, archived }) => done_on === null && !archived);
      return saved(c, terms.year, await save(c.var.store, terms, { currency, today, form }, carried));
    })
    .post("/fleet/plan/orders/:id", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const { fleetPlans } = c.var.store;
      const id = c.req.param("id");
      const order = await fleetPlans.order(id);
      const version = versionOf(form);
      const key = submitKeyOf(form);
      const say = form.get("say");
      let change: Promise<void>;
      if (say === "done") {
        const read = await readDone(c, form, order);
        if (!read.ok) return show(c, order.year, { open: { id, fields: read.fields, errors: read.errors } });
        change = fleetPlans.tickOff(id, version, read.done, key);
      } else if (say === "open") change = fleetPlans.takeBack(id, version, key);
      else change = fleetPlans.hold(id, version, say === "hold", key);
      const overtaken = (await unlessOvertaken(change)) instanceof Conflict;
      if (overtaken) return show(c, order.year, { overtaken: "order" });
      return c.redirect(`/fleet/plan?year=${order.year}#order-${id}`, 303);
    });

  async function manner(c: Granted) {
    const { store } = c.var;
    const [workspace, books] = await Promise.all([store.settings.get(), store.priceBooks.own()]);
    return {
      ...moneyAndUnits(workspace, books),
      today: todayIn(workspace, deps.now()),
      days: dayContextOf(workspace, deps.now()),
    };
  }

  async function readDone(c: Granted, form: URLSearchParams, order: FleetOrder) {
    const { currency, days } = await manner(c);
    const fields = { done_on: form.get("done_on") ?? "", paid: form.get("paid") ?? "" };
    const refusals = new Refusals();
    const day = readDay(fields.done_on, days);
    if (!("iso" in day)) refusals.refuse("done_on", day.message);
    else if (day.iso < `${order.year - 1}-01-01`) refusals.refuse("done_on", `Enter a day in ${order.year}`);
    const paid = isEmpty(fields.paid) ? null : typedSum(fields.paid, currency);
    if (paid !== null && typeof paid !== "number") refusals.refuse("paid", paid.message);
    const errors = refusals.inOrder(["done_on", "paid"]);
    if (errors.length > 0 || !("iso" in day)) return { ok: false as const, fields, errors };
    return { ok: true as const, done: { done_on: day.iso, paid: typeof paid === "number" ? paid : null } };
  }

  /** The plan of a year, or the latest where none is said; null without one. */
  async function kept(c: Granted, year: number | null): Promise<{ plan: FleetPlan; orders: OrderOfVehicle[] } | null> {
    const { fleetPlans } = c.var.store;
    const plans = await fleetPlans.list();
    const plan = year === null ? plans[0] : plans.find((one) => one.year === year);
    return plan === undefined ? null : { plan, orders: await fleetPlans.orders(plan.year) };
  }

  async function saved(c: Granted, year: number, outcome: "saved" | "overtaken") {
    if (outcome === "overtaken") return show(c, year, { overtaken: "plan" });
    return c.redirect(`/fleet/plan?year=${year}`, 303);
  }

  async function show(
    c: Granted,
    said_year: number | null,
    shown: Partial<Pick<PlanPageProps, "open" | "overtaken">> = {},
  ) {
    const { store, access } = c.var;
    const { today, days: _, ...said } = await manner(c);
    const plans = await store.fleetPlans.list();
    const this_year = Number(today.slice(0, 4));
    const years = plans.map((one) => one.year);
    // This year's where there is one; else the latest.
    const year = said_year ?? (years.includes(this_year) ? this_year : (years[0] ?? this_year));
    const plan = plans.find((one) => one.year === year) ?? null;
    const [orders, work, { depots }] = await Promise.all([
      plan === null ? [] : store.fleetPlans.orders(year),
      plan === null ? [] : store.fleetPlans.work(year),
      store.fleet.choices(),
    ]);
    const view = PlanPage({
      year,
      years,
      plan,
      orders: orders.map((order) => withWork(order, work, plan!.created_at)),
      edit: plan === null ? "/fleet/budget" : `/fleet/budget?${planQuery(fieldsOf({ ...plan.terms, year }, depots))}`,
      may_replan: monthsLeft(year, today).length > 0,
      today,
      submit_key: newSubmitKey(deps.random),
      manner: { ...said, currency: plan?.currency ?? said.currency },
      may_edit: mayAct(access.role, "editor"),
      open: null,
      overtaken: null,
      ...shown,
      asset: deps.asset,
    });
    c.status(shown.overtaken != null ? 409 : shown.open != null ? 422 : 200);
    return answerPage(c, view);
  }
}

function yearOf(said: string | undefined): number | null {
  return said !== undefined && /^2[01]\d\d$/.test(said) ? Number(said) : null;
}

/**
 * Plans a year within its terms and saves it. Orders that are done or held stay, and `carried` ones of the year before
 * come first.
 */
async function save(
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

/** An order with what the vehicle's records say of it: of one that is done, or of one that seems to be. */
function withWork(order: OrderOfVehicle, work: readonly RecordedWork[], planned_at: string): ShownOrder {
  const what = order.option === "repair" ? "repair" : "test";
  const of_vehicle = work.filter((one) => one.vehicle_id === order.vehicle_id);
  const { done_on } = order;
  const recorded =
    done_on === null
      ? of_vehicle.find((one) => one.what === what && one.date >= planned_at.slice(0, 10))
      : of_vehicle
          .filter((one) => Math.abs(dayNumber(one.date) - dayNumber(done_on)) <= SAME_WORK_DAYS)
          .sort((a, b) => Number(b.what === what) - Number(a.what === what))[0];
  return { ...order, recorded: recorded ?? null };
}

function ordersCsv(orders: readonly OrderOfVehicle[], currency: string): string {
  return csvOf(
    [
      ...["depot", "month", "vehicle", "group", "refrigerant", "nameplate_g", "do", "price", "currency"],
      ...["done_on", "paid", "held", "carried_from", "saves_over_the_years", "co2e_avoided_kg"],
    ],
    orders.map(({ vehicle, ...order }) => [
      ...[order.depot, order.month, vehicle.label, vehicle.fleet_group, vehicle.refrigerant, vehicle.nameplate_g],
      ...[order.option, order.price, currency, order.done_on, order.paid, order.held ? "yes" : "no"],
      ...[order.carried_from, order.saves, order.avoids_kg],
    ]),
  );
}
