import type { Sql } from "./sql.ts";
import { WORKSPACE_TABLES } from "./workspace-tables.ts";

/** What the engine needs for a row beside its values: a header, its place in the tree and in an index or two. */
const BYTES_OF_A_ROW = 60;

/**
 * About how many bytes a workspace takes: all that stands in rows with its id. Reads all of them: some 300 MB a second.
 */
export async function workspaceBytes(sql: Sql, workspace_id: string): Promise<number> {
  const columns = await sql.all<{ table_name: string; name: string }>(COLUMNS);
  let bytes = 0;
  for (const [table, own] of Map.groupBy(columns, ({ table_name }) => table_name)) {
    const sums = own.map(({ name }, i) => `sum(length(CAST("${name}" AS BLOB))) AS c${i}`).join(", ");
    const [row] = await sql.all<Record<string, number | null>>(
      `SELECT count(*) AS lines, ${sums} FROM ${table} WHERE workspace_id = ?`,
      [workspace_id],
    );
    const { lines = 0, ...values } = row!;
    bytes += BYTES_OF_A_ROW * (lines ?? 0) + Object.values(values).reduce<number>((sum, n) => sum + (n ?? 0), 0);
  }
  return bytes;
}

/** Names of tables and columns come from our own migrations. */
const COLUMNS = `SELECT t.name AS table_name, c.name FROM (${WORKSPACE_TABLES}) AS t JOIN pragma_table_info(t.name) AS c
  ORDER BY t.name, c.cid`;
