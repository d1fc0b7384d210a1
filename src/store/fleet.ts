import { MODEL_VERSION } from "../core/assess.ts";
import { GENERAL_PRIOR } from "../core/cohort.ts";
import type { RefrigerantId } from "../core/contract.ts";
import type { FleetAnswer, FleetOption } from "../core/fleet-answer.ts";
import type { AuditYear } from "../core/fleet-audit.ts";
import type { LeakPrior } from "../core/posterior.ts";
import { insertRows } from "./bulk.ts";
import { ConstraintFailed } from "./errors.ts";
import { guard, type Scope } from "./scope.ts";
import type { Param, Row, Sql, Statement } from "./sql.ts";
import { searchText } from "./text.ts";

export const RUN_STATES = ["logs", "cohorts", "answers", "done", "cancelled"] as const;
export type RunState = (typeof RUN_STATES)[number];

/** The reckoning of a fleet: how far it is. */
export interface FleetRun {
  id: string;
  state: RunState;
  as_of: string;
  /** Answers of this day and later still hold. */
  fresh_from: string;
  logs: { all: number; left: number };
  answers: { all: number; left: number };
  started_at: string;
  ended_at: string | null;
}

export interface Cohort extends LeakPrior {
  fleet_group: string;
  used: LeakPrior;
  /** Vehicles that had something to say. */
  vehicles: number;
}

/** What a vehicle's log says of its leak; null with a repair in it. */
export interface FleetLog {
  vehicle_id: string;
  stamp: string;
  ln_likelihood: readonly number[] | null;
}

/** What lists keep of an answer beside its JSON. A year's money and grams; `best` is with the answer. */
export interface FleetFigures {
  leak_g_per_year: number;
  charge_share: number;
  next_low: string | null;
  verdict: FleetAnswer["verdict"]["option"];
  sure: number | null;
  cost_as_is: number;
  cost_best: number;
  release_as_is_g: number;
  release_best_g: number;
  co2e_as_is_kg: number;
  co2e_best_kg: number;
  own_share: number;
}

export interface ReckonedAnswer extends FleetFigures {
  vehicle_id: string;
  stamp: string;
  input_hash: string;
  used: LeakPrior;
  as_of: string;
  answer: Omit<FleetAnswer, "audit">;
  audit: readonly AuditYear[];
}

/** A vehicle that is to be reckoned: its state now, the prior for it, and what its present answer rests on. */
export interface FleetTask {
  vehicle_id: string;
  stamp: string;
  used: LeakPrior;
  before: { input_hash: string; as_of: string; model_version: string } | null;
}

export const FLEET_SORTS = [
  "label",
  "leak_g_per_year",
  "charge_share",
  "next_low",
  "verdict",
  "sure",
  "cost_as_is",
  "cost_best",
  "release_as_is_g",
  "own_share",
] as const;
export type FleetSort = (typeof FLEET_SORTS)[number];

/** No answer: neither an option nor `check-first`. */
const NO_VERDICT = "none";

export interface FleetQuery {
  search?: string;
  fleet_group?: string;
  depot?: string;
  refrigerant?: string;
  /** An option, `check-first`, or `NO_VERDICT`. */
  verdict?: string;
  sort?: FleetSort;
  descending?: boolean;
  /** From 1. */
  page?: number;
  per_page?: number;
}

export interface FleetVehicle {
  id: string;
  label: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  fleet_group: string | null;
  depot: string | null;
}

/** A row of the table; `reckoned` null until it is computed. */
export interface FleetRow extends FleetVehicle {
  reckoned: (FleetFigures & { as_of: string; answer: Omit<FleetAnswer, "audit"> }) | null;
}

export interface FleetTotals {
  vehicles: number;
  reckoned: number;
  cost_as_is: number;
  cost_best: number;
  release_as_is_g: number;
  release_best_g: number;
  co2e_as_is_kg: number;
  co2e_best_kg: number;
  by_verdict: { verdict: string; vehicles: number }[];
}

export interface FleetChoices {
  groups: string[];
  depots: string[];
  refrigerants: string[];
}

export type AuditRow = FleetVehicle & AuditYear;

