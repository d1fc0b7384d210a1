import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { DatabaseSync } from "node:sqlite";
import { beforeAll, expect, test } from "vitest";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { migrateObject, objectMigration } from "../../src/store/object-migrations.ts";
import { lateTables } from "../../src/store/object-table-list.ts";
import { LateTables } from "../../src/store/object-tables.ts";
import { MIGRATIONS_TABLE, migrationScript } from "../../src/store/schema-versions.ts";
import type { Row } from "../../src/store/sql.ts";
import { ROOT } from "../support/paths.ts";
import { expectAllThere, fill, filledTables, rowsOfToday } from "./landed-rows.ts";
import { type LandedSchema, landedSchemas } from "./landed-schemas.ts";
import { LATE, MIGRATIONS, objectStorage } from "./object-schema.ts";

const LANDED = landedSchemas();

/** A database as a program of that time made it, without rows. */
async function empty({ migrations }: Pick<LandedSchema, "migrations">): Promise<NodeSql> {
  const sql = new NodeSql(":memory:");
  await sql.all(MIGRATIONS_TABLE);
  for (const migration of migrations) sql.script(migrationScript(migration));
  return sql;
}

/** Tables, columns, indexes and triggers, by their text; the order of columns tells when they came. */
async function schemaOf(sql: Pick<NodeSql, "all">): Promise<string[]> {
  const all = await sql.all<{ type: string; name: string; sql: string }>(
    "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY type, name",
  );
  return all.map(({ type, name, sql: text }) => `${type} ${name}: ${text.split(/,\s*/).toSorted().join(",")}`);
}

const asked = (db: DatabaseSync): Pick<NodeSql, "all"> => ({
  all: async (text, params = []) => db.prepare(text).all(...params) as never[],
});

let rows: ReadonlyMap<string, Row[]>;
let schema: string[];
let object_schema: string[];
beforeAll(async () => {
  rows = await rowsOfToday();
  const sql = await empty({ migrations: [] });
  await migrate(sql);
  schema = await schemaOf(sql);
  const { db, storage } = objectStorage();
  migrateObject(storage, MIGRATIONS, []);
  object_schema = await schemaOf(asked(db));
});

test("the schemas that landed end with today's, and every table has a row to lose", () => {
  const files = readdirSync(join(ROOT, "data/migrations")).toSorted();
  const last = LANDED.at(-1)!
    .migrations.map(({ name }) => name)
    .toSorted();
  expect(last, "a new migration goes to the end of STEPS in landed-schemas.ts").toEqual(files);
  const without = [...rows].filter(([, own]) => own.length === 0).map(([table]) => table);
  expect(without, "a row of a new table goes to fixtures/more-rows.sql").toEqual(["guards"]);
});

test.each(LANDED)("records under the schema $number, after $after, come up to date whole", async (landed) => {
  const sql = await empty(landed);
  await fill(sql, landed, rows);
  const tables = await filledTables(sql);
  await migrate(sql);
  expect(await schemaOf(sql)).toEqual(schema);
  expect(await sql.all("PRAGMA foreign_key_check")).toEqual([]);
  expect(await sql.all("PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
  await expectAllThere(sql, landed, tables, rows);
  await migrate(sql);
  sql.close();
});

/** Objects came with 0016; those of before had every table from the first. */
const OF_OBJECTS = LANDED.filter(({ migrations }) => migrations.some(({ name }) => name === "0016_follow_ups.sql"));

test.each(OF_OBJECTS)("an object under the schema $number, after $after, comes up to date whole", async (landed) => {
  const then = landed.migrations.map(objectMigration);
  for (const late of [[], lateTables(then)]) {
    const { db, storage } = objectStorage();
    const sql = asked(db);
    migrateObject(storage, then, late);
    // Of two late tables that it has, one refers to others; the rest it makes when they are written to.
    if (late.length > 0) new LateTables(storage.sql, late).fitted("DELETE FROM quotes WHERE 0");
    await fill(sql, landed, rows);
    const tables = await filledTables(sql);
    migrateObject(storage, MIGRATIONS, LATE);
    await expectAllThere(sql, landed, tables, rows);
    expect(await sql.all("PRAGMA foreign_key_check")).toEqual([]);
    const made = new LateTables(storage.sql, LATE);
    for (const { name } of LATE) made.fitted(`DELETE FROM ${name} WHERE 0`);
    expect(await schemaOf(sql)).toEqual(object_schema);
  }
});
