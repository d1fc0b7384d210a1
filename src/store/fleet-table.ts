import { cohort } from "../../data/model-constants.ts";
import type { FleetOption } from "../core/fleet/answer.ts";
import type { AsIs } from "../core/fleet/as-is.ts";
import type { PicturedVehicle, ReleaseYear } from "../core/fleet/pictures.ts";
import {
  type AgesKnown,
  type AuditRow,
  type Cohort,
  type FleetRow,
  type FleetTotals,
  type FleetVehicle,
  type GroupSays,
  type ReckonedRow,
  type RepairLock,
  SUMMED,
} from "../core/fleet/row.ts";
import type { Candidate } from "../core/fleet/year-plan.ts";
import { flag, json, namesOf, nullable, number, oneOf, rowReader, text } from "./columns.ts";
import { AGED_VEHICLE, AUDIT, FIGURES, FLEET_VEHICLE } from "./fleet-columns.ts";
import { readLabels, readPictured, readReleaseYears } from "./fleet-pictures.ts";
import { type FleetQuery, IN_ITS_MONEY, JOINED, matching, NO_VERDICT, orderOf } from "./fleet-query.ts";
import { readTold, type ToldQuery, type ToldVehicle } from "./fleet-told.ts";
import { KIND_PRIOR_PARAMS, kindPrior } from "./kind-prior.ts";
import type { Page } from "./page.ts";
import type { Scope } from "./scope.ts";
import type { Row } from "./sql.ts";

export interface FleetChoices {
  groups: string[];
  depots: string[];
  refrigerants: string[];
}

const vehicleOf = rowReader(FLEET_VEHICLE);
const agedOf = rowReader(AGED_VEHICLE);
const agesOf = rowReader<AgesKnown>({ model_year: flag, odometer: flag });
const lockOf = rowReader({ repair: oneOf(["must", "must-not"]), year: nullable(number) });
const figuresOf = rowReader(FIGURES);
const auditOf = rowReader(AUDIT);
const groupOf = rowReader({
  fleet_group: text,
  vehicles: number,
  as_of: text,
  own_share: number,
  verdict: json<GroupSays["verdict"]>(),
  low_now: flag,
  no_entries: flag,
});
const cohortOf = rowReader({
  fleet_group: text,
  ln_x_mean: number,
  ln_x_sd: number,
  used_mean: number,
  used_sd: number,
  vehicles: number,
  mean_sd: number,
});