export type RepairLock = "must" | "must-not";

const FIGURES = [
  "leak_g_per_year",
  "charge_share",
  "next_low",
  "verdict",
  "sure",
  "cost_as_is",
  "cost_best",
  "release_as_is_g",
  "release_best_g",
  "co2e_as_is_kg",
  "co2e_best_kg",
  "own_share",
] as const satisfies readonly (keyof FleetFigures)[];

const AUDIT = [
  "year",
  "added_g",
  "recovered_g",
  "lost_g",
  "lost_sd_g",
  "span_years",
  "annualizing_percent",
  "rolling_percent",
] as const satisfies readonly (keyof AuditYear)[];

const VEHICLE = ["id", "label", "refrigerant", "nameplate_g", "fleet_group", "depot"] as const;

/**
 * The vehicles in use with a stamp that changes whenever what the model is asked about them does: settings, the vehicle, and the
 * number of lines in its ledgers, which only grow.
 */
const STAMPED = `SELECT v.id AS vehicle_id, v.fleet_group,
    concat_ws('.', w.version, v.version, coalesce(c.lines, 0), coalesce(f.lines, 0), coalesce(r.lines, 0)) AS stamp
  FROM vehicles AS v JOIN workspaces AS w ON w.workspace_id = v.workspace_id
  LEFT JOIN (SELECT vehicle_id, count(*) AS lines FROM charge_log WHERE workspace_id = :workspace GROUP BY vehicle_id) AS c
    ON c.vehicle_id = v.id
  LEFT JOIN (SELECT vehicle_id, count(*) AS lines FROM findings WHERE workspace_id = :workspace GROUP BY vehicle_id) AS f
    ON f.vehicle_id = v.id
  LEFT JOIN (SELECT vehicle_id, count(*) AS lines FROM readings WHERE workspace_id = :workspace GROUP BY vehicle_id) AS r
    ON r.vehicle_id = v.id
  WHERE v.workspace_id = :workspace AND v.archived_at IS NULL`;

/** Tables that a vehicle's answer rests on, beside `now`, one of `STAMPED`. */
const BESIDE = `LEFT JOIN fleet_logs AS l ON l.workspace_id = :workspace AND l.vehicle_id = now.vehicle_id
  LEFT JOIN fleet_cohorts AS k ON k.workspace_id = :workspace AND k.fleet_group = now.fleet_group
  LEFT JOIN fleet_answers AS a ON a.workspace_id = :workspace AND a.vehicle_id = now.vehicle_id`;

/** The prior for a vehicle; both take the general one's as a parameter. A repair in the log takes it out of its group. */
const USED_MEAN = "CASE WHEN l.ln_likelihood IS NOT NULL THEN coalesce(k.used_mean, ?) ELSE ? END";
const USED_SD = "CASE WHEN l.ln_likelihood IS NOT NULL THEN coalesce(k.used_sd, ?) ELSE ? END";

/** Likelihoods read at once. */
const LOGS_AT_ONCE = 2000;

