import type { Param, Statement } from "./sql.ts";

/** Characters of JSON in one parameter; a value may have 2 MB on the hosted engine, and a character up to 3 bytes. */
const CHUNK_CHARS = 500_000;

/**
 * Statements that insert many rows, all with the same columns, in the order given. `on_conflict` says what becomes of
 * one that is there: `(workspace_id, id) DO UPDATE SET …`; without it the whole change fails.
 */
export function insertRows(
  table: string,
  rows: readonly Record<string, Param>[],
  on_conflict: string | null = null,
): Statement[] {
  const columns = Object.keys(rows[0] ?? {});
  const values = columns.map((_, i) => `value ->> ${i}`);
  const sql = `INSERT INTO ${table} (workspace_id, ${columns.join(", ")})
    SELECT :workspace, ${values.join(", ")} FROM json_each(?)${on_conflict === null ? "" : ` WHERE true ON CONFLICT ${on_conflict}`}`;
  return chunks(rows.map((row) => JSON.stringify(columns.map((column) => row[column])))).map((json) => ({
    sql,
    params: [json],
  }));
}

/**
 * A statement that inserts a row, or updates the one with the same workspace and `key` except in the columns `kept`.
 */
export function upsertRow(table: string, key: string, kept: readonly string[], row: Record<string, Param>): Statement {
  const columns = Object.keys(row);
  const changed = columns.filter((column) => column !== key && !kept.includes(column));
  return {
    sql: `INSERT INTO ${table} (workspace_id, ${columns.join(", ")}) VALUES (:workspace, ${columns.map(() => "?").join(", ")})
      ON CONFLICT (workspace_id, ${key}) DO UPDATE SET ${changed.map((column) => `${column} = excluded.${column}`).join(", ")}`,
    params: Object.values(row),
  };
}

function chunks(items: readonly string[]): string[] {
  const texts: string[] = [];
  let chunk: string[] = [];
  let chars = 0;
  const close = () => {
    if (chunk.length > 0) texts.push(`[${chunk.join(",")}]`);
    chunk = [];
    chars = 0;
  };
  for (const item of items) {
    if (chars + item.length > CHUNK_CHARS) close();
    chunk.push(item);
    chars += item.length + 1;
  }
  close();
  return texts;
}

/** A statement that goes for some vehicles of the workspace: `sql` up to its WHERE, with `params` of its own. */
export function ofVehicles(sql: string, ids: readonly string[], params: readonly Param[] = []): Statement {
  return {
    sql: `${sql} WHERE workspace_id = :workspace AND vehicle_id IN (SELECT value FROM json_each(?))`,
    params: [...params, JSON.stringify(ids)],
  };
}
