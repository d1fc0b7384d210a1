import { cohort } from "../../data/model-constants.ts";
import { MODEL_VERSION } from "../core/assess.ts";
import type { FleetAnswer } from "../core/fleet/answer.ts";
import type { AuditYear } from "../core/fleet/audit.ts";
import type { Cohort, FleetFigures, FleetRun } from "../core/fleet/row.ts";
import type { VehicleKind } from "../core/question/contract.ts";
import type { LeakPrior } from "../core/question/question.ts";
import { insertRows, ofVehicles } from "./bulk.ts";
import { nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { ConstraintFailed } from "./errors.ts";
import { AUDIT, FIGURES } from "./fleet-columns.ts";
import { tellChanges } from "./fleet-told.ts";
import { KIND_PRIOR_PARAMS, kindPrior } from "./kind-prior.ts";
import { RECORD_STAMP, STAMPED_VEHICLES } from "./record-stamp.ts";
import { guard, type Scope } from "./scope.ts";
import type { Sql, Statement } from "./sql.ts";

/** The leak likelihood of a vehicle's log; null when it contains a repair. */
export interface FleetLog {
  vehicle_id: string;
  stamp: string;
  ln_likelihood: readonly number[] | null;
}

export interface ReckonedAnswer extends FleetFigures {
  vehicle_id: string;
  stamp: string;
  input_hash: string;
  used: LeakPrior;
  as_of: string;
  /** What its money is in, ISO 4217. */
  currency: string;
  answer: Omit<FleetAnswer, "audit">;
  audit: readonly AuditYear[];
}

/** A vehicle to be computed: its state now, its prior, and what its present answer was computed from. */
export interface FleetTask {
  vehicle_id: string;
  stamp: string;
  used: LeakPrior;
  before: { input_hash: string; as_of: string; model_version: string } | null;
}

interface GroupedLog {
  vehicle_id: string;
  fleet_group: string;
  kind: VehicleKind | null;
  ln_likelihood: string;
}

/** Tables that a vehicle's answer rests on, beside `now`, one of `STAMPED_VEHICLES`. */
const BESIDE = `LEFT JOIN fleet_logs AS l ON l.workspace_id = :workspace AND l.vehicle_id = now.vehicle_id
  LEFT JOIN fleet_cohorts AS k ON k.workspace_id = :workspace AND k.fleet_group = now.fleet_group
  LEFT JOIN fleet_answers AS a ON a.workspace_id = :workspace AND a.vehicle_id = now.vehicle_id`;

/**
 * The prior for a vehicle: its group's, where that has enough logs and no repair in its own takes it out; else that of
 * its kind. Each takes the number of logs that is enough, then `KIND_PRIOR_PARAMS`.
 */
const inGroup = (used: "used_mean" | "used_sd", kind: string) =>
  `CASE WHEN l.ln_likelihood IS NOT NULL AND k.vehicles >= ? THEN k.${used} ELSE ${kind} END`;
const USED_MEAN = inGroup("used_mean", kindPrior("now.kind"));
const USED_SD = inGroup("used_sd", kindPrior("now.kind"));
const USED_PARAMS = [cohort.vehicles_least, ...KIND_PRIOR_PARAMS.mean, cohort.vehicles_least, ...KIND_PRIOR_PARAMS.sd];

const RUN_STATES = ["logs", "cohorts", "answers", "done", "cancelled"] as const satisfies readonly FleetRun["state"][];

const runOf = rowReader({
  id: text,
  state: oneOf(RUN_STATES),
  as_of: text,
  fresh_from: text,
  logs: number,
  answers: number,
  logs_left: number,
  answers_left: number,
  started_at: text,
  ended_at: nullable(text),
});

const taskOf = rowReader({
  vehicle_id: text,
  stamp: text,
  used_mean: number,
  used_sd: number,
  input_hash: nullable(text),
  as_of: nullable(text),
  model_version: nullable(text),
});

const figuresRow = rowWriter(FIGURES);
const auditRow = rowWriter(AUDIT);

/** Likelihoods read at once. */
const LOGS_AT_ONCE = 2000;

/** Runs over a workspace's fleet: what is to be computed, and the results. */
export class FleetReckoning {
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
    const { logs, answers, logs_left, answers_left, ...run } = runOf(row);
    return { ...run, logs: { all: logs, left: logs_left }, answers: { all: answers, left: answers_left } };
  }

  /** The number of vehicles to compute: new, changed, or computed for another day than from `fresh_from` to `today`. */
  async due(fresh_from: string, today: string): Promise<number> {
    const [row] = await this.#scope.all<{ due: number }>(
      `SELECT count(*) AS due FROM (${STAMPED_VEHICLES}) AS now
       LEFT JOIN fleet_answers AS a ON a.workspace_id = :workspace AND a.vehicle_id = now.vehicle_id
       WHERE a.stamp IS NOT now.stamp OR a.model_version IS NOT ? OR a.as_of NOT BETWEEN ? AND ?`,
      [MODEL_VERSION, fresh_from, today],
    );
    return row!.due;
  }

  /** Starts a run in place of the one before, whose unfinished work it takes over. */
  async begin(as_of: string, fresh_from: string): Promise<void> {
    this.#scope.require("editor");
    const logs = `INSERT INTO fleet_work (workspace_id, vehicle_id, step)
      SELECT :workspace, now.vehicle_id, 'logs' FROM (${STAMPED_VEHICLES}) AS now
      LEFT JOIN fleet_logs AS l ON l.workspace_id = :workspace AND l.vehicle_id = now.vehicle_id
      WHERE now.fleet_group IS NOT NULL
        AND (l.stamp IS NOT now.stamp OR l.model_version IS NOT ? OR l.as_of NOT BETWEEN ? AND ?)`;
    await this.#scope.batch([
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace" },
      { sql: "DELETE FROM fleet_runs WHERE workspace_id = :workspace" },
      { sql: logs, params: [MODEL_VERSION, fresh_from, as_of] },
      {
        sql: `INSERT INTO fleet_runs (workspace_id, id, state, as_of, fresh_from, logs, answers, started_at, ended_at)
          SELECT :workspace, ?, 'logs', ?, ?,
            (SELECT count(*) FROM fleet_work WHERE workspace_id = :workspace), 0, ?, NULL`,
        params: [this.#scope.newId(), as_of, fresh_from, this.#scope.now()],
      },
    ]);
  }

  /** Stops the run; its results stay. */
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
    const rows = await this.#scope.all(
      `SELECT now.vehicle_id, now.stamp, ${USED_MEAN} AS used_mean, ${USED_SD} AS used_sd,
          a.input_hash, a.as_of, a.model_version
        FROM (SELECT v.id AS vehicle_id, v.fleet_group, v.kind, ${RECORD_STAMP} AS stamp
          FROM fleet_work AS t JOIN vehicles AS v ON v.workspace_id = t.workspace_id AND v.id = t.vehicle_id
          JOIN workspaces AS w ON w.workspace_id = t.workspace_id
          WHERE t.workspace_id = :workspace AND t.step = ? AND v.archived_at IS NULL
          ORDER BY t.vehicle_id LIMIT ?) AS now
        ${BESIDE} ORDER BY now.vehicle_id`,
      [...USED_PARAMS, step, limit],
    );
    return rows.map(taskOf).map(({ used_mean, used_sd, input_hash, as_of, model_version, ...task }) => ({
      ...task,
      used: { ln_x_mean: used_mean, ln_x_sd: used_sd },
      before:
        input_hash === null || as_of === null || model_version === null ? null : { input_hash, as_of, model_version },
    }));
  }

  /** Stores logs and marks them as done. */
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

  /** Moves the run to its next step, if it is still going on. Tasks left over belong to vehicles archived since. */
  async toCohorts(run_id: string): Promise<void> {
    await this.#scope.batch([
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace AND step = 'logs'" },
      {
        sql: "UPDATE fleet_runs SET state = 'cohorts' WHERE workspace_id = :workspace AND id = ? AND state = 'logs'",
        params: [run_id],
      },
    ]);
  }

  /** By group, what its vehicles are and what their logs say; those with a repair left out. */
  async likelihoods(): Promise<Map<string, { kind: VehicleKind | null; ln_likelihood: Float64Array }[]>> {
    const by_group = new Map<string, { kind: VehicleKind | null; ln_likelihood: Float64Array }[]>();
    let after = "";
    for (;;) {
      const rows = await this.#scope.all<GroupedLog>(
        `SELECT l.vehicle_id, v.fleet_group, v.kind, l.ln_likelihood FROM fleet_logs AS l
         JOIN vehicles AS v ON v.workspace_id = l.workspace_id AND v.id = l.vehicle_id
         WHERE l.workspace_id = :workspace AND l.vehicle_id > ? AND l.ln_likelihood IS NOT NULL
           AND v.fleet_group IS NOT NULL AND v.archived_at IS NULL
         ORDER BY l.vehicle_id LIMIT ?`,
        [after, LOGS_AT_ONCE],
      );
      for (const { fleet_group, kind, ln_likelihood } of rows) {
        const group = by_group.get(fleet_group) ?? [];
        group.push({ kind, ln_likelihood: Float64Array.from(JSON.parse(ln_likelihood) as number[]) });
        by_group.set(fleet_group, group);
      }
      if (rows.length < LOGS_AT_ONCE) return by_group;
      after = rows.at(-1)!.vehicle_id;
    }
  }

  /** Stores the groups, and lists as tasks the answers that are missing, old, or computed from something outdated. */
  async saveCohorts(run: Pick<FleetRun, "id" | "as_of" | "fresh_from">, cohorts: readonly Cohort[]): Promise<void> {
    const rows = cohorts.map(({ fleet_group, used, vehicles, ...fit }) => ({
      fleet_group,
      ln_x_mean: fit.ln_x_mean,
      ln_x_sd: fit.ln_x_sd,
      used_mean: used.ln_x_mean,
      used_sd: used.ln_x_sd,
      vehicles,
      mean_sd: fit.mean_sd,
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
            SELECT :workspace, now.vehicle_id, 'answers' FROM (${STAMPED_VEHICLES}) AS now ${BESIDE}
            WHERE a.stamp IS NOT now.stamp OR a.model_version IS NOT ? OR a.as_of NOT BETWEEN ? AND ?
              OR a.used_mean IS NOT ${USED_MEAN} OR a.used_sd IS NOT ${USED_SD}`,
          params: [MODEL_VERSION, run.fresh_from, run.as_of, ...USED_PARAMS],
        },
        {
          sql: `UPDATE fleet_runs SET state = 'answers',
              answers = (SELECT count(*) FROM fleet_work WHERE workspace_id = :workspace AND step = 'answers')
            WHERE workspace_id = :workspace AND id = ?`,
          params: [run.id],
        },
      ]);
    } catch (error) {
      // Another process did this step, or the run was stopped.
      if (!(error instanceof ConstraintFailed && error.what === "guard")) throw error;
    }
  }

  /** Stores answers and marks them as done. */
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
      currency: one.currency,
      ...figuresRow(one),
    }));
    const details = answers.map(({ vehicle_id, answer }) => ({ vehicle_id, answer: JSON.stringify(answer) }));
    const audit = answers.flatMap(({ vehicle_id, audit: years }) =>
      years.map((year) => ({ vehicle_id, ...auditRow(year) })),
    );
    await this.#scope.batch([
      ofVehicles("DELETE FROM fleet_answers", ids),
      ...insertRows("fleet_answers", rows),
      ...insertRows("fleet_details", details),
      ...insertRows("fleet_audit", audit),
      struckOff("answers", ids),
    ]);
  }

  /** Marks tasks as done whose answers still hold although their record changed: only their stamps are updated. */
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

  /** Ends a run; other programs are told what it changed. */
  async finish(run_id: string): Promise<void> {
    await this.#scope.batch([
      ...tellChanges(run_id, this.#scope.now()),
      { sql: "DELETE FROM fleet_work WHERE workspace_id = :workspace AND step = 'answers'" },
      {
        sql: `UPDATE fleet_runs SET state = 'done', ended_at = ?
          WHERE workspace_id = :workspace AND id = ? AND state = 'answers'`,
        params: [this.#scope.now(), run_id],
      },
    ]);
  }
}

/** Workspaces whose fleet was being reckoned when the server stopped. */
export async function unfinishedFleets(sql: Sql): Promise<string[]> {
  const rows = await sql.all<{ workspace_id: string }>(
    "SELECT workspace_id FROM fleet_runs WHERE state IN ('logs', 'cohorts', 'answers') ORDER BY workspace_id",
  );
  return rows.map(({ workspace_id }) => workspace_id);
}

function struckOff(step: "logs" | "answers", ids: readonly string[]): Statement {
  return {
    sql: `DELETE FROM fleet_work
      WHERE workspace_id = :workspace AND step = ? AND vehicle_id IN (SELECT value FROM json_each(?))`,
    params: [step, JSON.stringify(ids)],
  };
}
