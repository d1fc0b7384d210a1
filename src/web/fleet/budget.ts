import { Hono } from "hono";
import { BudgetPage } from "../../../views/fleet/budget-page.tsx";
import type { BudgetPageProps } from "../../../views/fleet/budget-shown.ts";
import type { RepairLock } from "../../core/fleet/row.ts";
import { monthsLeft } from "../../core/fleet/work-months.ts";
import { planYear, type WorkOrder } from "../../core/fleet/year-plan.ts";
import { mayAct } from "../../store/roles.ts";
import { requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey } from "../forms/posted-form.ts";
import { moneyAndUnits, todayIn } from "../workspace.ts";
import { planFields, planQuery, readPlanTerms } from "./plan-request.ts";

const ORDERS_PER_PAGE = 100;
/** Vehicles shown of those that a search finds. */
const FOUND_SHOWN = 20;

/** How far money for repairs goes, the work orders, and choices settled beforehand. */
export function fleetBudgetRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/budget", requireRole("viewer"), async (c) => {
      const { store, access } = c.var;
      const said = new URL(c.req.url).searchParams;
      const [workspace, books, candidates, locks, terms_said, { depots }] = await Promise.all([
        store.settings.get(),
        store.priceBooks.own(),
        store.fleet.options(),
        store.fleet.locks(),
        store.fleetTerms.all(),
        store.fleet.choices(),
      ]);
      const manner = moneyAndUnits(workspace, books);
      const today = todayIn(workspace, deps.now());
      const fields = planFields(said, depots, Number(today.slice(0, 4)));
      const { terms, errors } = readPlanTerms(fields, manner.currency);
      const year = terms === null ? null : planYear(candidates, locks, terms, monthsLeft(terms.year, today));
      const kept = await store.fleetPlans.find(fields.year);
      const orders = year?.orders ?? [];
      const pages = Math.max(1, Math.ceil(orders.length / ORDERS_PER_PAGE));
      const page_said = said.get("page") ?? "1";
      const page = Math.min(pages, /^[1-9]\d{0,4}$/.test(page_said) ? Number(page_said) : 1);
      const query = planQuery(fields);
      const address = (more: Record<string, string>) => `?${new URLSearchParams([...query, ...Object.entries(more)])}`;
      const search = (said.get("find") ?? "").trim();
      const found = search === "" ? [] : await store.fleet.list({ search, per_page: FOUND_SHOWN });
      const props: BudgetPageProps = {
        fields,
        query,
        this_year: Number(today.slice(0, 4)),
        errors,
        terms,
        year,
        orders: orders.slice((page - 1) * ORDERS_PER_PAGE, page * ORDERS_PER_PAGE),
        page,
        pages,
        labels: new Map(candidates.map(({ id, label }) => [id, label])),
        locked: candidates.flatMap((vehicle) => {
          const lock = locks.get(vehicle.id);
          return lock === undefined ? [] : [{ vehicle, lock }];
        }),
        search,
        found: found.map((vehicle) => ({ vehicle, lock: locks.get(vehicle.id) ?? null })),
        reckoned: candidates.length,
        address: (number) => `/fleet/budget${address(number === 1 ? {} : { page: String(number) })}`,
        csv: `/fleet/budget.csv${address({})}`,
        fleet_terms: terms_said,
        kept_version: kept?.version ?? null,
        submit_key: newSubmitKey(deps.random),
        manner,
        may_edit: mayAct(access.role, "editor"),
        asset: deps.asset,
      };
      c.status(errors.length > 0 ? 422 : 200);
      return answerPage(c, BudgetPage(props));
    })
    .get("/fleet/budget.csv", requireRole("viewer"), async (c) => {
      const { store } = c.var;
      const [workspace, books, candidates, locks, { depots }] = await Promise.all([
        store.settings.get(),
        store.priceBooks.own(),
        store.fleet.options(),
        store.fleet.locks(),
        store.fleet.choices(),
      ]);
      const { currency } = moneyAndUnits(workspace, books);
      const today = todayIn(workspace, deps.now());
      const fields = planFields(new URL(c.req.url).searchParams, depots, Number(today.slice(0, 4)));
      const { terms } = readPlanTerms(fields, currency);
      const orders = terms === null ? [] : planYear(candidates, locks, terms, monthsLeft(terms.year, today)).orders;
      return csvFile(c, "work-orders", ordersCsv(orders, currency));
    })
    .post("/fleet/locks", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      await c.var.store.fleet.lock(form.get("vehicle") ?? "", lockOf(form.get("repair"), form.get("year")));
      return c.redirect(withinFleet(form.get("back") ?? "") ?? "/fleet/budget", 303);
    });
}

/** `always`, `never`, `not-this-year` with the year; anything else leaves it open. */
function lockOf(said: string | null, year: string | null): RepairLock | null {
  if (said === "always") return { repair: "must", year: null };
  if (said === "never") return { repair: "must-not", year: null };
  if (said === "not-this-year" && /^2[01]\d\d$/.test(year ?? "")) return { repair: "must-not", year: Number(year) };
  return null;
}

/** Work orders for a spreadsheet; money in the workspace's currency. */
function ordersCsv(orders: readonly WorkOrder[], currency: string): string {
  return csvOf(
    [
      ...[
        "vehicle",
        "group",
        "depot",
        "refrigerant",
        "nameplate_g",
        "do",
        "month",
        "low_by",
        "money_this_year",
        "currency",
      ],
      ...["saves_over_the_years", "co2e_avoided_kg", "settled"],
    ],
    orders.map(({ vehicle, option, saves, avoids_kg, lock, month, next_low }) => [
      ...[vehicle.label, vehicle.fleet_group, vehicle.depot, vehicle.refrigerant, vehicle.nameplate_g],
      ...[option.id, month, next_low, option.repair_outlay, currency],
      ...[saves, avoids_kg, lock?.repair ?? null],
    ]),
  );
}

/** An address of the fleet's pages as a header may hold it; null for one that leads elsewhere. */
function withinFleet(typed: string): string | null {
  const here = "http://here.invalid";
  const url = URL.parse(typed, here);
  if (url?.origin !== here || !url.pathname.startsWith("/fleet/")) return null;
  return url.pathname + url.search + url.hash;
}
