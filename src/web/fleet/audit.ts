import { Hono } from "hono";
import { LEAK_THRESHOLDS } from "../../../data/leak-thresholds.ts";
import { AuditPage, type AuditSum, type Flagged } from "../../../views/fleet/audit-page.tsx";
import { auditFlags, leakThresholdOf, lossInterval, summedAudit } from "../../core/fleet/audit.ts";
import type { AuditRow } from "../../core/fleet/row.ts";
import { requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { moneyAndUnits, todayIn } from "../workspace.ts";

const PER_PAGE = 100;

/** `GET /fleet/audit?year=2025`: a year's refrigerant by vehicle and group, and its export. */
export function fleetAuditRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/audit", requireRole("viewer"), async (c) => {
      const { store } = c.var;
      const [workspace, books, years] = await Promise.all([
        store.settings.get(),
        store.priceBooks.own(),
        store.fleet.auditYears(),
      ]);
      const this_year = Number(todayIn(workspace, deps.now()).slice(0, 4));
      // The last whole year is what an audit asks about.
      const year = yearOf(c.req.query("year")) ?? years.find((one) => one < this_year) ?? years[0] ?? this_year;
      const rows = await store.fleet.audit(year);
      const pages = Math.max(1, Math.ceil(rows.length / PER_PAGE));
      const page_said = c.req.query("page") ?? "1";
      const page = Math.min(pages, /^[1-9]\d{0,4}$/.test(page_said) ? Number(page_said) : 1);
      const view = AuditPage({
        year,
        years,
        partial: year === this_year,
        rows: rows.slice((page - 1) * PER_PAGE, page * PER_PAGE),
        page,
        pages,
        groups: groupsOf(rows),
        total: sumOf(`All vehicles`, rows),
        flagged: flaggedOf(rows, year),
        rules: LEAK_THRESHOLDS,
        address: (number) => `/fleet/audit?year=${year}${number === 1 ? "" : `&page=${number}`}`,
        csv: `/fleet/audit.csv?year=${year}`,
        manner: moneyAndUnits(workspace, books),
        asset: deps.asset,
      });
      return answerPage(c, view);
    })
    .get("/fleet/audit.csv", requireRole("viewer"), async (c) => {
      const { store } = c.var;
      const year = yearOf(c.req.query("year")) ?? (await store.fleet.auditYears())[0] ?? 0;
      return csvFile(c, `refrigerant-${year}`, auditCsv(await store.fleet.audit(year)));
    });
}

function yearOf(said: string | undefined): number | null {
  return said !== undefined && /^(19|20)\d\d$/.test(said) ? Number(said) : null;
}

function sumOf(name: string, rows: readonly AuditRow[]): AuditSum {
  const nameplate_g = rows.reduce((sum, row) => sum + row.nameplate_g, 0);
  return { name, vehicles: rows.length, nameplate_g, ...summedAudit(rows) };
}

function groupsOf(rows: readonly AuditRow[]): AuditSum[] {
  const groups = Map.groupBy(rows, ({ fleet_group }) => fleet_group ?? "");
  return Array.from(groups, ([name, members]) => sumOf(name === "" ? "No group" : name, members)).sort((a, b) =>
    a.name < b.name ? -1 : 1,
  );
}

/** Vehicles whose charge a large-charge rule covers; the rule in force at the end of the year counts. */
function flaggedOf(rows: readonly AuditRow[], year: number): Flagged[] {
  return rows.flatMap((row) => {
    const rule = leakThresholdOf(row.refrigerant, row.nameplate_g, `${year}-12-31`);
    return rule === null ? [] : [{ row, rule, ...auditFlags(row, row.nameplate_g, rule) }];
  });
}

/** A year for a spreadsheet: amounts in g, unrounded. */
function auditCsv(rows: readonly AuditRow[]): string {
  return csvOf(
    [
      "vehicle",
      "group",
      "depot",
      "refrigerant",
      "nameplate_g",
      "year",
      "added_g",
      "recovered_g",
      "lost_g_model",
      "lost_g_p05",
      "lost_g_p95",
      "years_counted",
      "model_percent_per_year",
      "annualizing_percent_per_year",
      "rolling_percent_per_year",
    ],
    rows.map((row) => {
      const { p05_g, p95_g } = lossInterval(row.lost_g, row.lost_sd_g);
      return [
        row.label,
        row.fleet_group,
        row.depot,
        row.refrigerant,
        row.nameplate_g,
        row.year,
        row.added_g,
        row.recovered_g,
        row.lost_g,
        p05_g,
        p95_g,
        row.span_years,
        row.span_years > 0 ? (100 * row.lost_g) / row.nameplate_g / row.span_years : null,
        row.annualizing_percent,
        row.rolling_percent,
      ];
    }),
  );
}
