import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync, type SQLInputValue } from "node:sqlite";
import { describe, expect, test } from "vitest";
import { indexedWhenGrown, isBegun, migrateObject, objectMigration } from "../../src/store/object-migrations.ts";
import { ROOT } from "../support/paths.ts";

type Storage = Parameters<typeof migrateObject>[0];

const FOLDER = join(ROOT, "data/migrations");
const MIGRATIONS = readdirSync(FOLDER)
  .sort()
  .map((name) => objectMigration({ name, sql: readFileSync(join(FOLDER, name), "utf8") }));

/** The storage of an object as far as migrations ask for it, with a SQLite of this process behind it. */
function storage(bytes = 0) {
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

const applied = (db: DatabaseSync) => db.prepare("SELECT name FROM d1_migrations ORDER BY id").all();

describe("the schema of an object", () => {
  test("is not there before someone begins, and looking does not make it", () => {
    const { db, storage: object } = storage();
    expect(isBegun(object)).toBe(false);
    expect(db.prepare("SELECT count(*) AS n FROM sqlite_schema").get()).toEqual({ n: 0 });
  });

  test("is brought up to date at the first touch after a deployment, with what was in it", () => {
    const { db, storage: object } = storage();
    migrateObject(object, MIGRATIONS.slice(0, 10));
    db.exec(`INSERT INTO workspaces (workspace_id, name, mass_unit, temperature_unit, pressure_unit, currency, time_zone,
      plan, prices, assumptions, version, created_at, updated_at, updated_by)
      VALUES ('w', 'Garage', 'oz', 'F', 'psi-gauge', 'USD', 'UTC', '{}', '{}', '{}', 1, '', '', '')`);
    migrateObject(object, MIGRATIONS);
    expect(applied(db)).toEqual(MIGRATIONS.map(({ name }) => ({ name })));
    expect(db.prepare("SELECT name FROM workspaces").all()).toEqual([{ name: "Garage" }]);
    expect(isBegun(object)).toBe(true);
    migrateObject(object, MIGRATIONS);
    expect(applied(db)).toHaveLength(MIGRATIONS.length);
  });

  test("stays as it was when a change fails in its middle", () => {
    const { db, storage: object } = storage();
    migrateObject(object, MIGRATIONS);
    const broken = {
      name: "9999_broken.sql",
      sql: "CREATE TABLE half (a TEXT);INSERT INTO nowhere VALUES (1);",
      indexes: [],
    };
    expect(() => migrateObject(object, [...MIGRATIONS, broken])).toThrow(/nowhere/);
    expect(db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'half'").all()).toEqual([]);
    expect(applied(db)).toHaveLength(MIGRATIONS.length);
  });

  test("of a newer program is left alone, and it says so", () => {
    const { storage: object } = storage();
    migrateObject(object, MIGRATIONS);
    expect(() => migrateObject(object, MIGRATIONS.slice(0, -1))).toThrow(/written by a newer Seepwise/);
  });

  test("goes without an index that is dropped later", () => {
    const later = objectMigration({
      name: "9999_later.sql",
      sql: "DROP INDEX vehicles_in_order;\nDROP INDEX IF EXISTS b;\n",
    });
    expect(later.sql).toBe("DROP INDEX IF EXISTS vehicles_in_order;DROP INDEX IF EXISTS b;");
    const { storage: object } = storage();
    migrateObject(object, [...MIGRATIONS, later]);
  });

  test("has indexes once it has grown past a megabyte, and not before", () => {
    const indexes = "SELECT count(*) AS n FROM sqlite_schema WHERE type = 'index' AND sql LIKE 'CREATE INDEX%'";
    const small = storage(999_999);
    migrateObject(small.storage, MIGRATIONS);
    expect(indexedWhenGrown(small.storage, MIGRATIONS)).toBe(false);
    expect(small.db.prepare(indexes).get()).toEqual({ n: 0 });
    const grown = storage(2_000_000);
    migrateObject(grown.storage, MIGRATIONS);
    for (const time of [1, 2]) expect([time, indexedWhenGrown(grown.storage, MIGRATIONS)]).toEqual([time, true]);
    expect((grown.db.prepare(indexes).get() as { n: number }).n).toBeGreaterThan(15);
  });
});
