import { Hono } from "hono";
import { PAGE_FORMAT } from "../../../data/number-formats.ts";
import { BudgetPage, type BudgetPageProps, type WorkOrder } from "../../../views/fleet/budget-page.tsx";
import type { FleetOption } from "../../core/fleet/answer.ts";
import {
  BUDGET_AIMS,
  type BudgetAim,
  type BudgetPlan,
  type BudgetVehicle,
  isRoutine,
  type Lock,
  planBudget,
} from "../../core/fleet/budget.ts";
import type { RepairLock } from "../../core/fleet/row.ts";
import { mainUnits, parseAmount, withoutSymbol } from "../../core/quantities/money.ts";
import { type Unreadable, unreadable } from "../../core/quantities/typed-number.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import { requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf } from "../forms/posted-form.ts";
import { moneyAndUnits } from "../workspace.ts";

const ORDERS_PER_PAGE = 100;
const NEXT_SHOWN = 10;
const MOST_MONEY = 1e9;

type Candidate = Awaited<ReturnType<WorkspaceStore["fleet"]["options"]>>[number];

/** How far a repair budget goes, the work orders, and choices settled beforehand. */
export function fleetBudgetRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/budget", requireRole("viewer"), async (c) => {
      const { store, access } = c.var;
      const { budget = "", aim: aim_said, page: page_said = "1" } = c.req.query();
      const aim = aimOf(aim_said);
      const [workspace, books, candidates, locks] = await Promise.all([
        store.settings.get(),
        store.priceBooks.own(),
        store.fleet.options(),
        store.fleet.locks(),
      ]);
      const typed = moneyOf(budget, workspace);
      const amount = typeof typed === "number" ? typed : null;
      const errors = typed === null || typeof typed === "number" ? [] : [{ field: "budget", message: typed.message }];
      const plan = amount === null ? null : planBudget(withLocks(candidates, locks), amount, aim);
      const orders = plan === null ? [] : workOrders(plan, candidates, locks);
      const pages = Math.max(1, Math.ceil(orders.length / ORDERS_PER_PAGE));
      const page = Math.min(pages, /^[1-9]\d{0,4}$/.test(page_said) ? Number(page_said) : 1);
      const said = (more: Record<string, string>) => new URLSearchParams({ budget, aim, ...more }).toString();
      const props: BudgetPageProps = {
        budget,
        aim,
        errors,
        plan,
        budget_amount: amount ?? 0,
        orders: orders.slice((page - 1) * ORDERS_PER_PAGE, page * ORDERS_PER_PAGE),
        orders_count: orders.length,
        page,
        pages,
        next_in_line: plan === null ? [] : nextInLine(plan, candidates, locks, aim),
        locked: candidates.flatMap((vehicle) => {
          const lock = locks.get(vehicle.id);
          return lock === undefined ? [] : [{ vehicle, lock }];
        }),
        reckoned: candidates.length,
        address: (number) => `/fleet/budget?${said(number === 1 ? {} : { page: String(number) })}`,
        csv: `/fleet/budget.csv?${said({})}`,
        manner: moneyAndUnits(workspace, books),
        may_edit: mayAct(access.role, "editor"),
        asset: deps.asset,
      };
      c.status(errors.length > 0 ? 422 : 200);
      return answerPage(c, BudgetPage(props));
    })
    .get("/fleet/budget.csv", requireRole("viewer"), async (c) => {
      const { store } = c.var;
      const { budget = "", aim } = c.req.query();
      const [workspace, candidates, locks] = await Promise.all([
        store.settings.get(),
        store.fleet.options(),
        store.fleet.locks(),
      ]);
      const typed = moneyOf(budget, workspace);
      const plan = planBudget(withLocks(candidates, locks), typeof typed === "number" ? typed : 0, aimOf(aim));
      return csvFile(c, "work-orders", ordersCsv(workOrders(plan, candidates, locks)));
    })
    .post("/fleet/locks", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const said = form.get("repair");
      await c.var.store.fleet.lock(form.get("vehicle") ?? "", said === "must" || said === "must-not" ? said : null);
      return c.redirect(withinFleet(form.get("back") ?? "") ?? "/fleet/budget", 303);
    });
}

function aimOf(said: string | undefined): BudgetAim {
  return BUDGET_AIMS.find((aim) => aim === said) ?? "cost";
}

