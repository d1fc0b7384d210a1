import type { DatabaseSync } from "node:sqlite";
import { describe, expect, test } from "vitest";
import { indexedWhenGrown, isBegun, migrateObject, objectMigration } from "../../src/store/object-migrations.ts";
import { lateTables } from "../../src/store/object-table-list.ts";
import { EARLY_TABLES, LateTables, statementsOf, tableOf } from "../../src/store/object-tables.ts";
import { LATE, MIGRATIONS, objectStorage } from "./object-schema.ts";

const applied = (db: DatabaseSync) => db.prepare("SELECT name FROM d1_migrations ORDER BY id").all();

describe("the schema of an object", () => {
  test("is not there before someone begins, and looking does not make it", () => {
    const { db, storage: object } = objectStorage();
    expect(isBegun(object)).toBe(false);
    expect(db.prepare("SELECT count(*) AS n FROM sqlite_schema").get()).toEqual({ n: 0 });
  });

  test("is brought up to date at the first touch after a deployment, with what was in it", () => {
    const { db, storage: object } = objectStorage();
    migrateObject(object, MIGRATIONS.slice(0, 10), LATE);
    db.exec(`INSERT INTO workspaces (workspace_id, name, mass_unit, temperature_unit, pressure_unit, currency, time_zone,
      plan, prices, assumptions, version, created_at, updated_at, updated_by)
      VALUES ('w', 'Garage', 'oz', 'F', 'psi-gauge', 'USD', 'UTC', '{}', '{}', '{}', 1, '', '', '')`);
    migrateObject(object, MIGRATIONS, LATE);
    expect(applied(db)).toEqual(MIGRATIONS.map(({ name }) => ({ name })));
    expect(db.prepare("SELECT name FROM workspaces").all()).toEqual([{ name: "Garage" }]);
    expect(isBegun(object)).toBe(true);
    migrateObject(object, MIGRATIONS, LATE);
    expect(applied(db)).toHaveLength(MIGRATIONS.length);
  });

  test("stays as it was when a change fails in its middle", () => {
    const { db, storage: object } = objectStorage();
    migrateObject(object, MIGRATIONS, LATE);
    const broken = {
      name: "9999_broken.sql",
      sql: "CREATE TABLE half(a TEXT);INSERT INTO nowhere VALUES(1);",
      indexes: [],
    };
    expect(() => migrateObject(object, [...MIGRATIONS, broken], LATE)).toThrow(/nowhere/);
    expect(db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'half'").all()).toEqual([]);
    expect(applied(db)).toHaveLength(MIGRATIONS.length);
  });

  test("of a newer program is left alone, and it says so", () => {
    const { storage: object } = objectStorage();
    migrateObject(object, MIGRATIONS, LATE);
    expect(() => migrateObject(object, MIGRATIONS.slice(0, -1), LATE)).toThrow(/written by a newer Seepwise/);
  });

  test("goes without an index that is dropped later", () => {
    const later = objectMigration({
      name: "9999_later.sql",
      sql: "DROP INDEX vehicles_in_order;\nDROP INDEX IF EXISTS b;\n",
    });
    expect(later.sql).toBe("DROP INDEX IF EXISTS vehicles_in_order;DROP INDEX IF EXISTS b;");
    const { storage: object } = objectStorage();
    migrateObject(object, [...MIGRATIONS, later], LATE);
  });

  test("has indexes once it has grown past a megabyte, and not before", () => {
    const indexes = "SELECT count(*) AS n FROM sqlite_schema WHERE type = 'index' AND sql LIKE 'CREATE INDEX%'";
    const small = objectStorage(999_999);
    migrateObject(small.storage, MIGRATIONS, LATE);
    expect(indexedWhenGrown(small.storage, MIGRATIONS)).toBe(false);
    expect(small.db.prepare(indexes).get()).toEqual({ n: 0 });
    const grown = objectStorage(2_000_000);
    migrateObject(grown.storage, MIGRATIONS, LATE);
    for (const time of [1, 2]) expect([time, indexedWhenGrown(grown.storage, MIGRATIONS)]).toEqual([time, true]);
    const { n: early } = grown.db.prepare(indexes).get() as { n: number };
    expect(early).toBeGreaterThan(3);
    const late = new LateTables(grown.storage.sql, LATE);
    for (const { name } of LATE) late.fitted(`DELETE FROM ${name} WHERE 0`);
    expect((grown.db.prepare(indexes).get() as { n: number }).n).toBeGreaterThan(early + 10);
  });
});

const schemaOf = (db: DatabaseSync) =>
  db.prepare("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY type, name").all();

describe("late tables", () => {
  function begun() {
    const { db, storage: object } = objectStorage();
    migrateObject(object, MIGRATIONS, LATE);
    return { db, object, late: new LateTables(object.sql, LATE) };
  }
  const tables = (db: DatabaseSync) =>
    (db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").all() as { name: string }[])
      .map(({ name }) => name)
      .filter((name) => !name.startsWith("sqlite_"));

  test("are not there at the beginning", () => {
    expect(new Set(tables(begun().db))).toEqual(EARLY_TABLES);
    expect(LATE.length).toBeGreaterThan(20);
  });

  test("all made, are as all migrations one after another make them", () => {
    const { db, late } = begun();
    for (const { name } of LATE.toReversed()) late.fitted(`DELETE FROM ${name} WHERE 0`);
    const whole = objectStorage();
    migrateObject(whole.storage, MIGRATIONS, []);
    expect(schemaOf(db)).toEqual(schemaOf(whole.db));
    expect(late.fitted("SELECT * FROM quotes")).toBe("SELECT * FROM quotes");
  });

  test("are empty to whoever reads, alone, joined, and below expressions of one's own, and are not made by it", () => {
    const { db, late } = begun();
    const read = (sql: string) => db.prepare(late.fitted(sql)).all();
    expect(read("SELECT * FROM quotes")).toEqual([]);
    expect(read("SELECT count(*) AS n FROM invoices JOIN quotes USING (workspace_id)")).toEqual([{ n: 0 }]);
    expect(read("SELECT (SELECT max(number) FROM quotes AS q WHERE q.status = 'sent') AS last")).toEqual([
      { last: null },
    ]);
    expect(
      read(
        "WITH RECURSIVE i(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM i WHERE n < 3) SELECT n FROM i, (SELECT count(*) FROM webhooks)",
      ),
    ).toHaveLength(3);
    expect(read("WITH q AS (SELECT * FROM quotes) SELECT 'DELETE FROM quotes' AS text, count(*) AS n FROM q")).toEqual([
      { text: "DELETE FROM quotes", n: 0 },
    ]);
    expect(new Set(tables(db))).toEqual(EARLY_TABLES);
  });

  test("are made by whoever writes, with what they refer to", () => {
    const { db, late } = begun();
    const sql = "INSERT INTO payments SELECT * FROM payments WHERE 0";
    expect(late.fitted(sql)).toBe(sql);
    expect(new Set(tables(db))).toEqual(new Set([...EARLY_TABLES, "payments", "invoices", "quotes"]));
  });

  test("that went with a transaction are made again", () => {
    const { db, late } = begun();
    db.exec("BEGIN");
    late.fitted("DELETE FROM quotes");
    db.exec("ROLLBACK");
    late.lookAgain();
    expect(db.prepare(late.fitted("SELECT * FROM quotes")).all()).toEqual([]);
    db.exec(late.fitted("DELETE FROM quotes WHERE 0"));
    expect(tables(db)).toContain("quotes");
  });

  test("of an older version are brought up to date where they are, and made as they are now where they are not", () => {
    const { db, storage: object } = objectStorage();
    const before = MIGRATIONS.filter(({ name }) => name < "0009");
    migrateObject(object, before, lateTables(before));
    const first = new LateTables(object.sql, lateTables(before));
    first.fitted("DELETE FROM quotes");
    migrateObject(object, MIGRATIONS, LATE);
    const late = new LateTables(object.sql, LATE);
    for (const { name } of LATE) late.fitted(`DELETE FROM ${name} WHERE 0`);
    const whole = objectStorage();
    migrateObject(whole.storage, MIGRATIONS, []);
    expect(schemaOf(db)).toEqual(schemaOf(whole.db));
  });

  test("each statement of a migration is about one table; what early ones hold is never moved into late ones", () => {
    const late = new Set(LATE.map(({ name }) => name));
    for (const { name, sql } of MIGRATIONS) {
      expect(statementsOf(sql).join("")).toBe(sql.replaceAll("; ", ";"));
      for (const statement of statementsOf(sql)) {
        const table = tableOf(statement);
        const named = [...late].filter((one) => new RegExp(`\\b${one}\\b`).test(statement.replace(/'[^']*'/g, "")));
        if (table !== null && EARLY_TABLES.has(table)) expect([name, table, named]).toEqual([name, table, []]);
        if (table !== null && late.has(table)) expect(statement).not.toMatch(/^INSERT/);
      }
    }
  });
});
