import type { AgedVehicle, FleetFigures } from "../core/fleet/row.ts";
import { flag, json, namesOf, nullable, rowReader, text } from "./columns.ts";
import { AGED_VEHICLE, FIGURES } from "./fleet-columns.ts";
import { IN_ITS_MONEY } from "./fleet-query.ts";
import { type Page, pageOf } from "./page.ts";
import type { Scope } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { INSERT_MESSAGE } from "./webhook-outbox.ts";

/** What other programs are told of a fleet's answers: page by page when they ask, and when any changed. */

/** A vehicle with its answer; null until it is worked out. */
export interface ToldVehicle extends AgedVehicle {
  /** What other programs call it. */
  external_ids: { source: string; external_id: string }[];
  answer: ToldAnswer | null;
}

/** An answer as other programs get it. Money and grams are of a year. */
export interface ToldAnswer extends Omit<FleetFigures, "watch_date"> {
  as_of: string;
  currency: string;
  /** `YYYY-MM`: low again before it means repair; null where nothing is waited for. */
  watch_month: string | null;
  /** When recommendation or month became what they are. */
  changed_at: string | null;
}

export interface ToldQuery {
  limit: number;
  /** The id of the last vehicle of the page before. */
  after: string | null;
  fleet_group?: string | undefined;
  depot?: string | undefined;
  /** Only those that became what they are at this instant or later. */
  changed_since?: string | undefined;
}

const { watch_date: _, ...figures } = FIGURES;
const vehicleOf = rowReader(AGED_VEHICLE);
const idsOf = rowReader({ external_ids: json<ToldVehicle["external_ids"]>() });
const answerOf = rowReader<ToldAnswer>({
  as_of: text,
  currency: text,
  ...figures,
  low_now: flag,
  watch_month: nullable(text),
  changed_at: nullable(text),
});

/** As `watchDateAhead` has it. */
const WATCH_MONTH = "CASE WHEN a.watch_date > a.as_of THEN substr(a.watch_date, 1, 7) END";

/**
 * One page of the vehicles in use with their answers, by id: what is added or renamed meanwhile moves none of the
 * others from one page to another.
 */
export async function readTold(scope: Scope, query: ToldQuery): Promise<Page<ToldVehicle>> {
  const conditions: string[] = [];
  const params: Param[] = [];
  const add = (condition: string, value: string | null | undefined) => {
    if (value == null) return;
    conditions.push(`AND ${condition}`);
    params.push(value);
  };
  add("v.id > ?", query.after);
  add("v.fleet_group = ?", query.fleet_group);
  add("v.depot = ?", query.depot);
  add("t.changed_at >= ?", query.changed_since);
  const rows = await scope.all(
    `SELECT ${namesOf(AGED_VEHICLE).map((name) => `v.${name}`)}, a.as_of, a.currency,
       ${namesOf(figures).map((name) => `a.${name}`)}, ${WATCH_MONTH} AS watch_month, t.changed_at,
       (SELECT json_group_array(json_object('source', x.source, 'external_id', x.external_id)) FROM external_ids AS x
         WHERE x.workspace_id = v.workspace_id AND x.kind = 'vehicle' AND x.subject_id = v.id) AS external_ids
     FROM vehicles AS v
     LEFT JOIN fleet_answers AS a ON a.workspace_id = v.workspace_id AND a.vehicle_id = v.id AND ${IN_ITS_MONEY}
     LEFT JOIN fleet_told AS t ON t.workspace_id = v.workspace_id AND t.vehicle_id = a.vehicle_id
     WHERE v.workspace_id = :workspace AND v.archived_at IS NULL ${conditions.join(" ")} ORDER BY v.id LIMIT ?`,
    [...params, query.limit + 1],
  );
  const { items, next } = pageOf(rows, query.limit, ({ id }) => [String(id)]);
  const told = items.map((row) => ({
    ...vehicleOf(row),
    ...idsOf(row),
    answer: row.as_of === null ? null : answerOf(row),
  }));
  return { items: told, next };
}

/** Changes that a message lists; of more it says how many there are. */
const MOST_CHANGES_TOLD = 200;

/** Answers of vehicles in use that are other than what was told last, while a run is ending; its id. */
const CHANGED = `fleet_answers AS a
  JOIN vehicles AS v ON v.workspace_id = a.workspace_id AND v.id = a.vehicle_id AND v.archived_at IS NULL
  JOIN fleet_runs AS r ON r.workspace_id = a.workspace_id AND r.state = 'answers' AND r.id = ?
  LEFT JOIN fleet_told AS t ON t.workspace_id = a.workspace_id AND t.vehicle_id = a.vehicle_id
  WHERE a.workspace_id = :workspace AND (t.vehicle_id IS NULL OR t.verdict IS NOT a.verdict
    OR t.watch_month IS NOT ${WATCH_MONTH})`;

/**
 * Tells of the answers that a run changed, in one message whatever their number; first answers are only counted. For
 * the batch that ends the run, before it does.
 */
export function tellChanges(run_id: string, at: string): Statement[] {
  const one = `json_object('vehicle_id', a.vehicle_id,
    'recommendation', json_object('before', t.verdict, 'now', a.verdict),
    'watch_month', json_object('before', t.watch_month, 'now', ${WATCH_MONTH}))`;
  return [
    {
      sql: `${INSERT_MESSAGE}
        SELECT :workspace, 'fleet-' || counted.id, 'fleet.answers-changed',
          json_object('id', 'fleet-' || counted.id, 'event', 'fleet.answers-changed', 'at', ?, 'fleet',
            json_object('as_of', counted.as_of, 'first', counted.first, 'changed', counted.changed, 'changes',
              (SELECT json_group_array(json(listed.one)) FROM (SELECT ${one} AS one FROM ${CHANGED}
                AND t.vehicle_id IS NOT NULL ORDER BY a.vehicle_id LIMIT ?) AS listed))),
          'waiting', 0, ?, ?
        FROM webhooks AS w JOIN (SELECT r.id, r.as_of, sum(t.vehicle_id IS NULL) AS first,
            sum(t.vehicle_id IS NOT NULL) AS changed FROM ${CHANGED} GROUP BY r.id, r.as_of) AS counted
        WHERE w.workspace_id = :workspace
        ON CONFLICT DO NOTHING`,
      params: [at, run_id, MOST_CHANGES_TOLD, at, at, run_id],
    },
    {
      sql: `INSERT INTO fleet_told (workspace_id, vehicle_id, verdict, watch_month, changed_at)
        SELECT a.workspace_id, a.vehicle_id, a.verdict, ${WATCH_MONTH}, ? FROM ${CHANGED}
        ON CONFLICT (workspace_id, vehicle_id) DO UPDATE SET verdict = excluded.verdict,
          watch_month = excluded.watch_month, changed_at = excluded.changed_at`,
      params: [at, run_id],
    },
  ];
}
