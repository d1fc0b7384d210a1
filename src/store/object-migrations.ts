import type { DurableObjectStorage } from "@cloudflare/workers-types";
import { type LateTable, SMALL_BYTES, statementsFor, tableOf } from "./object-tables.ts";
import { MIGRATIONS_TABLE, type Migration, migrationScript, pendingNames, SELECT_APPLIED } from "./schema-versions.ts";

type Storage = Pick<DurableObjectStorage, "sql" | "transactionSync">;

/** A migration as objects apply it. */
export interface ObjectMigration extends Migration {
  /** Its indexes, left out of `sql`: one car is found without them, and each costs a page. */
  indexes: readonly string[];
}

/**
 * A migration for objects, of which there is one for each workspace, most of them small: comments and air left out,
 * since the text of a table is kept with it; one tree in place of two for each table with a key; indexes only when it
 * has grown, and late tables when something is written to them.
 */
export function objectMigration({ name, sql }: Migration): ObjectMigration {
  const compact = compactSql(sql)
    .replace(/CREATE TABLE [^;]*PRIMARY KEY[^;]*\)STRICT(?=;)/g, "$&,WITHOUT ROWID")
    // A small object does not have it, nor what belongs to a late table.
    .replace(/DROP (INDEX|TRIGGER) (?!IF EXISTS)/g, "DROP $1 IF EXISTS ");
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

/** Whether anything was ever written to an object. One reached by an invented key stays empty and costs nothing. */
export function isBegun({ sql }: Storage): boolean {
  return sql.exec("SELECT 1 FROM sqlite_schema WHERE name = 'workspaces'").toArray().length > 0;
}

/**
 * Applies the migrations that this object has not seen yet, each whole or not at all: every object by itself, when it
 * is first touched after a new version was deployed. Throws `Problem` unavailable when the object is newer than this
 * program.
 */
export function migrateObject(
  storage: Storage,
  migrations: readonly ObjectMigration[],
  late: readonly LateTable[],
): void {
  storage.sql.exec(MIGRATIONS_TABLE);
  const applied = storage.sql.exec<{ name: string }>(SELECT_APPLIED).toArray();
  const pending = pendingNames(
    migrations.map(({ name }) => name),
    applied.map(({ name }) => name),
  );
  const lacks = tablesMissing(storage);
  const absent = new Set(late.map((table) => table.name).filter(lacks));
  for (const name of pending) {
    const migration = migrations.find((one) => one.name === name)!;
    const sql = statementsFor(migration.sql, absent).join("");
    storage.transactionSync(() => storage.sql.exec(migrationScript({ name, sql })));
  }
}

function tablesMissing({ sql }: Storage): (table: string) => boolean {
  const there = sql.exec<{ name: string }>("SELECT name FROM sqlite_schema WHERE type = 'table'").toArray();
  const names = new Set(there.map(({ name }) => name));
  return (table) => !names.has(table);
}

/** Gives an object that has grown the indexes of the tables that it has. True when it has them. */
export function indexedWhenGrown(storage: Storage, migrations: readonly ObjectMigration[]): boolean {
  if (storage.sql.databaseSize < SMALL_BYTES) return false;
  const lacks = tablesMissing(storage);
  const wanted = migrations.flatMap(({ indexes }) => indexes).filter((index) => !lacks(tableOf(index) ?? ""));
  storage.transactionSync(() => {
    for (const index of wanted) storage.sql.exec(index);
  });
  return true;
}
