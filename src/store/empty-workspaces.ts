import { subMilliseconds } from "date-fns";
import { millisecondsInDay } from "date-fns/constants";
import { eraseWorkspace } from "./erase-workspace.ts";
import type { Sql } from "./sql.ts";
import { WORKSPACE_TABLES } from "./workspace-tables.ts";
import { LOCAL_WORKSPACE } from "./workspaces.ts";

/** Tables that do not count as records: what every workspace starts with, and its keys. */
const NOTHING_KEPT: ReadonlySet<string> = new Set(["workspaces", "access_keys", "sessions", "submissions"]);

/**
 * Deletes one workspace, with its links and keys, that has had no records and no visit for so many days, whole or not.
 * True when there was one, as there may be more. The local workspace is never deleted.
 */
export async function endEmptyWorkspace(sql: Sql, now: Date, days: number): Promise<boolean> {
  const tables = await sql.all<{ name: string }>(WORKSPACE_TABLES);
  const kept = tables.filter(({ name }) => !NOTHING_KEPT.has(name));
  const before = subMilliseconds(now, days * millisecondsInDay).toISOString();
  const candidates = await sql.all<{ workspace_id: string }>(
    `SELECT workspace_id FROM workspaces AS w WHERE w.updated_at < ? AND w.workspace_id <> ?
       AND NOT EXISTS (SELECT 1 FROM vehicles AS v WHERE v.workspace_id = w.workspace_id)
       AND NOT EXISTS (SELECT 1 FROM access_keys AS k WHERE k.workspace_id = w.workspace_id
         AND max(k.created_at, coalesce(k.exchanged_at, ''), coalesce(k.last_used_at, '')) >= ?)
     ORDER BY w.updated_at, w.workspace_id`,
    [before, LOCAL_WORKSPACE, before],
  );
  for (const { workspace_id } of candidates) {
    const looks = kept.map(({ name }) => ({
      sql: `SELECT 1 FROM ${name} WHERE workspace_id = ? LIMIT 1`,
      params: [workspace_id],
    }));
    if ((await sql.batch(looks)).some((rows) => rows.length > 0)) continue;
    await eraseWorkspace(sql, workspace_id);
    return true;
  }
  return false;
}

/** Whether there is a workspace here and not one vehicle, so that it may be one to be deleted. */
export async function mayBeEmpty(sql: Sql): Promise<boolean> {
  const found = await sql.all("SELECT 1 FROM workspaces WHERE NOT EXISTS (SELECT 1 FROM vehicles) LIMIT 1");
  return found.length > 0;
}