/** What has been computed about a workspace's fleet, and what is still to be computed. */
export class Fleet {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** The last run and how far it is; null before the first. */
  async run(): Promise<FleetRun | null> {
    const left = (step: string) =>
      `(SELECT count(*) FROM fleet_work WHERE workspace_id = :workspace AND step = '${step}')`;
    const [row] = await this.#scope.all(
      `SELECT id, state, as_of, fresh_from, logs, answers, started_at, ended_at,
         ${left("logs")} AS logs_left, ${left("answers")} AS answers_left
       FROM fleet_runs WHERE workspace_id = :workspace`,
    );
    if (row === undefined) return null;
    const { logs, answers, logs_left, answers_left, ...rest } = row;
    return {
      ...(rest as unknown as Omit<FleetRun, "logs" | "answers">),
      logs: { all: logs as number, left: logs_left as number },
      answers: { all: answers as number, left: answers_left as number },
    };
  }

  /** How many vehicles want reckoning: new, changed, or of before `fresh_from`. */
  async due(fresh_from: string): Promise<number> {
    const [row] = await this.#scope.all<{ due: number }>(
      `SELECT count(*) AS due FROM (${STAMPED}) AS now
       LEFT JOIN fleet_answers AS a ON a.workspace_id = :workspace AND a.vehicle_id = now.vehicle_id
       WHERE a.stamp IS NOT now.stamp OR a.model_version IS NOT ? OR a.as_of < ?`,
      [MODEL_VERSION, fresh_from],
    );
    return row!.due;
  }

  /** Starts a run in place of the one before, whose unfinished work it takes over. */
  async begin(as_of: string, fresh_from: string): Promise<void> {
    this.#scope.require("editor");
    const logs = `INSERT INTO fleet_work (workspace_id, vehicle_id, step)
      SELECT :workspace, now.vehicle_id, 'logs' FROM (${STAMPED}) AS now
      LEFT JOIN fleet_logs AS l ON l.workspace_id = :workspace AND l.vehicle_id = now.vehicle_id
      WHERE now.fleet_group IS NOT NULL
        AND (l.stamp IS NOT now.stamp OR l.model_version IS NOT ? OR l.as_of < ?)`;
    await this.#scope.batch([
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace" },
      { sql: "DELETE FROM fleet_runs WHERE workspace_id = :workspace" },
      { sql: logs, params: [MODEL_VERSION, fresh_from] },
      {
        sql: `INSERT INTO fleet_runs (workspace_id, id, state, as_of, fresh_from, logs, answers, started_at, ended_at)
          SELECT :workspace, ?, 'logs', ?, ?, (SELECT count(*) FROM fleet_work WHERE workspace_id = :workspace), 0, ?, NULL`,
        params: [this.#scope.newId(), as_of, fresh_from, this.#scope.now()],
      },
    ]);
  }

  /** Stops the run; what it has done stays. */
  async cancel(): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.batch([
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace" },
      {
        sql: `UPDATE fleet_runs SET state = 'cancelled', ended_at = ?
          WHERE workspace_id = :workspace AND state IN ('logs', 'cohorts', 'answers')`,
        params: [this.#scope.now()],
      },
    ]);
  }

  /** The run that is under way, without counting what is left; null when none is. */
  async underWay(): Promise<Pick<FleetRun, "id" | "state" | "as_of" | "fresh_from"> | null> {
    const [run] = await this.#scope.all<Pick<FleetRun, "id" | "state" | "as_of" | "fresh_from">>(
      `SELECT id, state, as_of, fresh_from FROM fleet_runs
       WHERE workspace_id = :workspace AND state IN ('logs', 'cohorts', 'answers')`,
    );
    return run ?? null;
  }

  /** The next vehicles of a step, without those put away since. */
  async tasks(step: "logs" | "answers", limit: number): Promise<FleetTask[]> {
    const { ln_x_mean, ln_x_sd } = GENERAL_PRIOR;
    const rows = await this.#scope.all(
      `SELECT now.vehicle_id, now.stamp, ${USED_MEAN} AS used_mean, ${USED_SD} AS used_sd,
          a.input_hash, a.as_of, a.model_version
        FROM (SELECT v.id AS vehicle_id, v.fleet_group, concat_ws('.', w.version, v.version,
            (SELECT count(*) FROM charge_log WHERE workspace_id = v.workspace_id AND vehicle_id = v.id),
            (SELECT count(*) FROM findings WHERE workspace_id = v.workspace_id AND vehicle_id = v.id),
            (SELECT count(*) FROM readings WHERE workspace_id = v.workspace_id AND vehicle_id = v.id)) AS stamp
          FROM fleet_work AS t JOIN vehicles AS v ON v.workspace_id = t.workspace_id AND v.id = t.vehicle_id
          JOIN workspaces AS w ON w.workspace_id = t.workspace_id
          WHERE t.workspace_id = :workspace AND t.step = ? AND v.archived_at IS NULL
          ORDER BY t.vehicle_id LIMIT ?) AS now
        ${BESIDE} ORDER BY now.vehicle_id`,
      [ln_x_mean, ln_x_mean, ln_x_sd, ln_x_sd, step, limit],
    );
    return rows.map((row) => ({
      vehicle_id: row.vehicle_id as string,
      stamp: row.stamp as string,
      used: { ln_x_mean: row.used_mean as number, ln_x_sd: row.used_sd as number },
      before:
        row.input_hash === null
          ? null
          : {
              input_hash: row.input_hash as string,
              as_of: row.as_of as string,
              model_version: row.model_version as string,
            },
    }));
  }

  /** Stores logs and strikes them off. */
  async saveLogs(as_of: string, logs: readonly FleetLog[]): Promise<void> {
    const ids = logs.map(({ vehicle_id }) => vehicle_id);
    const rows = logs.map(({ vehicle_id, stamp, ln_likelihood }) => ({
      vehicle_id,
      stamp,
      as_of,
      model_version: MODEL_VERSION,
      ln_likelihood: ln_likelihood === null ? null : JSON.stringify(ln_likelihood),
    }));
    await this.#scope.batch([
      ofVehicles("DELETE FROM fleet_logs", ids),
      ...insertRows("fleet_logs", rows),
      struckOff("logs", ids),
    ]);
  }

  /** Goes on from one step to the next, if the run is still there. What is left is of vehicles put away since. */
  async toCohorts(run_id: string): Promise<void> {
    await this.#scope.batch([
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace AND step = 'logs'" },
      {
        sql: "UPDATE fleet_runs SET state = 'cohorts' WHERE workspace_id = :workspace AND id = ? AND state = 'logs'",
        params: [run_id],
      },
    ]);
  }

  /** By group, what the logs of its vehicles say; those with a repair left out. */
  async likelihoods(): Promise<Map<string, Float64Array[]>> {
    const by_group = new Map<string, Float64Array[]>();
    let after = "";
    for (;;) {
      const rows = await this.#scope.all<{ vehicle_id: string; fleet_group: string; ln_likelihood: string }>(
        `SELECT l.vehicle_id, v.fleet_group, l.ln_likelihood FROM fleet_logs AS l
         JOIN vehicles AS v ON v.workspace_id = l.workspace_id AND v.id = l.vehicle_id
         WHERE l.workspace_id = :workspace AND l.vehicle_id > ? AND l.ln_likelihood IS NOT NULL
           AND v.fleet_group IS NOT NULL AND v.archived_at IS NULL
         ORDER BY l.vehicle_id LIMIT ?`,
        [after, LOGS_AT_ONCE],
      );
      for (const { fleet_group, ln_likelihood } of rows) {
        const group = by_group.get(fleet_group) ?? [];
        group.push(Float64Array.from(JSON.parse(ln_likelihood) as number[]));
        by_group.set(fleet_group, group);
      }
      if (rows.length < LOGS_AT_ONCE) return by_group;
      after = rows.at(-1)!.vehicle_id;
    }
  }

  /** Stores the groups and lists the answers that are missing, old, or rest on something else than holds now. */
  async saveCohorts(run: Pick<FleetRun, "id" | "fresh_from">, cohorts: readonly Cohort[]): Promise<void> {
    const { ln_x_mean, ln_x_sd } = GENERAL_PRIOR;
    const rows = cohorts.map(({ fleet_group, used, vehicles, ...fit }) => ({
      fleet_group,
      ln_x_mean: fit.ln_x_mean,
      ln_x_sd: fit.ln_x_sd,
      used_mean: used.ln_x_mean,
      used_sd: used.ln_x_sd,
      vehicles,
    }));
    try {
      await this.#scope.batch([
        guard("EXISTS (SELECT 1 FROM fleet_runs WHERE workspace_id = :workspace AND id = ? AND state = 'cohorts')", [
          run.id,
        ]),
        { sql: "DELETE FROM fleet_cohorts WHERE workspace_id = :workspace" },
        ...insertRows("fleet_cohorts", rows),
        {
          sql: `INSERT INTO fleet_work (workspace_id, vehicle_id, step)
            SELECT :workspace, now.vehicle_id, 'answers' FROM (${STAMPED}) AS now ${BESIDE}
            WHERE a.stamp IS NOT now.stamp OR a.model_version IS NOT ? OR a.as_of < ?
              OR a.used_mean IS NOT ${USED_MEAN} OR a.used_sd IS NOT ${USED_SD}`,
          params: [MODEL_VERSION, run.fresh_from, ln_x_mean, ln_x_mean, ln_x_sd, ln_x_sd],
        },
        {
          sql: `UPDATE fleet_runs SET state = 'answers',
              answers = (SELECT count(*) FROM fleet_work WHERE workspace_id = :workspace AND step = 'answers')
            WHERE workspace_id = :workspace AND id = ?`,
          params: [run.id],
        },
      ]);
    } catch (error) {
      // Someone else took this step, or stopped the run.
      if (!(error instanceof ConstraintFailed && error.what === "guard")) throw error;
    }
  }

  /** Stores answers and strikes them off. */
  async saveAnswers(answers: readonly ReckonedAnswer[]): Promise<void> {
    const ids = answers.map(({ vehicle_id }) => vehicle_id);
    const rows = answers.map((one) => ({
      vehicle_id: one.vehicle_id,
      stamp: one.stamp,
      input_hash: one.input_hash,
      model_version: MODEL_VERSION,
      used_mean: one.used.ln_x_mean,
      used_sd: one.used.ln_x_sd,
      as_of: one.as_of,
      ...Object.fromEntries(FIGURES.map((figure) => [figure, one[figure] as Param])),
    }));
    const details = answers.map(({ vehicle_id, answer }) => ({ vehicle_id, answer: JSON.stringify(answer) }));
    const audit = answers.flatMap(({ vehicle_id, audit: years }) =>
      years.map((year) => ({
        vehicle_id,
        ...Object.fromEntries(AUDIT.map((column) => [column, year[column] as Param])),
      })),
    );
    await this.#scope.batch([
      ofVehicles("DELETE FROM fleet_answers", ids),
      ...insertRows("fleet_answers", rows),
      ...insertRows("fleet_details", details),
      ...insertRows("fleet_audit", audit),
      struckOff("answers", ids),
    ]);
  }

  /** Answers that hold although something else about the record changed: their stamp is set, and they are struck off. */
  async keepAnswers(kept: readonly Pick<FleetTask, "vehicle_id" | "stamp">[]): Promise<void> {
    if (kept.length === 0) return;
    const pairs = JSON.stringify(kept.map(({ vehicle_id, stamp }) => [vehicle_id, stamp]));
    await this.#scope.batch([
      {
        sql: `UPDATE fleet_answers SET stamp = (SELECT value ->> 1 FROM json_each(?) WHERE value ->> 0 = vehicle_id)
          WHERE workspace_id = :workspace AND vehicle_id IN (SELECT value ->> 0 FROM json_each(?))`,
        params: [pairs, pairs],
      },
      struckOff(
        "answers",
        kept.map(({ vehicle_id }) => vehicle_id),
      ),
    ]);
  }

  async finish(run_id: string): Promise<void> {
    await this.#scope.batch([
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace AND step = 'answers'" },
      {
        sql: `UPDATE fleet_runs SET state = 'done', ended_at = ?
          WHERE workspace_id = :workspace AND id = ? AND state = 'answers'`,
        params: [this.#scope.now(), run_id],
      },
    ]);
  }

  async cohorts(): Promise<Cohort[]> {
    const rows = await this.#scope.all(
      `SELECT fleet_group, ln_x_mean, ln_x_sd, used_mean, used_sd, vehicles FROM fleet_cohorts
       WHERE workspace_id = :workspace ORDER BY fleet_group`,
    );
    return rows.map(({ used_mean, used_sd, ...fit }) => ({
      ...(fit as unknown as Omit<Cohort, "used">),
      used: { ln_x_mean: used_mean as number, ln_x_sd: used_sd as number },
    }));
  }

  /** One page of the table, with vehicles that are not reckoned yet at the end. */
  async list(query: FleetQuery = {}): Promise<FleetRow[]> {
    const { sort = "label", descending = false, page = 1, per_page = 50 } = query;
    const { condition, params } = matching(query);
    const by = sort === "label" ? "v.sort_key" : `a.${sort}`;
    const order = `${by} ${descending ? "DESC" : "ASC"} NULLS LAST, v.sort_key, v.id`;
    const rows = await this.#scope.all(
      `SELECT ${columns("v", VEHICLE)}, a.as_of, d.answer, ${columns("a", FIGURES)}
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
      `SELECT ${columns("v", VEHICLE)}, a.as_of, d.answer, ${columns("a", FIGURES)} FROM ${JOINED} ${DETAILS}
       WHERE v.workspace_id = :workspace AND v.id IN (SELECT value FROM json_each(?))`,
      [JSON.stringify(ids)],
    );
    const by_id = new Map(rows.map((row) => [row.id as string, fleetRow(row)]));
    return ids.flatMap((id) => by_id.get(id) ?? []);
  }

  /** The options of every vehicle that has an answer, by label: what a budget chooses from. */
  async options(): Promise<(FleetVehicle & { options: FleetOption[] })[]> {
    const rows = await this.#scope.all(
      `SELECT ${columns("v", VEHICLE)}, d.answer -> '$.options' AS options FROM vehicles AS v
       JOIN fleet_details AS d ON d.workspace_id = v.workspace_id AND d.vehicle_id = v.id
       WHERE v.workspace_id = :workspace AND v.archived_at IS NULL ORDER BY v.sort_key, v.id`,
    );
    return rows.map(({ options, ...vehicle }) => ({
      ...(vehicle as unknown as FleetVehicle),
      options: JSON.parse(options as string),
    }));
  }

  async totals(query: FleetQuery = {}): Promise<FleetTotals> {
    const { condition, params } = matching(query);
    const sums = ["cost_as_is", "cost_best", "release_as_is_g", "release_best_g", "co2e_as_is_kg", "co2e_best_kg"];
    const [totals, verdicts] = await this.#scope.batch([
      {
        sql: `SELECT count(*) AS vehicles, count(a.vehicle_id) AS reckoned,
            ${sums.map((column) => `coalesce(sum(a.${column}), 0) AS ${column}`).join(", ")} FROM ${JOINED} WHERE ${condition}`,
        params,
      },
      {
        sql: `SELECT coalesce(a.verdict, '${NO_VERDICT}') AS verdict, count(*) AS vehicles FROM ${JOINED}
          WHERE ${condition} AND a.vehicle_id IS NOT NULL GROUP BY a.verdict ORDER BY vehicles DESC, verdict`,
        params,
      },
    ]);
    return { ...(totals![0] as unknown as FleetTotals), by_verdict: verdicts as unknown as FleetTotals["by_verdict"] };
  }

  /** What the filters can be set to: one look at all vehicles, since each is a long row. */
  async choices(): Promise<FleetChoices> {
    const rows = await this.#scope.all<Pick<FleetVehicle, "fleet_group" | "depot" | "refrigerant">>(
      `SELECT DISTINCT fleet_group, depot, refrigerant FROM vehicles
       WHERE workspace_id = :workspace AND archived_at IS NULL ORDER BY fleet_group, depot, refrigerant`,
    );
    const each = (name: keyof (typeof rows)[number]) =>
      [...new Set(rows.flatMap((row) => row[name] ?? []))].sort((a, b) => (a < b ? -1 : 1));
    return { groups: each("fleet_group"), depots: each("depot"), refrigerants: each("refrigerant") };
  }

  /** A calendar year of every vehicle that has one, by label; and the years there are, newest first. */
  async audit(year: number, query: FleetQuery = {}): Promise<AuditRow[]> {
    const { condition, params } = matching(query);
    const rows = await this.#scope.all(
      `SELECT ${columns("v", VEHICLE)}, ${columns("y", AUDIT)} FROM ${JOINED}
       JOIN fleet_audit AS y ON y.workspace_id = v.workspace_id AND y.vehicle_id = v.id AND y.year = ?
       WHERE ${condition} ORDER BY v.sort_key, v.id`,
      [year, ...params],
    );
    return rows as unknown as AuditRow[];
  }

  async auditYears(): Promise<number[]> {
    const rows = await this.#scope.all<{ year: number }>(
      "SELECT DISTINCT year FROM fleet_audit WHERE workspace_id = :workspace ORDER BY year DESC",
    );
    return rows.map(({ year }) => year);
  }

  async locks(): Promise<Map<string, RepairLock>> {
    const rows = await this.#scope.all<{ vehicle_id: string; repair: RepairLock }>(
      "SELECT vehicle_id, repair FROM fleet_locks WHERE workspace_id = :workspace ORDER BY vehicle_id",
    );
    return new Map(rows.map(({ vehicle_id, repair }) => [vehicle_id, repair]));
  }

  /** Settles a vehicle's repair beforehand, or, with null, leaves it open again. */
  async lock(vehicle_id: string, repair: RepairLock | null): Promise<void> {
    this.#scope.require("editor");
    const open = {
      sql: "DELETE FROM fleet_locks WHERE workspace_id = :workspace AND vehicle_id = ?",
      params: [vehicle_id],
    };
    const settle = {
      sql: `INSERT INTO fleet_locks (workspace_id, vehicle_id, repair)
        SELECT :workspace, id, ? FROM vehicles WHERE workspace_id = :workspace AND id = ?`,
      params: [repair, vehicle_id],
    };
    await this.#scope.batch(repair === null ? [open] : [open, settle]);
  }
}

/** Workspaces whose fleet was being reckoned when the server stopped. */
export async function unfinishedFleets(sql: Sql): Promise<string[]> {
  const rows = await sql.all<{ workspace_id: string }>(
    "SELECT workspace_id FROM fleet_runs WHERE state IN ('logs', 'cohorts', 'answers') ORDER BY workspace_id",
  );
  return rows.map(({ workspace_id }) => workspace_id);
}

const JOINED = "vehicles AS v LEFT JOIN fleet_answers AS a ON a.workspace_id = v.workspace_id AND a.vehicle_id = v.id";

const DETAILS = "LEFT JOIN fleet_details AS d ON d.workspace_id = v.workspace_id AND d.vehicle_id = v.id";

function columns(table: string, names: readonly string[]): string {
  return names.map((name) => `${table}.${name}`).join(", ");
}

function ofVehicles(sql: string, ids: readonly string[]): Statement {
  return {
    sql: `${sql} WHERE workspace_id = :workspace AND vehicle_id IN (SELECT value FROM json_each(?))`,
    params: [JSON.stringify(ids)],
  };
}

function struckOff(step: "logs" | "answers", ids: readonly string[]): Statement {
  return {
    sql: `DELETE FROM fleet_work
      WHERE workspace_id = :workspace AND step = ? AND vehicle_id IN (SELECT value FROM json_each(?))`,
    params: [step, JSON.stringify(ids)],
  };
}

/** The vehicles that a query means. */
function matching({ search = "", fleet_group, depot, refrigerant, verdict }: FleetQuery) {
  const conditions = ["v.workspace_id = :workspace", "v.archived_at IS NULL"];
  const params: Param[] = [];
  const add = (condition: string, ...values: Param[]) => {
    conditions.push(condition);
    params.push(...values);
  };
  if (fleet_group) add("v.fleet_group = ?", fleet_group);
  if (depot) add("v.depot = ?", depot);
  if (refrigerant) add("v.refrigerant = ?", refrigerant);
  if (verdict === NO_VERDICT) add("a.vehicle_id IS NOT NULL AND a.verdict IS NULL");
  else if (verdict) add("a.verdict = ?", verdict);
  for (const word of searchText(search).split(/\s+/).filter(Boolean).slice(0, 8))
    add("instr(v.search_text, ?) > 0", word);
  return { condition: conditions.join(" AND "), params };
}

function fleetRow(row: Row): FleetRow {
  const { id, label, refrigerant, nameplate_g, fleet_group, depot, as_of, answer, ...figures } = row;
  const vehicle = { id, label, refrigerant, nameplate_g, fleet_group, depot } as unknown as FleetVehicle;
  if (answer === null) return { ...vehicle, reckoned: null };
  return {
    ...vehicle,
    reckoned: { ...(figures as unknown as FleetFigures), as_of: as_of as string, answer: JSON.parse(answer as string) },
  };
}
