import type { ChargeEntry, Line } from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { readingNow, vehicleNowOf } from "./entries-here.ts";
import { particularsUpdate, type WrittenKind } from "./fleet-import-plan.ts";
import type { VehicleChange } from "./imported-vehicle.ts";
import { lineReader, lineRow, select } from "./ledger.ts";
import { Pace } from "./pace.ts";
import type { Scope } from "./scope.ts";
import type { Param, Row, Statement } from "./sql.ts";

/** What was taken back of an import, and what stays since something was built on it. */
export interface Undone {
  entries_removed: number;
  entries_restored: number;
  vehicles_removed: number;
  vehicles_restored: number;
  /** Entries that were changed since, or belong to work that was recorded. */
  entries_kept: number;
  /** Vehicles that were changed since, or that have other entries, quotes, notes or papers. */
  vehicles_kept: number;
}

/** Rows of an import that are looked at in one change. */
const SLICE = 1000;

interface WrittenRow {
  subject_id: string;
  version: number;
  before: string | null;
}

/** Tables whose rows about a vehicle did not come from an import. */
const BUILT_ON = [
  "charge_log",
  "findings",
  "readings",
  "notes",
  "quotes",
  "vehicle_particulars",
  "invoices",
  "refrigerant_work",
  "follow_ups_closed",
  "fleet_locks",
  "external_ids",
];

/**
 * Takes back what an import wrote, as far as nothing was built on it: entries and vehicles that nobody has touched
 * since are deleted, as if the file had never come; what it corrected says again what it said before. In slices; may be
 * repeated.
 */
export async function takeBack(scope: Scope, import_id: string): Promise<Undone> {
  scope.require("editor");
  const undone: Undone = {
    entries_removed: 0,
    entries_restored: 0,
    vehicles_removed: 0,
    vehicles_restored: 0,
    entries_kept: 0,
    vehicles_kept: 0,
  };
  const each = async (kind: WrittenKind, take: (rows: readonly WrittenRow[]) => Promise<ReadonlySet<string>>) => {
    const pace = new Pace();
    let after = "";
    let kept = 0;
    let taken_back = 0;
    for (;;) {
      const rows = await scope.all<WrittenRow & Row>(
        `SELECT subject_id, version, before FROM import_rows
         WHERE workspace_id = :workspace AND import_id = ? AND kind = ? AND subject_id > ? ORDER BY subject_id LIMIT ?`,
        [import_id, kind, after, SLICE],
      );
      if (rows.length === 0) return { kept, taken_back };
      after = rows.at(-1)!.subject_id;
      const done = await take(rows);
      taken_back += done.size;
      kept += rows.length - done.size;
      await scope.all(
        `DELETE FROM import_rows WHERE workspace_id = :workspace AND import_id = ? AND kind = ?
           AND subject_id IN (SELECT value FROM json_each(?)) RETURNING subject_id`,
        [import_id, kind, JSON.stringify([...done])],
      );
      if (pace.due) await pace.rest();
    }
  };
  const corrections = await each("correction", (rows) => restoreEntries(scope, rows));
  const entries = await each("entry", (rows) => deleteEntries(scope, rows));
  const particulars = await each("particulars", (rows) => restoreParticulars(scope, rows));
  const vehicles = await each("vehicle", (rows) => deleteVehicles(scope, rows));
  undone.entries_restored = corrections.taken_back;
  undone.entries_removed = entries.taken_back;
  undone.vehicles_restored = particulars.taken_back;
  undone.vehicles_removed = vehicles.taken_back;
  undone.entries_kept = corrections.kept + entries.kept;
  undone.vehicles_kept = particulars.kept + vehicles.kept;
  return undone;
}

