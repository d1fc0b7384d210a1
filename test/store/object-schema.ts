import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync, type SQLInputValue } from "node:sqlite";
import { type migrateObject, objectMigration } from "../../src/store/object-migrations.ts";
import { lateTables } from "../../src/store/object-table-list.ts";
import { ROOT } from "../support/paths.ts";

const FOLDER = join(ROOT, "data/migrations");

/** The migrations as objects apply them, from their files. */
export const MIGRATIONS = readdirSync(FOLDER)
  .sort()
  .map((name) => objectMigration({ name, sql: readFileSync(join(FOLDER, name), "utf8") }));

export const LATE = lateTables(MIGRATIONS);

type Storage = Parameters<typeof migrateObject>[0];

/** The storage of an object as far as migrations ask for it, with a SQLite of this process behind it. */
export function objectStorage(bytes = 0) {
  const db = new DatabaseSync(":memory:");
  const exec = (sql: string, ...params: SQLInputValue[]) => {
    const several = sql.trim().replace(/;$/, "").includes(";");
    if (several) db.exec(sql);
    const rows = several ? [] : db.prepare(sql).all(...params);
    return { toArray: () => rows };
  };
  const transactionSync = (work: () => unknown) => {
    db.exec("BEGIN");
    try {
      work();
      db.exec("COMMIT");
    } catch (error) {
      db.exec("ROLLBACK");
      throw error;
    }
  };
  const made: unknown = { sql: { exec, databaseSize: bytes }, transactionSync };
  return { db, storage: made as Storage };
}
