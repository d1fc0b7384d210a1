import type { ClosedRow, ClosedYear } from "../core/fleet/closing.ts";
import type { GwpSet } from "../core/question/contract.ts";
import { GWP_SETS } from "../core/question/contract.ts";
import { type Columns, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { ConstraintFailed, notFound } from "./errors.ts";
import { AUDIT, FLEET_VEHICLE } from "./fleet-columns.ts";
import { MEAN_SD, MEAN_SD_PARAMS } from "./fleet-table.ts";
import { guard, type Scope } from "./scope.ts";

const CLOSED_YEAR: Columns<ClosedYear> = {
  year: number,
  number,
  model_version: text,
  gwp: oneOf(GWP_SETS),
  vehicles: number,
  closed_at: text,
  closed_by: text,
  reopened_at: nullable(text),
  reopened_by: nullable(text),
};
const { id: _, ...VEHICLE } = FLEET_VEHICLE;
const CLOSED_ROW: Columns<ClosedRow> = { vehicle_id: text, number, ...VEHICLE, ...AUDIT, mean_sd: number };

export const SELECT_CLOSED_YEARS = `SELECT ${namesOf(CLOSED_YEAR).join(", ")} FROM fleet_closed_years`;
export const closedYearOf = rowReader(CLOSED_YEAR);
export const closedYearRow = rowWriter(CLOSED_YEAR);
export const SELECT_CLOSED_ROWS = `SELECT ${namesOf(CLOSED_ROW).join(", ")} FROM fleet_closed_rows`;
export const closedRowOf = rowReader(CLOSED_ROW);
export const closedRowRow = rowWriter(CLOSED_ROW);

/** Closed years of the audit, each as it was reported. */
export class FleetClosings {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** Every closing of a year, the latest first. */
  async ofYear(year: number): Promise<ClosedYear[]> {
    const rows = await this.#scope.all(
      `${SELECT_CLOSED_YEARS} WHERE workspace_id = :workspace AND year = ? ORDER BY number DESC`,
      [year],
    );
    return rows.map(closedYearOf);
  }

  /** The years that are closed now. */
  async years(): Promise<number[]> {
    const rows = await this.#scope.all<{ year: number }>(
      `SELECT DISTINCT year FROM fleet_closed_years WHERE workspace_id = :workspace AND reopened_at IS NULL
       ORDER BY year DESC`,
    );
    return rows.map(({ year }) => year);
  }

  /** The vehicles of a closing, by name as it was. */
  async rows({ year, number: closing }: Pick<ClosedYear, "year" | "number">): Promise<ClosedRow[]> {
    const rows = await this.#scope.all(
      `${SELECT_CLOSED_ROWS} WHERE workspace_id = :workspace AND year = ? AND number = ? ORDER BY label, vehicle_id`,
      [year, closing],
    );
    return rows.map(closedRowOf);
  }

  /**
   * Closes a year as it is calculated now; an earlier closing of it stays. `after` is the number of the closing that
   * the page knew of, 0 for none. False when someone else was first.
   */
  async close(year: number, after: number, { gwp, model_version }: { gwp: GwpSet; model_version: string }) {
    this.#scope.require("editor");
    const kept = namesOf(AUDIT).filter((name) => name !== "year");
    const vehicle = namesOf(VEHICLE as Columns<Omit<ClosedRow, "vehicle_id">>);
    return await this.#unlessOvertaken([
      lastIs(year, after),
      {
        sql: `INSERT INTO fleet_closed_years (workspace_id, year, number, model_version, gwp, vehicles, closed_at, closed_by)
          SELECT :workspace, ?, ?, ?, ?, count(*), ?, ? FROM vehicles
          WHERE workspace_id = :workspace AND archived_at IS NULL`,
        params: [year, after + 1, model_version, gwp, this.#scope.now(), this.#scope.actor],
      },
      {
        sql: `INSERT INTO fleet_closed_rows (workspace_id, year, number, vehicle_id, ${vehicle.join(", ")}, ${kept.join(", ")}, mean_sd)
          SELECT :workspace, y.year, ?, v.id, ${vehicle.map((name) => `v.${name}`).join(", ")},
            ${kept.map((name) => `y.${name}`).join(", ")}, ${MEAN_SD}
          FROM vehicles AS v
          JOIN fleet_audit AS y ON y.workspace_id = v.workspace_id AND y.vehicle_id = v.id AND y.year = ?
          LEFT JOIN fleet_cohorts AS k ON k.workspace_id = v.workspace_id AND k.fleet_group = v.fleet_group
          WHERE v.workspace_id = :workspace AND v.archived_at IS NULL`,
        params: [after + 1, ...MEAN_SD_PARAMS, year],
      },
    ]);
  }

  /** Opens a year again that was closed by mistake; what was reported is kept. False when someone else was first. */
  async reopen(year: number, closing: number): Promise<boolean> {
    this.#scope.require("editor");
    if ((await this.ofYear(year)).length === 0) throw notFound("closed year");
    return await this.#unlessOvertaken([
      lastIs(year, closing),
      {
        sql: `UPDATE fleet_closed_years SET reopened_at = ?, reopened_by = ?
          WHERE workspace_id = :workspace AND year = ? AND number = ? AND reopened_at IS NULL`,
        params: [this.#scope.now(), this.#scope.actor, year, closing],
      },
    ]);
  }

  async #unlessOvertaken(statements: Parameters<Scope["batch"]>[0]): Promise<boolean> {
    try {
      await this.#scope.batch(statements);
      return true;
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard") return false;
      throw error;
    }
  }
}

/** Undoes its batch unless the last closing of a year has this number; 0: there is none. */
function lastIs(year: number, closing: number) {
  return guard(
    "coalesce((SELECT max(number) FROM fleet_closed_years WHERE workspace_id = :workspace AND year = ?), 0) = ?",
    [year, closing],
  );
}
