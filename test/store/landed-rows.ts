import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { LATER_CALLED } from "../../src/store/schema-versions.ts";
import type { Param, Row } from "../../src/store/sql.ts";
import { ROOT } from "../support/paths.ts";
import type { LandedSchema } from "./landed-schemas.ts";

/** A file, or an object. */
type Database = Pick<NodeSql, "all">;

const FIXTURES = join(ROOT, "test/store/fixtures");

const tablesOf = async (sql: Database) =>
  (await sql.all<{ name: string }>(TABLES)).map(({ name }) => name).filter((name) => name !== "d1_migrations");
const TABLES = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name";

const columnsOf = (sql: Database, table: string) =>
  sql.all<{ name: string; needed: number }>(
    `SELECT name, "notnull" AND dflt_value IS NULL AS needed FROM pragma_table_info(?)`,
    [table],
  );

/** Rows of every table under today's schema: two workspaces as programs wrote them, and what those leave out. */
export async function rowsOfToday(): Promise<Map<string, Row[]>> {
  const rows = new Map<string, Row[]>();
  for (const fixture of ["schema-0014.sql", "schema-0034.sql"]) {
    const sql = new NodeSql(":memory:");
    const dump = readFileSync(join(FIXTURES, fixture), "utf8");
    sql.script(dump.replace(/^PRAGMA foreign_keys=OFF;\nBEGIN TRANSACTION;/, DEFERRED).replace(/COMMIT;\s*$/, ""));
    await migrate(sql);
    if (fixture === "schema-0034.sql") sql.script(readFileSync(join(FIXTURES, "more-rows.sql"), "utf8"));
    for (const table of await tablesOf(sql))
      rows.set(table, [...(rows.get(table) ?? []), ...(await sql.all(`SELECT * FROM ${table}`))]);
    sql.close();
  }
  return rows;
}

const DEFERRED = "PRAGMA defer_foreign_keys=ON;";

/** What a program of an older schema wrote otherwise, in the JSON of a column. */
const LATER_IN_JSON = [
  { table: "price_books", column: "book", until: "0012_book_currency.sql", paths: ["$.currency"] },
  { table: "quotes", column: "content", until: "0012_book_currency.sql", paths: ["$.book.currency"] },
  { table: "fleet_details", column: "answer", until: "0008_more_readings.sql", paths: ["$.low_now", "$.no_entries"] },
];

/** Puts rows of today in, as far as the schema knows them. Triggers, which hold what people may do, stand aside. */
export async function fill(
  sql: Database,
  { migrations }: LandedSchema,
  rows: ReadonlyMap<string, Row[]>,
): Promise<void> {
  const triggers = await sql.all<{ name: string; sql: string }>(
    "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'",
  );
  for (const { name } of triggers) await sql.all(`DROP TRIGGER ${name}`);
  await sql.all("PRAGMA foreign_keys=OFF");
  for (const table of await tablesOf(sql)) {
    const columns = await columnsOf(sql, table);
    for (const row of rows.get(table) ?? []) {
      const own = columns.filter(({ name, needed }) => name in row || needed === 1).map(({ name }) => name);
      await sql.all(
        `INSERT INTO ${table} (${own.join(", ")}) VALUES (${own.map(() => "?")})`,
        own.map((name) => (name in row ? row[name] : "{}") as Param),
      );
    }
  }
  const known = new Set(migrations.map(({ name }) => name));
  for (const { table, column, until, paths } of LATER_IN_JSON)
    if (!known.has(until) && (await tablesOf(sql)).includes(table))
      for (const path of paths) await sql.all(`UPDATE ${table} SET ${column} = json_remove(${column}, '${path}')`);
  await sql.all("PRAGMA foreign_keys=ON");
  for (const trigger of triggers) await sql.all(trigger.sql);
  expect(await sql.all("PRAGMA foreign_key_check")).toEqual([]);
}

/** Rows in one order, and in their JSON one order of names: what is added to an object stands at its end. */
function sorted(rows: readonly Row[]): string[] {
  const inOrder = (_name: string, value: unknown) =>
    typeof value === "object" && value !== null && !Array.isArray(value)
      ? Object.fromEntries(Object.entries(value).toSorted(([one], [other]) => (one < other ? -1 : 1)))
      : value;
  const plain = (value: unknown) => (typeof value === "string" && /^[{[]/.test(value) ? JSON.parse(value) : value);
  const lines = rows.map((row) => Object.fromEntries(Object.entries(row).map(([name, value]) => [name, plain(value)])));
  return lines.map((line) => JSON.stringify(line, inOrder)).toSorted();
}

/**
 * What a file empties, since nothing is lost by it: a fleet's answers, which are worked out anew, and imports that
 * waited, which are sent again. The first evening's schemas lose what was found of each log, too.
 */
const EMPTIED: Readonly<Record<string, string>> = {
  fleet_answers: "0031_fleet_told.sql",
  fleet_details: "0031_fleet_told.sql",
  fleet_audit: "0031_fleet_told.sql",
  imports: "0025_imports.sql",
  import_parts: "0025_imports.sql",
};
const FIRST_EVENING = new Set([4, 5, 6]);

/** The tables of a database that was filled, with the columns that they have. */
export async function filledTables(sql: Database) {
  const tables = await tablesOf(sql);
  return Promise.all(
    tables.map(async (table) => ({ table, columns: (await columnsOf(sql, table)).map(({ name }) => name) })),
  );
}

/** Fails unless everything that `fill` put into the tables is there after the upgrade. */
export async function expectAllThere(
  sql: Database,
  { number, migrations }: LandedSchema,
  tables: Awaited<ReturnType<typeof filledTables>>,
  rows: ReadonlyMap<string, Row[]>,
): Promise<void> {
  const known = new Set(migrations.map(({ name }) => LATER_CALLED[name] ?? name));
  for (const { table, columns } of tables) {
    const emptied =
      (table in EMPTIED && !known.has(EMPTIED[table]!)) || (table === "fleet_logs" && FIRST_EVENING.has(number));
    const wanted = emptied ? [] : rows.get(table)!.map((row) => picked(row, columns));
    const after = await sql.all(`SELECT * FROM ${table}`);
    expect([table, sorted(after.map((row) => picked(row, columns)))]).toEqual([table, sorted(wanted)]);
  }
}

const picked = (row: Row, columns: readonly string[]) =>
  Object.fromEntries(columns.map((name) => [name, row[name] ?? null]));
