import type { DurableObjectStorage } from "@cloudflare/workers-types";
import { MIGRATIONS_TABLE, type Migration, migrationScript, pendingNames, SELECT_APPLIED } from "./schema-versions.ts";

type Storage = Pick<DurableObjectStorage, "sql" | "transactionSync">;

/** A migration as objects apply it. */
export interface ObjectMigration extends Migration {
  /** Its indexes, left out of `sql`: one car is found without them, and each costs a page. */
  indexes: readonly string[];
}

/** What an object may hold before its lists need indexes. */
const SMALL_BYTES = 1024 * 1024;

/**
 * A migration for objects, of which there is one for each workspace, most of them small: comments and air left out,
 * since the text of a table is kept with it; one tree in place of two for each table with a key; indexes only when it
 * has grown.
 */
export function objectMigration({ name, sql }: Migration): ObjectMigration {
  const compact = compactSql(sql)
    .replace(/CREATE TABLE [^;]*PRIMARY KEY[^;]*\)STRICT(?=;)/g, "$&,WITHOUT ROWID")
    // A small object does not have it.
    .replace(/DROP INDEX (?!IF EXISTS)/g, "DROP INDEX IF EXISTS ");
  const indexes = compact.match(INDEX) ?? [];
  return {
    name,
    sql: compact.replace(INDEX, ""),
    indexes: indexes.map((one) => one.replace("INDEX", "INDEX IF NOT EXISTS")),
  };
}

const INDEX = /CREATE INDEX [^;]*;/g;

/**
 * The same statements without comments and without air.
 *
 * @internal Called from outside by tests alone.
 */
export function compactSql(sql: string): string {
  return sql
    .replace(/('(?:[^']|'')*')|--[^\n]*|\s+/g, (_found, quoted?: string) => quoted ?? " ")
    .replace(/('(?:[^']|'')*')| *([(),;]) */g, (_found, quoted?: string, sign?: string) => quoted ?? sign!)
    .trim();
}

/** Whether anything was ever written to an object. One that a made-up key led to stays empty, and costs nothing. */
export function isBegun({ sql }: Storage): boolean {
  return sql.exec("SELECT 1 FROM sqlite_schema WHERE name = 'workspaces'").toArray().length > 0;
}

/**
 * Applies the migrations that this object has not seen yet, each whole or not at all: every object by itself, when it
 * is first touched after a new version was deployed. Throws `Problem` unavailable when the object is newer than this
 * program.
 */
export function migrateObject(storage: Storage, migrations: readonly ObjectMigration[]): void {
  storage.sql.exec(MIGRATIONS_TABLE);
  const applied = storage.sql.exec<{ name: string }>(SELECT_APPLIED).toArray();
  const pending = pendingNames(
    migrations.map(({ name }) => name),
    applied.map(({ name }) => name),
  );
  for (const name of pending) {
    const migration = migrations.find((one) => one.name === name)!;
    storage.transactionSync(() => storage.sql.exec(migrationScript(migration)));
  }
}

/** Gives an object that has grown its indexes. True when it has them. */
export function indexedWhenGrown(storage: Storage, migrations: readonly ObjectMigration[]): boolean {
  if (storage.sql.databaseSize < SMALL_BYTES) return false;
  storage.transactionSync(() => {
    for (const { indexes } of migrations) for (const index of indexes) storage.sql.exec(index);
  });
  return true;
}
