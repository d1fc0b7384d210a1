import { type Context, Hono } from "hono";
import type { ShownOrder } from "../../../views/fleet/plan-order.tsx";
import { PlanPage, type PlanPageProps } from "../../../views/fleet/plan-page.tsx";
import {
  type FleetOrder,
  type FleetPlan,
  monthsOf,
  type OrderOfVehicle,
  type RecordedWork,
} from "../../core/fleet/order.ts";
import { monthsLeft } from "../../core/fleet/work-months.ts";
import type { PlanTerms } from "../../core/fleet/year-plan.ts";
import { Problem } from "../../core/problem.ts";
import { dayNumber } from "../../core/quantities/dates.ts";
import { Conflict } from "../../store/errors.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { type DayContext, Refusals, readDay } from "../forms/form-reading.ts";
import { formOf, newSubmitKey, submitKeyOf, typedFields, versionOf } from "../forms/posted-form.ts";
import { isEmpty } from "../forms/typed-values.ts";
import { dayContextOf, moneyAndUnits, todayIn } from "../workspace.ts";
import { fieldsOf, planFields, planQuery, readPlanTerms, typedSum } from "./plan-request.ts";
import { savePlan } from "./plan-saving.ts";

type Granted = Context<AppEnv & GrantedEnv>;

interface KeptPlan {
  plan: FleetPlan;
  orders: OrderOfVehicle[];
}

/** An entry of the log belongs to an order that was ticked off within so many days of it. */
const SAME_WORK_DAYS = 14;

/** The plan of a year that is kept: orders ticked off, the rest planned anew, the next year begun from it. */
export function fleetPlanRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/plan", requireRole("viewer"), (c) => show(deps, c, yearOf(c.req.query("year"))))
    .get("/fleet/plan.csv", requireRole("viewer"), async (c) => {
      const found = await kept(c, c.req.query("year"));
      if (found === null) return c.redirect("/fleet/plan", 303);
      const { plan, orders } = found;
      return csvFile(c, `work-orders-${plan.year}`, ordersCsv(orders, plan.currency));
    })
    .post("/fleet/plan", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const { currency, today } = await mannerOf(deps, c);
      const { depots } = await c.var.store.fleet.choices();
      const { terms, errors } = readPlanTerms(planFields(form, depots, Number(today.slice(0, 4))), currency);
      if (terms === null)
        throw new Problem("invalid", errors[0]?.message ?? "Say how much money there is for repairs.");
      return saved(deps, c, form, terms);
    })
    .post("/fleet/plan/again", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const found = await kept(c, form.get("year"));
      if (found === null) return c.redirect("/fleet/plan", 303);
      const { plan } = found;
      return saved(deps, c, form, { ...plan.terms, year: plan.year });
    })
    .post("/fleet/plan/next", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const found = await kept(c, form.get("year"));
      if (found === null) return c.redirect("/fleet/plan", 303);
      const { plan, orders } = found;
      const carried = orders.filter(({ done_on, archived }) => done_on === null && !archived);
      return saved(deps, c, form, { ...plan.terms, year: plan.year + 1 }, carried);
    })
    .post("/fleet/plan/orders/:id", requireRole("editor"), (c) => changeOrder(deps, c, c.req.param("id")));
}

async function mannerOf(deps: Deps, c: Granted) {
  const { store } = c.var;
  const [workspace, books] = await Promise.all([store.settings.get(), store.priceBooks.own()]);
  return {
    ...moneyAndUnits(workspace, books),
    today: todayIn(workspace, deps.now()),
    days: dayContextOf(workspace, deps.now()),
  };
}

/** Ticks an order off, opens it again, moves it, holds it or lets it go. */
async function changeOrder(deps: Deps, c: Granted, id: string) {
  const form = await formOf(c);
  const { fleetPlans } = c.var.store;
  const order = await fleetPlans.order(id);
  const version = versionOf(form);
  const key = submitKeyOf(form);
  const say = form.get("say");
  let change: Promise<void>;
  if (say === "done") {
    const { currency, days } = await mannerOf(deps, c);
    const read = readDone(form, order, { currency, days });
    if (!read.ok) return show(deps, c, order.year, { open: { id, fields: read.fields, errors: read.errors } });
    change = fleetPlans.tickOff(id, version, read.done, key);
  } else if (say === "move") {
    const read = readMove(form, order, (await mannerOf(deps, c)).currency);
    if (!read.ok) return show(deps, c, order.year, { open: { id, fields: read.fields, errors: read.errors } });
    change = fleetPlans.move(id, version, read.moved, key);
  } else if (say === "open") change = fleetPlans.takeBack(id, version, key);
  else change = fleetPlans.hold(id, version, say === "hold", key);
  const overtaken = (await unlessOvertaken(change)) instanceof Conflict;
  if (overtaken) return show(deps, c, order.year, { overtaken: "order" });
  return c.redirect(`/fleet/plan?year=${order.year}#order-${id}`, 303);
}

