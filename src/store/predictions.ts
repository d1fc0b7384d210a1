import { MODEL_VERSION } from "../core/assess.ts";
import type { FleetVehicle } from "../core/fleet/row.ts";
import type { Prediction } from "../core/hindsight/replay.ts";
import { SPELL_ENDS } from "../core/hindsight/spells.ts";
import { insertRows, ofVehicles } from "./bulk.ts";
import { type Columns, columnsOf, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { FLEET_VEHICLE } from "./fleet-columns.ts";
import { RECORD_STAMP, STAMPED_VEHICLES } from "./record-stamp.ts";
import type { Scope } from "./scope.ts";
import type { Sql } from "./sql.ts";

/** A vehicle whose charges are to be predicted again: its state now, and what its present predictions rest on. */
export interface PredictionTask {
  vehicle_id: string;
  stamp: string;
  before: PredictedFrom | null;
}

/** What a vehicle's predictions rest on. */
interface PredictedFrom {
  input_hash: string;
  model_version: string;
  as_of: string;
}

type TaskRow = Pick<PredictionTask, "vehicle_id" | "stamp"> & {
  [Name in keyof PredictedFrom]: PredictedFrom[Name] | null;
};

/** The predictions of a vehicle, and the state of its record that they rest on. */
export interface PredictedVehicle extends Pick<PredictionTask, "vehicle_id" | "stamp"> {
  input_hash: string;
  predictions: readonly Prediction[];
}

/** How far a run is. */
export interface PredictionRun {
  id: string;
  as_of: string;
  all: number;
  left: number;
  under_way: boolean;
}

/** A prediction with the vehicle that it is of. */
export interface VehiclePrediction extends Prediction {
  vehicle: Pick<FleetVehicle, "id" | "label" | "fleet_group" | "depot">;
}

interface Stored extends Omit<Prediction, "from" | "until"> {
  from_date: string;
  until_date: string;
}

const STORED: Columns<Stored> = {
  from_date: text,
  until_date: text,
  ended: oneOf(SPELL_ENDS),
  low_on: nullable(text),
  p05: nullable(text),
  p50: nullable(text),
  p95: nullable(text),
  chance: number,
  by_rule: nullable(text),
};
const storedOf = rowReader(STORED);
const storedRow = rowWriter(STORED);
const vehicleOf = rowReader(columnsOf(FLEET_VEHICLE, ["id", "label", "fleet_group", "depot"]));
const PREDICTION = namesOf(STORED).map((name) => `p.${name}`);

function predictionOf({ from_date, until_date, ...one }: Stored): Prediction {
  return { from: from_date, until: until_date, ...one };
}

/** Past charges as the model would have predicted them: computed for the whole workspace in slices, and kept. */
export class Predictions {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** The last run and how far it is; null before the first. */
  async run(): Promise<PredictionRun | null> {
    const [row] = await this.#scope.all<{ id: string; as_of: string; vehicles: number; left: number; ended: 0 | 1 }>(
      `SELECT id, as_of, vehicles, ended_at IS NOT NULL AS ended,
         (SELECT count(*) FROM prediction_work WHERE workspace_id = :workspace) AS left
       FROM prediction_runs WHERE workspace_id = :workspace`,
    );
    if (row === undefined) return null;
    return { id: row.id, as_of: row.as_of, all: row.vehicles, left: row.left, under_way: row.ended === 0 };
  }

  /** The number of vehicles to predict anew: new, changed, or known up to another day than `fresh_from` to `today`. */
  async due(fresh_from: string, today: string): Promise<number> {
    const [row] = await this.#scope.all<{ due: number }>(
      `SELECT count(*) AS due FROM ${DUE.from} WHERE ${DUE.condition}`,
      [MODEL_VERSION, fresh_from, today],
    );
    return row!.due;
  }

  /**
   * Starts a run in place of the one before, whose unfinished work it takes over. It follows a fleet's run, whoever's
   * look at that brought it to its end: so it asks for no role.
   */
  async begin(as_of: string, fresh_from: string): Promise<void> {
    await this.#scope.batch([
      { sql: "DELETE FROM prediction_work WHERE workspace_id = :workspace" },
      { sql: "DELETE FROM prediction_runs WHERE workspace_id = :workspace" },
      {
        sql: `INSERT INTO prediction_work (workspace_id, vehicle_id)
          SELECT :workspace, now.vehicle_id FROM ${DUE.from} WHERE ${DUE.condition}`,
        params: [MODEL_VERSION, fresh_from, as_of],
      },
      {
        sql: `INSERT INTO prediction_runs (workspace_id, id, as_of, vehicles, ended_at)
          SELECT :workspace, ?, ?, (SELECT count(*) FROM prediction_work WHERE workspace_id = :workspace), NULL`,
        params: [this.#scope.newId(), as_of],
      },
    ]);
  }

  /** The run that is under way, without counting what is left; null when none is. */
  async underWay(): Promise<Pick<PredictionRun, "id" | "as_of"> | null> {
    const [run] = await this.#scope.all<Pick<PredictionRun, "id" | "as_of">>(
      "SELECT id, as_of FROM prediction_runs WHERE workspace_id = :workspace AND ended_at IS NULL",
    );
    return run ?? null;
  }

  /** The next vehicles of the run, without those put away since. */
  async tasks(limit: number): Promise<PredictionTask[]> {
    const rows = await this.#scope.all<TaskRow>(
      `SELECT v.id AS vehicle_id, ${RECORD_STAMP} AS stamp, b.input_hash, b.model_version, b.as_of
       FROM prediction_work AS t JOIN vehicles AS v ON v.workspace_id = t.workspace_id AND v.id = t.vehicle_id
       JOIN workspaces AS w ON w.workspace_id = t.workspace_id
       LEFT JOIN predicted_vehicles AS b ON b.workspace_id = t.workspace_id AND b.vehicle_id = t.vehicle_id
       WHERE t.workspace_id = :workspace AND v.archived_at IS NULL ORDER BY t.vehicle_id LIMIT ?`,
      [limit],
    );
    return rows.map(({ vehicle_id, stamp, input_hash, model_version, as_of }) => ({
      vehicle_id,
      stamp,
      before:
        input_hash === null || model_version === null || as_of === null ? null : { input_hash, model_version, as_of },
    }));
  }

  /** Stores predictions, known up to `as_of`, and marks their vehicles as done. */
  async save(as_of: string, predicted: readonly PredictedVehicle[]): Promise<void> {
    const ids = predicted.map(({ vehicle_id }) => vehicle_id);
    await this.#scope.batch([
      ofVehicles("DELETE FROM predicted_vehicles", ids),
      ...insertRows(
        "predicted_vehicles",
        predicted.map(({ predictions: _, ...one }) => ({ ...one, model_version: MODEL_VERSION, as_of })),
      ),
      ...insertRows(
        "predictions",
        predicted.flatMap(({ vehicle_id, predictions }) =>
          predictions.map(({ from, until, ...one }) => ({
            vehicle_id,
            ...storedRow({ from_date: from, until_date: until, ...one }),
          })),
        ),
      ),
      ofVehicles("DELETE FROM prediction_work", ids),
    ]);
  }

  /** Predictions that hold although something else about the record changed: their stamp is set. */
  async keep(kept: readonly Pick<PredictionTask, "vehicle_id" | "stamp">[]): Promise<void> {
    const pairs = JSON.stringify(kept.map(({ vehicle_id, stamp }) => [vehicle_id, stamp]));
    const ids = kept.map(({ vehicle_id }) => vehicle_id);
    const stamp = "SELECT value ->> 1 FROM json_each(?) WHERE value ->> 0 = vehicle_id";
    await this.#scope.batch([
      ofVehicles(`UPDATE predicted_vehicles SET stamp = (${stamp})`, ids, [pairs]),
      ofVehicles("DELETE FROM prediction_work", ids),
    ]);
  }

  async finish(run_id: string): Promise<void> {
    await this.#scope.batch([
      { sql: "DELETE FROM prediction_work WHERE workspace_id = :workspace" },
      {
        sql: "UPDATE prediction_runs SET ended_at = ? WHERE workspace_id = :workspace AND id = ? AND ended_at IS NULL",
        params: [this.#scope.now(), run_id],
      },
    ]);
  }

  /** All predictions of vehicles in use, by vehicle and day. */
  async all(): Promise<VehiclePrediction[]> {
    const rows = await this.#scope.all(
      `SELECT v.id, v.label, v.fleet_group, v.depot, ${PREDICTION.join(", ")} FROM predictions AS p
       JOIN vehicles AS v ON v.workspace_id = p.workspace_id AND v.id = p.vehicle_id
       WHERE p.workspace_id = :workspace AND v.archived_at IS NULL ORDER BY p.vehicle_id, p.from_date`,
    );
    return rows.map((row) => ({ ...predictionOf(storedOf(row)), vehicle: vehicleOf(row) }));
  }

  /** Those of one vehicle, oldest first; null where its log says something else by now, or none were made. */
  async ofVehicle(vehicle_id: string, input_hash: string): Promise<Prediction[] | null> {
    const [of, rows] = await this.#scope.batch([
      {
        sql: `SELECT 1 FROM predicted_vehicles
          WHERE workspace_id = :workspace AND vehicle_id = ? AND input_hash = ? AND model_version = ?`,
        params: [vehicle_id, input_hash, MODEL_VERSION],
      },
      {
        sql: `SELECT ${PREDICTION.join(", ")} FROM predictions AS p
          WHERE p.workspace_id = :workspace AND p.vehicle_id = ? ORDER BY p.from_date`,
        params: [vehicle_id],
      },
    ]);
    return of!.length === 0 ? null : rows!.map((row) => predictionOf(storedOf(row)));
  }
}

/** Vehicles in use whose predictions are missing or old; takes the model's version, `fresh_from` and today. */
const DUE = {
  from: `(${STAMPED_VEHICLES}) AS now
    LEFT JOIN predicted_vehicles AS b ON b.workspace_id = :workspace AND b.vehicle_id = now.vehicle_id`,
  condition: "b.stamp IS NOT now.stamp OR b.model_version IS NOT ? OR b.as_of NOT BETWEEN ? AND ?",
} as const;

/** Workspaces whose past charges were being predicted when the server stopped. */
export async function unfinishedPredictions(sql: Sql): Promise<string[]> {
  const rows = await sql.all<{ workspace_id: string }>(
    "SELECT workspace_id FROM prediction_runs WHERE ended_at IS NULL ORDER BY workspace_id",
  );
  return rows.map(({ workspace_id }) => workspace_id);
}
