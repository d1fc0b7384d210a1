import { type FleetTerms, type ScopedTerms, TERM_SCOPES, type TermScope } from "../core/fleet/terms.ts";
import { json, nullable, number, oneOf, rowReader, text } from "./columns.ts";
import type { Scope } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";

/** Between which days every charge of a vehicle is logged. */
export interface Logged {
  vehicle_id: string;
  from_date: string | null;
  until_date: string;
  missed: number;
}

/** Vehicles meant at once: all in use, those of a group or a depot, or some by their ids. */
export type Meant = { scope: TermScope; name: string } | { ids: readonly string[] };

export const termsRow = rowReader({ scope: oneOf(TERM_SCOPES), name: text, terms: json<FleetTerms>() });
export const loggedRow = rowReader({
  vehicle_id: text,
  from_date: nullable(text),
  until_date: text,
  missed: number,
});
export const beliefRow = rowReader({ fleet_group: text, ln_x_mean: number, ln_x_sd: number });

/** Reads every `termsRow`. */
export const readTerms: Statement = {
  sql: "SELECT scope, name, terms FROM fleet_terms WHERE workspace_id = :workspace ORDER BY scope, name",
};

/** Reads the `loggedRow` of some vehicles. */
export function readLogged(vehicle_ids: readonly string[]): Statement {
  return {
    sql: `SELECT vehicle_id, from_date, until_date, missed FROM fleet_logged
      WHERE workspace_id = :workspace AND vehicle_id IN (SELECT value FROM json_each(?))`,
    params: [JSON.stringify(vehicle_ids)],
  };
}

/** Reads the `beliefRow` of every group that has logs enough; `enough` vehicles. */
export function readBeliefs(enough: number): Statement {
  return {
    sql: `SELECT fleet_group, used_mean AS ln_x_mean, used_sd AS ln_x_sd FROM fleet_cohorts
      WHERE workspace_id = :workspace AND vehicles >= ?`,
    params: [enough],
  };
}

/** What a fleet says once for many vehicles. */
export class FleetTermsStore {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  async all(): Promise<ScopedTerms[]> {
    return (await this.#scope.all(readTerms.sql)).map(termsRow);
  }

  /** Puts terms in place of those of a scope; empty ones say nothing. */
  async set(scope: TermScope, name: string, terms: FleetTerms): Promise<void> {
    this.#scope.require("editor");
    await this.#scope.batch([
      {
        sql: `INSERT INTO fleet_terms (workspace_id, scope, name, terms, version, updated_at, updated_by)
          SELECT :workspace, ?, ?, ?, 1, ?, ? WHERE true
          ON CONFLICT (workspace_id, scope, name) DO UPDATE SET terms = excluded.terms,
            version = fleet_terms.version + 1, updated_at = excluded.updated_at, updated_by = excluded.updated_by`,
        params: [scope, name, JSON.stringify(terms), this.#scope.now(), this.#scope.actor],
      },
    ]);
  }

  /** Says that every charge of these vehicles is logged, or, with null, takes it back. */
  async setLogged(meant: Meant, said: Omit<Logged, "vehicle_id"> | null): Promise<void> {
    this.#scope.require("editor");
    const { condition, params } = vehiclesMeant(meant);
    const cleared: Statement = {
      sql: `DELETE FROM fleet_logged WHERE workspace_id = :workspace AND vehicle_id IN (
        SELECT v.id FROM vehicles AS v WHERE v.workspace_id = :workspace AND ${condition})`,
      params,
    };
    const set = (one: Omit<Logged, "vehicle_id">): Statement => ({
      sql: `INSERT INTO fleet_logged (workspace_id, vehicle_id, from_date, until_date, missed)
        SELECT :workspace, v.id, ?, ?, ? FROM vehicles AS v WHERE v.workspace_id = :workspace AND ${condition}`,
      params: [one.from_date, one.until_date, one.missed, ...params],
    });
    await this.#scope.batch(said === null ? [cleared] : [cleared, set(said)]);
  }

  /** How many vehicles in use there are, how many are said to be logged whole, and the span that most of them have. */
  async loggedCounts(): Promise<{ vehicles: number; logged: number; latest: string | null; missed: number | null }> {
    const [row] = await this.#scope.all<{
      vehicles: number;
      logged: number;
      latest: string | null;
      missed: number | null;
    }>(
      `SELECT count(*) AS vehicles, count(l.vehicle_id) AS logged, max(l.until_date) AS latest, max(l.missed) AS missed
       FROM vehicles AS v LEFT JOIN fleet_logged AS l ON l.workspace_id = v.workspace_id AND l.vehicle_id = v.id
       WHERE v.workspace_id = :workspace AND v.archived_at IS NULL`,
    );
    return row!;
  }

  /** The ids of the vehicles meant that have no entry on or after `day`. */
  async quietSince(meant: Meant, day: string): Promise<string[]> {
    const { condition, params } = vehiclesMeant(meant);
    const rows = await this.#scope.all<{ id: string }>(
      `SELECT v.id FROM vehicles AS v WHERE v.workspace_id = :workspace AND ${condition} AND NOT EXISTS (
         SELECT 1 FROM charge_log AS c WHERE c.workspace_id = v.workspace_id AND c.vehicle_id = v.id AND c.date >= ?)
       ORDER BY v.sort_key, v.id`,
      [...params, day],
    );
    return rows.map(({ id }) => id);
  }
}

function vehiclesMeant(meant: Meant): { condition: string; params: Param[] } {
  const used = "v.archived_at IS NULL";
  if ("ids" in meant) {
    return {
      condition: `${used} AND v.id IN (SELECT value FROM json_each(?))`,
      params: [JSON.stringify(meant.ids)],
    };
  }
  if (meant.scope === "fleet") return { condition: used, params: [] };
  return { condition: `${used} AND v.${meant.scope === "group" ? "fleet_group" : "depot"} = ?`, params: [meant.name] };
}