/** When an order was done and what was paid, as typed. */
function readDone(form: URLSearchParams, { year }: FleetOrder, read: { currency: string; days: DayContext }) {
  const fields = typedFields(form, ORDER_FIELDS);
  const refusals = new Refusals();
  const day = readDay(fields.done_on, read.days);
  if (!("iso" in day)) refusals.refuse("done_on", day.message);
  else if (day.iso < `${year - 1}-01-01`) refusals.refuse("done_on", `Enter a day in ${year}`);
  const paid = isEmpty(fields.paid) ? null : typedSum(fields.paid, read.currency);
  if (paid !== null && typeof paid !== "number") refusals.refuse("paid", paid.message);
  const errors = refusals.inOrder(["done_on", "paid"]);
  if (errors.length > 0 || !("iso" in day)) return { ok: false as const, fields, errors };
  return { ok: true as const, done: { done_on: day.iso, paid: typeof paid === "number" ? paid : null } };
}

const ORDER_FIELDS = ["done_on", "paid", "month", "price"] as const;

/** Another month of the plan's year and another price, as typed. */
function readMove(form: URLSearchParams, { year }: FleetOrder, currency: string) {
  const fields = typedFields(form, ORDER_FIELDS);
  const refusals = new Refusals();
  const { month } = fields;
  if (!monthsOf(year).includes(month)) refusals.refuse("month", `Choose a month of ${year}`);
  const price = typedSum(fields.price, currency);
  if (typeof price !== "number") refusals.refuse("price", price.message);
  const errors = refusals.inOrder(ORDER_FIELDS);
  if (errors.length > 0 || typeof price !== "number") return { ok: false as const, fields, errors };
  return { ok: true as const, moved: { month, price } };
}

/** The plan of a year, or the latest where none is said; null without one. */
async function kept(c: Granted, said_year: string | null | undefined): Promise<KeptPlan | null> {
  const { fleetPlans } = c.var.store;
  const year = yearOf(said_year);
  const plans = await fleetPlans.list();
  const plan = year === null ? plans[0] : plans.find((one) => one.year === year);
  return plan === undefined ? null : { plan, orders: await fleetPlans.orders(plan.year) };
}

/** Plans within these terms, saves the plan and shows it. */
async function saved(
  deps: Deps,
  c: Granted,
  form: URLSearchParams,
  terms: PlanTerms,
  carried: readonly OrderOfVehicle[] = [],
) {
  const { currency, today } = await mannerOf(deps, c);
  const outcome = await savePlan(c.var.store, terms, { currency, today, form }, carried);
  if (outcome === "overtaken") return show(deps, c, terms.year, { overtaken: "plan" });
  return c.redirect(`/fleet/plan?year=${terms.year}`, 303);
}

async function show(
  deps: Deps,
  c: Granted,
  said_year: number | null,
  shown: Partial<Pick<PlanPageProps, "open" | "overtaken">> = {},
) {
  const { store, access } = c.var;
  const { today, days: _, ...said } = await mannerOf(deps, c);
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

function yearOf(said: string | null | undefined): number | null {
  return said != null && /^2[01]\d\d$/.test(said) ? Number(said) : null;
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
      ...["rests_on_group_alone", "model_year", "odometer_km", "odometer_read_on"],
    ],
    orders.map(({ vehicle, ...order }) => [
      ...[order.depot, order.month, vehicle.label, vehicle.fleet_group, vehicle.refrigerant, vehicle.nameplate_g],
      ...[order.option, order.price, currency, order.done_on, order.paid, order.held ? "yes" : "no"],
      ...[order.carried_from, order.saves, order.avoids_kg],
      ...[order.no_entries ? "yes" : "no", vehicle.model_year, vehicle.odometer?.km ?? null],
      vehicle.odometer?.on ?? null,
    ]),
  );
}
