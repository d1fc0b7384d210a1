import { type Context, Hono } from "hono";
import { GWP_DATA } from "../../../data/gwp.ts";
import { LEAK_THRESHOLDS } from "../../../data/leak-thresholds.ts";
import { AuditPage } from "../../../views/fleet/audit-page.tsx";
import type { AuditPageProps, AuditTotal, Flagged } from "../../../views/fleet/audit-shown.ts";
import { MODEL_VERSION } from "../../core/assess.ts";
import { leakThresholdOf, lossInterval, summedAudit } from "../../core/fleet/audit.ts";
import { type ClosedYear, correctionsOf } from "../../core/fleet/closing.ts";
import type { AuditRow } from "../../core/fleet/row.ts";
import { Problem } from "../../core/problem.ts";
import type { GwpSet } from "../../core/question/contract.ts";
import { co2eKg } from "../../core/refrigerant/gwp.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, versionOf } from "../forms/posted-form.ts";
import { todayIn } from "../workspace.ts";

type Granted = Context<AppEnv & GrantedEnv>;

const PER_PAGE = 100;

/** A year's refrigerant by refrigerant, depot, group and vehicle, its export, and the closing of a year. */
export function fleetAuditRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/audit", requireRole("viewer"), (c) => show(deps, c, yearOf(c.req.query("year"))))
    .get("/fleet/audit.csv", requireRole("viewer"), async (c) => {
      const { store } = c.var;
      const year = yearOf(c.req.query("year")) ?? (await store.fleet.auditYears())[0] ?? 0;
      const reported = await reportedYear(store, year);
      return csvFile(c, `refrigerant-${year}`, auditCsv(reported.rows, reported.gwp, reported.closed));
    })
    .post("/fleet/audit/closing", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const { store } = c.var;
      const year = yearOf(form.get("year") ?? undefined);
      const workspace = await store.settings.get();
      if (year === null || year >= Number(todayIn(workspace, deps.now()).slice(0, 4)))
        throw new Problem("invalid", "A year can be closed once it is over.");
      const gwp = workspace.plan?.gwp ?? "AR6";
      const closed = await store.fleetClosings.close(year, versionOf(form), { gwp, model_version: MODEL_VERSION });
      return closed ? c.redirect(`/fleet/audit?year=${year}`, 303) : show(deps, c, year, true);
    })
    .post("/fleet/audit/reopening", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const year = yearOf(form.get("year") ?? undefined);
      if (year === null) throw new Problem("invalid", "Say which year.");
      const opened = await c.var.store.fleetClosings.reopen(year, versionOf(form));
      return opened ? c.redirect(`/fleet/audit?year=${year}`, 303) : show(deps, c, year, true);
    });
}

async function show(deps: Deps, c: Granted, said_year: number | null, overtaken = false) {
  const { store, access } = c.var;
  const [workspace, years, closed_years] = await Promise.all([
    store.settings.get(),
    store.fleet.auditYears(),
    store.fleetClosings.years(),
  ]);
  const this_year = Number(todayIn(workspace, deps.now()).slice(0, 4));
  const all_years = [...new Set([...years, ...closed_years])].sort((a, b) => b - a);
  // The last whole year is what an audit asks about.
  const year = said_year ?? all_years.find((one) => one < this_year) ?? all_years[0] ?? this_year;
  const { rows, live, closed, closings, gwp, vehicles } = await reportedYear(store, year);
  const pages = Math.max(1, Math.ceil(rows.length / PER_PAGE));
  const page_said = c.req.query("page") ?? "1";
  const page = Math.min(pages, /^[1-9]\d{0,4}$/.test(page_said) ? Number(page_said) : 1);
  const props: AuditPageProps = {
    year,
    years: all_years,
    partial: year >= this_year,
    rows: rows.slice((page - 1) * PER_PAGE, page * PER_PAGE),
    page,
    pages,
    total: totalOf("All with a record", rows, gwp),
    by: [
      { name: "Refrigerant", sums: sumsBy(rows, ({ refrigerant }) => refrigerant, gwp) },
      { name: "Depot", sums: sumsBy(rows, ({ depot }) => depot ?? "No depot", gwp) },
      { name: "Group", sums: sumsBy(rows, ({ fleet_group }) => fleet_group ?? "No group", gwp) },
    ],
    without_record: Math.max(0, vehicles - rows.length),
    flagged: rows.flatMap(flaggedIn),
    rules: LEAK_THRESHOLDS,
    closed,
    closings,
    now: closed === null ? null : totalOf("Now", live, gwp),
    corrections:
      closed === null
        ? []
        : correctionsOf(
            rows.map((row) => ({ ...row, vehicle_id: row.id, number: closed.number })),
            live,
          ),
    model_version: closed?.model_version ?? MODEL_VERSION,
    gwp_name: `${GWP_DATA[gwp].name} (${GWP_DATA[gwp].years} years)`,
    gwp_source: GWP_DATA[gwp].source,
    overtaken,
    address: (number) => `/fleet/audit?year=${year}${number === 1 ? "" : `&page=${number}`}`,
    csv: `/fleet/audit.csv?year=${year}`,
    may_edit: mayAct(access.role, "editor"),
    asset: deps.asset,
  };
  c.status(overtaken ? 409 : 200);
  return answerPage(c, AuditPage(props));
}

