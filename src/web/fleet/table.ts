import { type Context, Hono } from "hono";
import { FleetPage, type FleetPageProps, FleetShown } from "../../../views/fleet/fleet-page.tsx";
import { FleetTable, type FleetTableProps, TABLE_ID, type TableState } from "../../../views/fleet/fleet-table.tsx";
import { Progress, type ProgressProps } from "../../../views/fleet/progress.tsx";
import { picturesOf } from "../../core/fleet/pictures.ts";
import { watchDateAhead } from "../../core/fleet/row.ts";
import { isIsoDate, monthsAfter } from "../../core/quantities/dates.ts";
import { FLEET_SORTS, type FleetQuery, type FleetSort, type LowSpan } from "../../store/fleet-query.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile, xlsxFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { KeptFacts } from "../edge/kept-facts.ts";
import { ownPages, workspacePages } from "../edge/kept-pages.ts";
import { answerPage } from "../edge/page.ts";
import { wantsFragment } from "../edge/wants-fragment.ts";
import { searchedFor } from "../forms/posted-form.ts";
import { moneyAndUnits, todayIn } from "../workspace.ts";
import { beginReckoning, workOnFleet } from "./background.ts";
import { freshFrom, isUnderWay } from "./reckoning.ts";

type Granted = Context<AppEnv & GrantedEnv>;

const PER_PAGE = 50;
const MOST_PAGES = 10_000;
/** Ticked one by one: more do not fit an address. */
export const MOST_SELECTED = 300;
const USUAL_SORT = "worth" satisfies FleetSort;
/** Vehicles low within these are counted above the pictures. */
const SOON_MONTHS = 3;
const YEARS_PICTURED = 8;

/** Whether a run of the fleet is under way. */
const underWay = new KeptFacts(async (store) => isUnderWay(await store.reckoning.run()));

/** The table of the fleet, its reckoning, and its export. */
export function fleetTableRoutes(deps: Deps) {
  const kept = workspacePages(deps);
  return new Hono<AppEnv>()
    .get("/fleet", requireRole("viewer"), async (c) => {
      const { store } = c.var;
      if (wantsFragment(c)) {
        const workspace = await store.settings.get();
        c.header("HX-Push-Url", addressOf("/fleet", stateOf(c)));
        // Another page or order of the same vehicles changes the table alone.
        if (c.req.header("HX-Target")?.endsWith(`#${TABLE_ID}`))
          return c.html(FleetTable(await tableProps(c, workspace)));
        return c.html(FleetShown(await fleetProps(deps, c, workspace)));
      }
      // What is under way goes on with each look at it.
      if (await underWay.of(ownPages(deps, c), store, await store.stamp()))
        return answerPage(c, FleetPage(await fleetProps(deps, c, await store.settings.get())));
      return kept(c, async (workspace) => FleetPage(await fleetProps(deps, c, workspace)));
    })
    .get("/fleet.csv", requireRole("viewer"), async (c) => {
      const { header, lines } = await fleetSheet(c);
      return csvFile(c, "fleet", csvOf(header, lines));
    })
    .get("/fleet.xlsx", requireRole("viewer"), async (c) => {
      const { header, lines } = await fleetSheet(c);
      return xlsxFile(c, "fleet", [header, ...lines]);
    })
    .get("/fleet/progress", requireRole("viewer"), async (c) => {
      const { store, access } = c.var;
      const workspace = await store.settings.get();
      const progress = await progressOf(deps, store, workspace, mayAct(access.role, "editor"));
      if (!wantsFragment(c)) return c.redirect("/fleet", 303);
      // The table appears when the run is done: then the whole page is replaced.
      if (!isUnderWay(progress.run)) c.header("HX-Refresh", "true");
      return c.html(Progress(progress));
    })
    .post("/fleet/reckoning", requireRole("editor"), async (c) => {
      const { store } = c.var;
      await beginReckoning(deps, store, await store.settings.get());
      return c.redirect("/fleet", 303);
    })
    .post("/fleet/reckoning/stop", requireRole("editor"), async (c) => {
      await c.var.store.reckoning.cancel();
      return c.redirect("/fleet", 303);
    });
}

