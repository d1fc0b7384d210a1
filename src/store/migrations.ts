import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { ConstraintFailed } from "./errors.ts";
import { finishFirstFiles } from "./first-files.ts";
import { NodeSql } from "./node-sqlite.ts";
import { isMigration, MIGRATIONS_TABLE, migrationScript, pendingNames, SELECT_APPLIED } from "./schema-versions.ts";

/**
 * Applies the numbered files that this database has not seen yet, in order, each whole or not at all. Throws `Problem`
 * unavailable when the database is newer than this program.
 */
export async function migrate(db: NodeSql, folder = migrationsFolder()): Promise<void> {
  await db.all(MIGRATIONS_TABLE);
  const applied = (await db.all<{ name: string }>(SELECT_APPLIED)).map(({ name }) => name);
  const pending = pendingNames(readdirSync(folder).filter(isMigration), applied);
  const read = (name: string) => readFileSync(join(folder, name), "utf8");
  if (pending.includes("0007_fleet_indexes.sql")) await finishFirstFiles(db, read);
  for (const name of pending) applyOnce(db, name, read(name));
}

/** The file that holds the records, in the data folder. */
export const DATABASE_FILE = "seepwise.sqlite";

/** Opens the database at `file`, made new if need be, with every migration applied. Throws `Problem` when it cannot. */
export async function openDatabase(file: string): Promise<NodeSql> {
  const sql = new NodeSql(file);
  try {
    await migrate(sql);
    sql.checkpoint();
    return sql;
  } catch (error) {
    sql.close();
    throw error;
  }
}

/** Applies a migration unless another process, starting on the same file, has recorded its name first. */
function applyOnce(db: NodeSql, name: string, sql: string): void {
  try {
    db.script(migrationScript({ name, sql }));
  } catch (error) {
    if (!(error instanceof ConstraintFailed && error.what === "d1_migrations.name")) throw error;
  }
}

/** `data/migrations` of the package, from the sources as from the built program. */
function migrationsFolder(): string {
  let folder = import.meta.dirname;
  while (!existsSync(join(folder, "package.json"))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error(`No data/migrations above ${import.meta.dirname}`);
    folder = parent;
  }
  return join(folder, "data", "migrations");
}