async function deleteEntries(scope: Scope, rows: readonly WrittenRow[]): Promise<ReadonlySet<string>> {
  const ids = JSON.stringify(rows.map(({ subject_id }) => subject_id));
  const [, deleted] = await scope.batch([
    takingBack(1),
    {
      sql: `DELETE FROM charge_log WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))
        AND NOT EXISTS (SELECT 1 FROM charge_log AS next WHERE next.workspace_id = :workspace
          AND next.id = charge_log.id AND next.version > 1)
        AND NOT EXISTS (SELECT 1 FROM refrigerant_work AS w WHERE w.workspace_id = :workspace
          AND w.log_id = charge_log.id)
        AND NOT EXISTS (SELECT 1 FROM external_ids AS x WHERE x.workspace_id = :workspace AND x.kind = 'event'
          AND x.subject_id = charge_log.id) RETURNING id`,
      params: [ids],
    },
    {
      sql: `DELETE FROM entry_orders WHERE workspace_id = :workspace AND entry_id IN (SELECT value FROM json_each(?))
        AND NOT EXISTS (SELECT 1 FROM charge_log AS c
          WHERE c.workspace_id = :workspace AND c.id = entry_orders.entry_id)`,
      params: [ids],
    },
    takingBack(0),
  ]);
  return new Set(deleted!.map(({ id }) => String(id)));
}

/** Lifts, and puts back in the same change, what keeps lines from being deleted. */
function takingBack(now: 0 | 1): Statement {
  return { sql: "UPDATE workspaces SET taking_back = ? WHERE workspace_id = :workspace", params: [now] };
}

/** Restores the entries that the import corrected and that still hold its correction. */
async function restoreEntries(scope: Scope, rows: readonly WrittenRow[]): Promise<ReadonlySet<string>> {
  const version_of = new Map(rows.map(({ subject_id, version }) => [subject_id, version]));
  const found = await scope.all(
    `${select(chargeLogTable)} WHERE line.workspace_id = :workspace
       AND line.id IN (SELECT value FROM json_each(?)) ORDER BY line.id, line.version`,
    [JSON.stringify([...version_of.keys()])],
  );
  const lines: Line<ChargeEntry>[] = found.map(lineReader(chargeLogTable));
  const restored: Record<string, Param>[] = [];
  const done = new Set<string>();
  for (const [id, versions] of Map.groupBy(lines, (line) => line.id)) {
    const ours = version_of.get(id)!;
    const before = versions.find(({ version }) => version === ours - 1);
    if (versions.at(-1)!.version !== ours || before === undefined) continue;
    done.add(id);
    const head = { version: ours + 1, change: "restored" as const, recorded_at: scope.now(), recorded_by: scope.actor };
    restored.push(lineRow(chargeLogTable, { ...before, ...head }));
  }
  await scope.batch(insertRows("charge_log", restored));
  return done;
}

async function restoreParticulars(scope: Scope, rows: readonly WrittenRow[]): Promise<ReadonlySet<string>> {
  const [found] = await scope.batch([readingNow(rows.map(({ subject_id }) => subject_id))]);
  const by_id = new Map(found!.map(vehicleNowOf).map((one) => [one.id, one]));
  const done = new Set<string>();
  const statements: Statement[] = [];
  for (const { subject_id, version, before } of rows) {
    const now = by_id.get(subject_id);
    if (now?.version !== version || before === null) continue;
    done.add(subject_id);
    const particulars: VehicleChange = JSON.parse(before);
    statements.push(...particularsUpdate({ ...now, ...particulars }, scope.now(), scope.actor));
  }
  await scope.batch(statements);
  return done;
}

async function deleteVehicles(scope: Scope, rows: readonly WrittenRow[]): Promise<ReadonlySet<string>> {
  const built_on = BUILT_ON.map(
    (table) =>
      `AND NOT EXISTS (SELECT 1 FROM ${table} AS t WHERE t.workspace_id = :workspace AND t.vehicle_id = vehicles.id)`,
  );
  const [deleted] = await scope.batch([
    {
      sql: `DELETE FROM vehicles WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))
        AND version = 1 ${built_on.join("\n")} RETURNING id`,
      params: [JSON.stringify(rows.map(({ subject_id }) => subject_id))],
    },
  ]);
  return new Set(deleted!.map(({ id }) => String(id)));
}