async function tableProps(c: Granted, workspace: Workspace): Promise<FleetTableProps> {
  const { store, access } = c.var;
  const state = stateOf(c);
  const query = queryOf(state);
  const [books, ages, rows, totals] = await Promise.all([
    store.priceBooks.own(),
    store.fleet.agesKnown(),
    store.fleet.list({ ...query, per_page: PER_PAGE }),
    store.fleet.totals(query),
  ]);
  return {
    state,
    rows,
    totals,
    pages: Math.max(1, Math.ceil(totals.vehicles / PER_PAGE)),
    address: (change) => addressOf("/fleet", { ...state, ...change }),
    manner: moneyAndUnits(workspace, books),
    ages,
    may_edit: mayAct(access.role, "editor"),
  };
}

/** The table with its pictures, its filters and the progress of its reckoning. */
async function fleetProps(deps: Deps, c: Granted, workspace: Workspace): Promise<FleetPageProps> {
  const { store, access } = c.var;
  const state = stateOf(c);
  const query = queryOf(state);
  const today = todayIn(workspace, deps.now());
  const progress = await progressOf(deps, store, workspace, mayAct(access.role, "editor"));
  const [table, pictured, years, choices, cohorts] = await Promise.all([
    tableProps(c, workspace),
    store.fleet.pictured(query),
    store.fleet.releaseYears(query, Number(today.slice(0, 4)) - YEARS_PICTURED),
    store.fleet.choices(),
    store.fleet.cohorts(),
  ]);
  const filtered = isFiltered(state);
  const pictures = picturesOf(pictured, { today, soon: monthsAfter(today, SOON_MONTHS) });
  const labels = await store.fleet.labels([...pictures.leaks, ...pictures.ranks].map(({ id }) => id));
  const lowAddress = (from: string | null, until: string | null) =>
    addressOf("/fleet", { ...state, low: `${from ?? ".."}/${until ?? ".."}`, page: 1 });
  return {
    ...table,
    pictures: { pictures, years, labels, today, lowAddress },
    filtered,
    all_vehicles: filtered ? (await store.fleet.totals()).vehicles : table.totals.vehicles,
    choices,
    cohorts,
    progress,
    asset: deps.asset,
  };
}

/** The progress of the run, which continues. */
async function progressOf(deps: Deps, store: WorkspaceStore, workspace: Workspace, may_edit: boolean) {
  if (isUnderWay(await store.reckoning.run())) await workOnFleet(deps, store);
  const run = await store.reckoning.run();
  const today = todayIn(workspace, deps.now());
  const due = isUnderWay(run) ? 0 : await store.reckoning.due(freshFrom(today), today);
  return { run, due, may_edit } satisfies ProgressProps;
}

/** The state of the table in an address; what makes no sense there is left out. */
function stateOf(c: Context): TableState {
  const said = c.req.query();
  const text = (name: string) => searchedFor(said[name]);
  const page = /^[1-9]\d{0,4}$/.test(said.page ?? "") ? Math.min(MOST_PAGES, Number(said.page)) : 1;
  const sort = FLEET_SORTS.find((one) => one === said.sort) ?? USUAL_SORT;
  return {
    search: text("q"),
    fleet_group: text("group"),
    depot: text("depot"),
    refrigerant: text("refrigerant"),
    verdict: text("answer"),
    low: spanOf(text("low")) === null ? "" : text("low"),
    sort,
    descending: said.order === undefined ? sort === USUAL_SORT : said.order === "descending",
    page,
    selected: [...new Set(c.req.queries("v") ?? [])]
      .filter((id) => id !== "" && id.length <= 64)
      .slice(0, MOST_SELECTED),
    all_selected: said.all === "yes",
  };
}

/** The vehicles that are ticked, or all that the filters leave: at most `MOST_SELECTED` ids, and how many more. */
export async function chosenIn(c: Granted): Promise<{ ids: string[]; left_out: number }> {
  const { store } = c.var;
  const state = stateOf(c);
  if (!state.all_selected) return { ids: [...state.selected], left_out: 0 };
  const rows = await store.fleet.list({ ...queryOf(state), page: 1, per_page: MOST_SELECTED });
  const { vehicles } = await store.fleet.totals(queryOf(state));
  return { ids: rows.map(({ id }) => id), left_out: vehicles - rows.length };
}

function queryOf({ sort, low, ...state }: TableState): FleetQuery {
  return { ...state, low: spanOf(low), sort: sort as FleetSort };
}

