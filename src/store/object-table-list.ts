import { DatabaseSync } from "node:sqlite";
import { oneOf, rowReader, text } from "./columns.ts";
import type { ObjectMigration } from "./object-migrations.ts";
import { EARLY_TABLES, type LateTable } from "./object-tables.ts";
import type { Row } from "./sql.ts";

const schemaRowOf = rowReader<{ type: "table" | "index" | "trigger"; name: string; tbl_name: string; sql: string }>({
  type: oneOf(["table", "index", "trigger"]),
  name: text,
  tbl_name: text,
  sql: text,
});

/** The late tables as all migrations leave them; for the build, since objects have no second database to ask. */
export function lateTables(migrations: readonly ObjectMigration[]): LateTable[] {
  const db = new DatabaseSync(":memory:");
  for (const { sql } of migrations) db.exec(sql);
  const rows = db
    .prepare("SELECT type, name, tbl_name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY rowid")
    .all()
    .map((row) => schemaRowOf(row as Row));
  const names = rows.filter(({ type, name }) => type === "table" && !EARLY_TABLES.has(name)).map(({ name }) => name);
  const indexes = migrations.flatMap((migration) => migration.indexes);
  const late = names
    .filter((name) => !name.startsWith("sqlite_"))
    .map((name) => {
      const own = rows.filter(({ tbl_name }) => tbl_name === name).map(({ sql }) => sql);
      const columns = db.prepare("SELECT name FROM pragma_table_info(?)").all(name) as { name: string }[];
      return {
        name,
        columns: columns.map((column) => column.name),
        sql: own,
        indexes: indexes.filter((index) => new RegExp(` ON ${name}\\b`).test(index)),
        needs: names.filter((other) => other !== name && own.some((sql) => new RegExp(`\\b${other}\\b`).test(sql))),
      };
    });
  db.close();
  return late;
}
