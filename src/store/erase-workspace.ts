import type { Sql, Statement } from "./sql.ts";
import { WORKSPACE_TABLES } from "./workspace-tables.ts";

/**
 * Deletes a whole workspace in one transaction: every row of every table that carries its id. The triggers that forbid
 * deleting single lines are dropped and made again within that transaction, so no other code can get around them.
 */
export async function eraseWorkspace(sql: Sql, workspace_id: string): Promise<void> {
  const [tables, triggers] = await sql.batch([{ sql: WORKSPACE_TABLES }, { sql: DELETE_TRIGGERS }]);
  const lifted = triggers!.map((trigger): Statement => ({ sql: `DROP TRIGGER ${trigger.name}` }));
  const deleted = tables!.map(
    ({ name }): Statement => ({ sql: `DELETE FROM ${name} WHERE workspace_id = ?`, params: [workspace_id] }),
  );
  const put_back = triggers!.map((trigger): Statement => ({ sql: String(trigger.sql) }));
  // Tables reference each other, so foreign keys are checked at the end, when all rows are gone.
  await sql.batch([{ sql: "PRAGMA defer_foreign_keys = ON" }, ...lifted, ...deleted, ...put_back]);
  await sql.changed?.(workspace_id);
}

/** Names of triggers come from our own migrations. */
const DELETE_TRIGGERS = `SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' AND sql LIKE '%BEFORE DELETE ON%'`;