/** Days as `2026-12-01/2026-12-31`, `..` for an open end; null for anything else. */
function spanOf(text: string): LowSpan | null {
  const [, from, until] = /^(\.\.|\d{4}-\d\d-\d\d)\/(\.\.|\d{4}-\d\d-\d\d)$/.exec(text) ?? [];
  const isDay = (day: string | undefined) => day === ".." || (day !== undefined && isIsoDate(day));
  if (!isDay(from) || !isDay(until)) return null;
  return { from: from === ".." ? null : from!, until: until === ".." ? null : until! };
}

function isFiltered({ search, fleet_group, depot, refrigerant, verdict, low }: TableState): boolean {
  return [search, fleet_group, depot, refrigerant, verdict, low].some(Boolean);
}

/** The address of a table state, without default values. */
function addressOf(path: string, state: TableState): string {
  const usual = state.sort === USUAL_SORT;
  const said = Object.entries({
    q: state.search,
    group: state.fleet_group,
    depot: state.depot,
    refrigerant: state.refrigerant,
    answer: state.verdict,
    low: state.low,
    sort: usual ? "" : state.sort,
    order: state.descending === usual ? "" : state.descending ? "descending" : "ascending",
    page: state.page === 1 ? "" : String(state.page),
    all: state.all_selected ? "yes" : "",
  }).filter(([, value]) => value !== "");
  for (const id of state.selected) said.push(["v", id]);
  return said.length === 0 ? path : `${path}?${new URLSearchParams(said)}`;
}

/** The vehicles that are ticked, else all that the filters show. */
async function rowsToSave(c: Granted): Promise<FleetTableProps["rows"]> {
  const { store } = c.var;
  const state = stateOf(c);
  const query = queryOf(state);
  if (state.selected.length > 0 && !state.all_selected) return store.fleet.some(state.selected);
  const totals = await store.fleet.totals(query);
  return store.fleet.list({ ...query, page: 1, per_page: totals.vehicles });
}

/** The table for a spreadsheet: unrounded, amounts in g, money a year in the workspace's currency. */
async function fleetSheet(c: Granted) {
  const [rows, terms] = await Promise.all([rowsToSave(c), c.var.store.fleetTerms.all()]);
  const of_depot = new Map(terms.flatMap((one) => (one.scope === "depot" ? [[one.name, one.terms]] : [])));
  const header = [
    "vehicle",
    "group",
    "depot",
    "depot_climate",
    "depot_place",
    "refrigerant",
    "nameplate_g",
    "model_year",
    "odometer_km",
    "odometer_read_on",
    "answer",
    "chance_cheapest",
    "leak_g_per_year",
    "leak_g_per_year_p05",
    "leak_g_per_year_p95",
    "charge_now_g",
    "low_now",
    "low_again_p05",
    "low_again_p50",
    "low_again_p95",
    "watch_date",
    "cost_per_year_top_off",
    "cost_per_year_answer",
    "release_g_per_year_top_off",
    "release_g_per_year_answer",
    "co2e_kg_per_year_top_off",
    "co2e_kg_per_year_answer",
    "share_from_own_log",
    "prior_ln_x_mean",
    "prior_ln_x_sd",
    "as_of",
  ];
  const lines = rows.map(({ label, fleet_group, depot, refrigerant, nameplate_g, model_year, odometer, reckoned }) => {
    const age = [model_year, odometer?.km ?? null, odometer?.on ?? null];
    const { climate = null, place = null } = of_depot.get(depot ?? "") ?? {};
    const vehicle = [label, fleet_group, depot, climate, place, refrigerant, nameplate_g, ...age];
    if (reckoned === null) return [...vehicle, ...header.slice(vehicle.length).map(() => null)];
    const { leak_fraction, charge_now_g, next_low, likely_low, low_now } = reckoned.answer;
    return [
      ...vehicle,
      reckoned.verdict,
      reckoned.sure,
      reckoned.leak_g_per_year,
      leak_fraction.p05 * nameplate_g,
      leak_fraction.p95 * nameplate_g,
      charge_now_g.mean,
      low_now ? "yes" : "no",
      likely_low.p05,
      next_low.p50,
      likely_low.p95,
      watchDateAhead(reckoned),
      reckoned.cost_as_is,
      reckoned.cost_best,
      reckoned.release_as_is_g,
      reckoned.release_best_g,
      reckoned.co2e_as_is_kg,
      reckoned.co2e_best_kg,
      reckoned.own_share,
      reckoned.answer.prior.ln_x_mean,
      reckoned.answer.prior.ln_x_sd,
      reckoned.as_of,
    ];
  });
  return { header, lines };
}
