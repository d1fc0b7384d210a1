import type { PicturedVehicle, ReleaseYear } from "../core/fleet/pictures.ts";
import { type Columns, flag, namesOf, nullable, number, rowReader, text } from "./columns.ts";
import { type FleetQuery, IN_ITS_MONEY, JOINED, matching } from "./fleet-query.ts";
import type { Scope } from "./scope.ts";

const FIGURES: Columns<Omit<PicturedVehicle, "id" | "fleet_group">> = {
  leak_share: number,
  no_entries: flag,
  release_as_is_g: number,
  low_now: flag,
  next_low: nullable(text),
};

const vehicleOf = rowReader<PicturedVehicle>({ id: text, fleet_group: nullable(text), ...FIGURES });
const yearOf = rowReader<ReleaseYear>({ year: number, added_g: number, lost_g: number });

/** What the fleet's pictures need of each vehicle that matches `query` and has an answer. */
export async function readPictured(scope: Scope, query: FleetQuery): Promise<PicturedVehicle[]> {
  const { condition, params, all } = matching(query);
  const figures = namesOf(FIGURES).map((name) => `a.${name}`);
  // Of a whole fleet, the short rows in their own order are read from front to back: twice as fast.
  const joined = all
    ? `fleet_answers AS a CROSS JOIN vehicles AS v ON v.workspace_id = a.workspace_id AND v.id = a.vehicle_id
       WHERE a.workspace_id = :workspace AND ${IN_ITS_MONEY} AND ${condition}`
    : `${JOINED} WHERE ${condition} AND a.vehicle_id IS NOT NULL`;
  const rows = await scope.all(`SELECT v.id, v.fleet_group, ${figures.join(", ")} FROM ${joined}`, params);
  return rows.map((row) => vehicleOf(row));
}

/**
 * Grams added and lost in each calendar year after `after` by the vehicles that match `query`, the oldest year first.
 */
export async function readReleaseYears(scope: Scope, query: FleetQuery, after: number): Promise<ReleaseYear[]> {
  const { condition, params, all } = matching(query);
  const meant = all
    ? "y.vehicle_id NOT IN (SELECT id FROM vehicles WHERE workspace_id = :workspace AND archived_at IS NOT NULL)"
    : `y.vehicle_id IN (SELECT v.id FROM ${JOINED} WHERE ${condition})`;
  const rows = await scope.all(
    `SELECT y.year, sum(y.added_g) AS added_g, sum(y.lost_g) AS lost_g FROM fleet_audit AS y
     WHERE y.workspace_id = :workspace AND y.year > ? AND ${meant} GROUP BY y.year ORDER BY y.year`,
    [after, ...params],
  );
  return rows.map((row) => yearOf(row));
}

/** The labels of some vehicles, by id. */
export async function readLabels(scope: Scope, ids: readonly string[]): Promise<Map<string, string>> {
  const rows = await scope.all<{ id: string; label: string }>(
    `SELECT id, label FROM vehicles WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))
     ORDER BY id`,
    [JSON.stringify(ids)],
  );
  return new Map(rows.map(({ id, label }) => [id, label]));
}