/** A year as it was closed, or as it is calculated now; `live`: as it is now in any case. */
async function reportedYear(store: WorkspaceStore, year: number) {
  const [workspace, live, closings, totals] = await Promise.all([
    store.settings.get(),
    store.fleet.audit(year),
    store.fleetClosings.ofYear(year),
    store.fleet.totals(),
  ]);
  const [last] = closings;
  const closed: ClosedYear | null = last !== undefined && last.reopened_at === null ? last : null;
  const rows: AuditRow[] =
    closed === null
      ? live
      : (await store.fleetClosings.rows(closed)).map(({ vehicle_id, number: _, ...row }) => ({
          ...row,
          id: vehicle_id,
        }));
  const gwp: GwpSet = closed?.gwp ?? workspace.plan?.gwp ?? "AR6";
  return { rows, live, closed, closings, gwp, vehicles: closed?.vehicles ?? totals.vehicles };
}

function yearOf(said: string | undefined): number | null {
  return said !== undefined && /^(19|20)\d\d$/.test(said) ? Number(said) : null;
}

function totalOf(name: string, rows: readonly AuditRow[], gwp: GwpSet): AuditTotal {
  const sum = (of: (row: AuditRow) => number) => rows.reduce((total, row) => total + of(row), 0);
  return {
    name,
    vehicles: rows.length,
    nameplate_g: sum((row) => row.nameplate_g),
    lost_co2e_kg: sum((row) => co2eKg(gwp, row.refrigerant, row.lost_g)),
    net_co2e_kg: sum((row) => co2eKg(gwp, row.refrigerant, row.added_g - row.first_charge_g - row.recovered_g)),
    ...summedAudit(rows),
  };
}

function sumsBy(rows: readonly AuditRow[], of: (row: AuditRow) => string, gwp: GwpSet): AuditTotal[] {
  return Array.from(Map.groupBy(rows, of), ([name, members]) => totalOf(name, members, gwp)).sort((a, b) =>
    a.name < b.name ? -1 : 1,
  );
}

/** A vehicle whose charge a rule for large charges covers at the end of the year, or that passed its limit. */
function flaggedIn(row: AuditRow): Flagged[] {
  const rule = leakThresholdOf(row.refrigerant, row.nameplate_g, `${row.year}-12-31`);
  return rule === null ? [] : [{ row, rule }];
}

/** A year for a spreadsheet: amounts in g and kg, unrounded. */
function auditCsv(rows: readonly AuditRow[], gwp: GwpSet, closed: ClosedYear | null): string {
  return csvOf(
    [
      ...["vehicle", "group", "depot", "refrigerant", "nameplate_g", "year", "charged_g", "first_charge_g"],
      ...["recovered_g", "net_added_g", "lost_g_model", "lost_g_p05", "lost_g_p95", "lost_co2e_kg", "gwp_set"],
      ...["years_counted", "model_percent_per_year", "annualizing_percent_per_year", "rolling_percent_per_year"],
      ...["over_limit_on", "chronic_on", "model_version", "closed_at"],
    ],
    rows.map((row) => {
      const { p05_g, p95_g } = lossInterval(row.lost_g, row.lost_sd_g);
      return [
        ...[row.label, row.fleet_group, row.depot, row.refrigerant, row.nameplate_g, row.year, row.added_g],
        ...[row.first_charge_g, row.recovered_g, row.added_g - row.first_charge_g - row.recovered_g],
        ...[row.lost_g, p05_g, p95_g, co2eKg(gwp, row.refrigerant, row.lost_g), gwp, row.span_years],
        row.span_years > 0 ? (100 * row.lost_g) / row.nameplate_g / row.span_years : null,
        ...[row.annualizing_percent, row.rolling_percent, row.over_limit_on, row.chronic_on],
        ...[closed?.model_version ?? MODEL_VERSION, closed?.closed_at ?? null],
      ];
    }),
  );
}
