import type { NodeSql } from "./node-sqlite.ts";

/** What is worked out anew for a fleet: nothing is lost with it. In the order in which they refer to each other. */
const WORKED_OUT = ["fleet_logs", "fleet_answers", "fleet_details", "fleet_audit"];

/**
 * Brings a database from the hours in which 0005 and 0006 still changed to what these files say: `read` gives the text
 * of a migration.
 */
export async function finishFirstFiles(db: NodeSql, read: (name: string) => string): Promise<void> {
  const has = async (table: string, column: string) =>
    (await db.all("SELECT 1 FROM pragma_table_info(?) WHERE name = ?", [table, column])).length > 0;
  if (
    (await has("fleet_answers", "answer")) ||
    ((await has("fleet_logs", "stamp")) && !(await has("fleet_logs", "as_of")))
  ) {
    const fleet = read("0005_fleet.sql");
    const drop = WORKED_OUT.toReversed().map((table) => `DROP TABLE IF EXISTS ${table};`);
    const make = WORKED_OUT.map((table) => new RegExp(`CREATE TABLE ${table} [\\s\\S]*?STRICT;`).exec(fleet)?.[0]);
    db.script([...drop, ...make].join("\n"));
  }
  if ((await has("readings", "id")) && !(await has("charge_log", "cooling_after")))
    db.script(/^ALTER TABLE charge_log ADD COLUMN cooling_after .*/m.exec(read("0006_readings.sql"))?.[0] ?? "");
}