/** An amount as people type it: `25000`, `$25,000`, `25k`; null for none, a message for what is no amount. */
function moneyOf(text: string, { currency }: Pick<Workspace, "currency">): number | null | Unreadable {
  if (text.trim() === "") return null;
  const thousands = /^(.*\d)\s*k$/i.exec(withoutSymbol(text, currency));
  const amount = parseAmount(thousands?.[1] ?? text, currency, PAGE_FORMAT);
  if (!amount.ok) return unreadable("Enter an amount of money, like 25000 or 25k");
  const money = mainUnits(amount.scaled, currency) * (thousands === null ? 1 : 1000);
  return money <= MOST_MONEY ? money : unreadable("That is too large. Check the number");
}

const REPAIRS = ["repair", "dye-test", "electronic-test"] as const;

function withLocks(candidates: readonly Candidate[], locks: ReadonlyMap<string, RepairLock>): BudgetVehicle[] {
  return candidates.map(({ id, options, as_is }) => {
    const lock = lockOf(locks.get(id));
    return lock === null ? { id, options, as_is } : { id, options, as_is, lock };
  });
}

/** A test may lead to a repair, so a vehicle that must not be repaired is not tested either. */
function lockOf(lock: RepairLock | undefined): Lock | null {
  if (lock === undefined) return null;
  return lock === "must" ? { must: "repair" } : { must_not: REPAIRS };
}

/** Work orders other than topping off, largest saving first. */
function workOrders(
  plan: BudgetPlan,
  candidates: readonly Candidate[],
  locks: ReadonlyMap<string, RepairLock>,
): WorkOrder[] {
  const by_id = new Map(candidates.map((candidate) => [candidate.id, candidate]));
  return plan.choices
    .filter(({ option }) => !isRoutine(option))
    .map(({ vehicle_id, option }) => orderOf(by_id.get(vehicle_id)!, option, locks))
    .sort((a, b) => b.saves - a.saves || (a.vehicle.label < b.vehicle.label ? -1 : 1));
}

function orderOf(candidate: Candidate, option: FleetOption, locks: ReadonlyMap<string, RepairLock>): WorkOrder {
  const { options: _, as_is, ...vehicle } = candidate;
  return {
    vehicle,
    option,
    saves: as_is.expected_cost - option.expected_cost,
    avoids_kg: as_is.co2e_kg - option.co2e_kg,
    lock: locks.get(vehicle.id) ?? null,
  };
}

/** For each vehicle whose choice could be better, the step that gains most for its money. */
function nextInLine(
  plan: BudgetPlan,
  candidates: readonly Candidate[],
  locks: ReadonlyMap<string, RepairLock>,
  aim: BudgetAim,
): WorkOrder[] {
  const by_id = new Map(candidates.map((candidate) => [candidate.id, candidate]));
  const value = (option: FleetOption) => (aim === "cost" ? option.expected_cost_with_carbon : option.co2e_kg);
  const steps = plan.choices.flatMap(({ vehicle_id, option: now }) => {
    const candidate = by_id.get(vehicle_id)!;
    if (locks.has(vehicle_id)) return [];
    return candidate.options
      .filter(
        (one) =>
          !isRoutine(one) && one.offered && one.outlay_first_year > now.outlay_first_year && value(one) < value(now),
      )
      .map((option) => ({
        candidate,
        option,
        worth: (value(now) - value(option)) / (option.outlay_first_year - now.outlay_first_year),
      }))
      .sort((a, b) => b.worth - a.worth)
      .slice(0, 1);
  });
  return steps
    .sort((a, b) => b.worth - a.worth)
    .slice(0, NEXT_SHOWN)
    .map(({ candidate, option }) => orderOf(candidate, option, locks));
}

/** Work orders for a spreadsheet; money in the workspace's currency. */
function ordersCsv(orders: readonly WorkOrder[]): string {
  return csvOf(
    [
      "vehicle",
      "group",
      "depot",
      "refrigerant",
      "nameplate_g",
      "do",
      "money_this_year",
      "saves_over_the_years",
      "co2e_avoided_kg",
      "settled",
    ],
    orders.map(({ vehicle, option, saves, avoids_kg, lock }) => [
      vehicle.label,
      vehicle.fleet_group,
      vehicle.depot,
      vehicle.refrigerant,
      vehicle.nameplate_g,
      option.id,
      option.outlay_first_year,
      saves,
      avoids_kg,
      lock,
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