/** What was computed about a workspace's fleet, for its pages, and what people settled about repairs. */
export class FleetTable {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** One page of the table, with vehicles that have no answer yet at the end. */
  async list(query: FleetQuery = {}): Promise<FleetRow[]> {
    const { sort = "label", descending = false, page = 1, per_page = 50 } = query;
    const { condition, params } = matching(query);
    const order = orderOf(sort, descending);
    const rows = await this.#scope.all(
      `SELECT ${columns("v", namesOf(AGED_VEHICLE))}, a.as_of, d.answer, ${columns("a", namesOf(FIGURES))}
       FROM ${JOINED} ${DETAILS}
       WHERE v.workspace_id = :workspace AND v.id IN (
         SELECT v.id FROM ${JOINED} WHERE ${condition} ORDER BY ${order} LIMIT ? OFFSET ?)
       ORDER BY ${order}`,
      [...params, per_page, (page - 1) * per_page],
    );
    return rows.map(fleetRow);
  }

  /** Some vehicles, in the order given; one that is not here is left out. */
  async some(ids: readonly string[]): Promise<FleetRow[]> {
    const rows = await this.#scope.all(
      `SELECT ${columns("v", namesOf(AGED_VEHICLE))}, a.as_of, d.answer, ${columns("a", namesOf(FIGURES))} FROM ${JOINED} ${DETAILS}
       WHERE v.workspace_id = :workspace AND v.id IN (SELECT value FROM json_each(?))`,
      [JSON.stringify(ids)],
    );
    const by_id = new Map(rows.map((row) => [row.id as string, fleetRow(row)]));
    return ids.flatMap((id) => by_id.get(id) ?? []);
  }

  /** The group's share in a vehicle's answer; null where none was used. */
  async groupSays(vehicle_id: string): Promise<GroupSays | null> {
    const [row] = await this.#scope.all(
      `SELECT k.fleet_group, k.vehicles, a.as_of, a.own_share, d.answer -> '$.verdict' AS verdict,
         d.answer ->> '$.low_now' AS low_now, d.answer ->> '$.no_entries' AS no_entries
       FROM ${JOINED} ${DETAILS}
       JOIN fleet_cohorts AS k ON k.workspace_id = v.workspace_id AND k.fleet_group = v.fleet_group
         AND k.used_mean = a.used_mean AND k.used_sd = a.used_sd
       WHERE v.workspace_id = :workspace AND v.id = ?
         AND (a.used_mean <> ${kindPrior("v.kind")} OR a.used_sd <> ${kindPrior("v.kind")})`,
      [vehicle_id, ...KIND_PRIOR_PARAMS.mean, ...KIND_PRIOR_PARAMS.sd],
    );
    return row === undefined ? null : groupOf(row);
  }

  /** The options of every vehicle that has an answer, by label: what a budget chooses from. */
  async options(): Promise<Candidate[]> {
    const rows = await this.#scope.all(
      `SELECT ${columns("v", namesOf(FLEET_VEHICLE))}, d.answer -> '$.options' AS options,
         d.answer -> '$.as_is' AS as_is, a.next_low, a.no_entries FROM vehicles AS v
       JOIN fleet_answers AS a ON a.workspace_id = v.workspace_id AND a.vehicle_id = v.id AND ${IN_ITS_MONEY}
       JOIN fleet_details AS d ON d.workspace_id = v.workspace_id AND d.vehicle_id = v.id
       WHERE v.workspace_id = :workspace AND v.archived_at IS NULL ORDER BY v.sort_key, v.id`,
    );
    return rows.map((row) => ({
      ...vehicleOf(row),
      options: json<FleetOption[]>().read(row.options),
      as_is: json<AsIs>().read(row.as_is),
      next_low: nullable(text).read(row.next_low),
      no_entries: flag.read(row.no_entries),
    }));
  }

  /** Sums over the vehicles that a query means; over all without one. */
  async totals(query: FleetQuery = {}): Promise<FleetTotals> {
    const { condition, params, all } = matching(query);
    const sums = [
      ...SUMMED.map((column) => `coalesce(sum(a.${column}), 0) AS ${column}`),
      "coalesce(sum(a.verdict = 'repair' AND a.cost_best <= a.cost_as_is), 0) AS repairs_that_pay",
    ].join(", ");
    const groups = all
      ? // Rows of vehicles are long, so they are not read: sums over answers, and a count of vehicles without one.
        [
          {
            sql: `SELECT a.verdict, 1 AS reckoned, count(*) AS vehicles, ${sums} FROM fleet_answers AS a
              WHERE a.workspace_id = :workspace AND ${IN_ITS_MONEY} AND a.vehicle_id NOT IN (
                SELECT id FROM vehicles WHERE workspace_id = :workspace AND archived_at IS NOT NULL)
              GROUP BY a.verdict ORDER BY 3 DESC, 1`,
          },
          { sql: `SELECT count(*) AS vehicles FROM vehicles AS v WHERE ${condition}`, params },
        ]
      : [
          {
            sql: `SELECT a.verdict, a.vehicle_id IS NOT NULL AS reckoned, count(*) AS vehicles, ${sums}
              FROM ${JOINED} WHERE ${condition} GROUP BY a.verdict, 2 ORDER BY 3 DESC, 1`,
            params,
          },
        ];
    const [rows, counted] = await this.#scope.batch(groups);
    const reckoned = rows!.filter((row) => row.reckoned === 1);
    const total = (of: readonly Row[], column: string): number =>
      of.reduce((sum, row) => sum + (row[column] as number), 0);
    return {
      vehicles: total(counted ?? rows!, "vehicles"),
      reckoned: total(reckoned, "vehicles"),
      repairs_that_pay: total(reckoned, "repairs_that_pay"),
      ...(Object.fromEntries(SUMMED.map((column) => [column, total(reckoned, column)])) as Pick<
        FleetTotals,
        (typeof SUMMED)[number]
      >),
      by_verdict: reckoned.map((row) => ({
        verdict: (row.verdict as string | null) ?? NO_VERDICT,
        vehicles: row.vehicles as number,
      })),
    };
  }

  /** What the pictures of some vehicles are made from. */
  pictured(query: FleetQuery = {}): Promise<PicturedVehicle[]> {
    return readPictured(this.#scope, query);
  }

  /** Grams added and lost by calendar year, of the years after `after`, the oldest first. */
  releaseYears(query: FleetQuery, after: number): Promise<ReleaseYear[]> {
    return readReleaseYears(this.#scope, query, after);
  }

  /** One page of all answers, for other programs. */
  told(query: ToldQuery): Promise<Page<ToldVehicle>> {
    return readTold(this.#scope, query);
  }

  /** The labels of some vehicles, by id. */
  labels(ids: readonly string[]): Promise<Map<string, string>> {
    return readLabels(this.#scope, ids);
  }

  /** What the filters can be set to. */
  async choices(): Promise<FleetChoices> {
    const rows = await this.#scope.all<Pick<FleetVehicle, "fleet_group" | "depot" | "refrigerant">>(
      `SELECT DISTINCT fleet_group, depot, refrigerant FROM vehicles
       WHERE workspace_id = :workspace AND archived_at IS NULL ORDER BY fleet_group, depot, refrigerant`,
    );
    const each = (name: keyof (typeof rows)[number]) =>
      [...new Set(rows.flatMap((row) => row[name] ?? []))].sort((a, b) => (a < b ? -1 : 1));
    return { groups: each("fleet_group"), depots: each("depot"), refrigerants: each("refrigerant") };
  }

  async agesKnown(): Promise<AgesKnown> {
    const any = (column: string) => `EXISTS (SELECT 1 FROM vehicles
      WHERE workspace_id = :workspace AND archived_at IS NULL AND ${column} IS NOT NULL) AS ${column}`;
    const [row] = await this.#scope.all(`SELECT ${any("model_year")}, ${any("odometer")}`);
    return agesOf(row!);
  }

  async cohorts(): Promise<Cohort[]> {
    const rows = await this.#scope.all(
      `SELECT fleet_group, ln_x_mean, ln_x_sd, used_mean, used_sd, vehicles, mean_sd FROM fleet_cohorts
       WHERE workspace_id = :workspace ORDER BY fleet_group`,
    );
    return rows.map(cohortOf).map(({ used_mean, used_sd, ...fit }) => ({
      ...fit,
      used: { ln_x_mean: used_mean, ln_x_sd: used_sd },
    }));
  }

  /** A calendar year of every vehicle that has one, by label; and the years there are, newest first. */
  async audit(year: number, query: FleetQuery = {}): Promise<AuditRow[]> {
    const { condition, params } = matching(query);
    const rows = await this.#scope.all(
      `SELECT ${columns("v", namesOf(FLEET_VEHICLE))}, ${columns("y", namesOf(AUDIT))}, ${MEAN_SD} AS mean_sd
       FROM ${JOINED}
       JOIN fleet_audit AS y ON y.workspace_id = v.workspace_id AND y.vehicle_id = v.id AND y.year = ?
       LEFT JOIN fleet_cohorts AS k ON k.workspace_id = v.workspace_id AND k.fleet_group = v.fleet_group
       WHERE ${condition} ORDER BY v.sort_key, v.id`,
      [...MEAN_SD_PARAMS, year, ...params],
    );
    return rows.map((row) => ({ ...vehicleOf(row), ...auditOf(row), mean_sd: number.read(row.mean_sd) }));
  }

  async auditYears(): Promise<number[]> {
    const rows = await this.#scope.all<{ year: number }>(
      "SELECT DISTINCT year FROM fleet_audit WHERE workspace_id = :workspace ORDER BY year DESC",
    );
    return rows.map(({ year }) => year);
  }

  async locks(): Promise<Map<string, RepairLock>> {
    const rows = await this.#scope.all(
      "SELECT vehicle_id, repair, year FROM fleet_locks WHERE workspace_id = :workspace ORDER BY vehicle_id",
    );
    return new Map(rows.map((row) => [text.read(row.vehicle_id), lockOf(row)]));
  }

  /** Sets a vehicle's repair as settled or, with null, open again. */
  async lock(vehicle_id: string, lock: RepairLock | null): Promise<void> {
    this.#scope.require("editor");
    const open = {
      sql: "DELETE FROM fleet_locks WHERE workspace_id = :workspace AND vehicle_id = ?",
      params: [vehicle_id],
    };
    if (lock === null) return void (await this.#scope.batch([open]));
    const settle = {
      sql: `INSERT INTO fleet_locks (workspace_id, vehicle_id, repair, year)
        SELECT :workspace, id, ?, ? FROM vehicles WHERE workspace_id = :workspace AND id = ?`,
      params: [lock.repair, lock.year, vehicle_id],
    };
    await this.#scope.batch([open, settle]);
  }
}

/** How well the mean leak of a vehicle's group is known; where it has no group, or one that says little, as of any. */
export const MEAN_SD = "CASE WHEN k.vehicles >= ? THEN k.mean_sd ELSE ? END";
export const MEAN_SD_PARAMS = [cohort.vehicles_least, cohort.ln_x_mean_sd];

const DETAILS = "LEFT JOIN fleet_details AS d ON d.workspace_id = a.workspace_id AND d.vehicle_id = a.vehicle_id";

function columns(table: string, names: readonly string[]): string {
  return names.map((name) => `${table}.${name}`).join(", ");
}

function fleetRow(row: Row): FleetRow {
  const vehicle = agedOf(row);
  if (row.answer === null) return { ...vehicle, reckoned: null };
  const answer = json<ReckonedRow["answer"]>().read(row.answer);
  return { ...vehicle, reckoned: { ...figuresOf(row), as_of: text.read(row.as_of), answer } };
}
