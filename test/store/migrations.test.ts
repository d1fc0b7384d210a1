import { cp, mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { migrate, openDatabase } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { compactSql } from "../../src/store/object-migrations.ts";
import type { Sql } from "../../src/store/sql.ts";
import { ROOT } from "../support/paths.ts";
import { engines, newStore } from "./engines.ts";
import { LATE } from "./object-schema.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-migrations-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const files = async () => (await readdir(join(ROOT, "data/migrations"))).toSorted((a, b) => (a < b ? -1 : 1));
const applied = async (sql: Sql) =>
  (await sql.all<{ name: string }>("SELECT name FROM d1_migrations ORDER BY id")).map(({ name }) => name);

/** The migrations of the package and one more, in a folder of their own. */
async function withOneMore(name: string, text: string): Promise<string> {
  const copy = await mkdtemp(join(folder, "files-"));
  await cp(join(ROOT, "data/migrations"), copy, { recursive: true });
  await writeFile(join(copy, name), text);
  return copy;
}

test("both engines have the same tables and triggers, and a grown one the same indexes, and remember the same migrations", async () => {
  const schemas = [];
  for (const { start } of engines) {
    const { sql, close } = await start();
    await newStore(sql);
    // An object makes a late table when something may be written to it.
    for (const { name } of LATE) await sql.all(`DELETE FROM ${name} WHERE 0`);
    // 4 MB: an object makes its indexes only when it has grown.
    await sql.all(
      `WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 2000)
       INSERT INTO submissions (workspace_id, submit_key, content_hash, subject_id, subject_version, submitted_at)
       SELECT workspace_id, 'key-' || i, hex(zeroblob(400)), 'none', 1, '2026-05-01' FROM n, workspaces`,
    );
    const objects = await sql.all<{ type: string; name: string; sql: string }>(
      `SELECT type, name, sql FROM sqlite_master
       WHERE name NOT LIKE 'sqlite_%' AND name NOT LIKE '_cf_%' AND name <> 'd1_migrations' ORDER BY type, name`,
    );
    const plain = (text: string) => compactSql(text).replace(",WITHOUT ROWID", "");
    schemas.push({ objects: objects.map((one) => ({ ...one, sql: plain(one.sql) })), migrations: await applied(sql) });
    await close();
  }
  expect(schemas[0]!.objects.length).toBeGreaterThan(15);
  expect(schemas[1]).toEqual(schemas[0]);
  expect(schemas[0]!.migrations).toEqual(await files());
});

test("price books of one name from before get a number, and where that is taken, signs of their id", async () => {
  const before = await mkdtemp(join(folder, "files-"));
  for (const name of (await files()).filter((one) => one < "0032"))
    await cp(join(ROOT, "data/migrations", name), join(before, name));
  const sql = new NodeSql(":memory:");
  await migrate(sql, before);
  const { workspaceId } = await newStore(sql);
  const names = ["Retail", "retail ", "RETAIL", "Retail 2", "Retail", "Fleet"];
  for (const [i, name] of names.entries())
    await sql.all(
      `INSERT INTO price_books (workspace_id, id, book, archived_at, version, created_at, created_by, updated_at, updated_by)
       VALUES (?, ?, json_object('name', ?), ?, 1, ?, 'a', '2026-05-01', 'a')`,
      [workspaceId, `book-${i}`, name, i === 4 ? "2026-05-01" : null, `2026-05-0${i + 1}`],
    );
  await migrate(sql);
  const after = await sql.all<{ name: string }>("SELECT book ->> '$.name' AS name FROM price_books ORDER BY id");
  // The first keeps its name, so does one out of the list; "Retail 2" was there before the second became it.
  expect(after.map(({ name }) => name)).toEqual([
    "Retail",
    "retail 2",
    "RETAIL 3",
    "Retail 2 book-3",
    "Retail",
    "Fleet",
  ]);
  sql.close();
});

test("comments and air go, texts in quotes and everything else stay", () => {
  expect(compactSql("CREATE TABLE a ( -- it's one\n  b TEXT CHECK (b IN ('x ; y', 'it''s -- z')) ) STRICT;")).toBe(
    "CREATE TABLE a(b TEXT CHECK(b IN('x ; y','it''s -- z')))STRICT;",
  );
});

test("every table is strict and carries its workspace", async () => {
  const sql = await openDatabase(":memory:");
  const tables = await sql.all<{ name: string; strict: number }>(
    "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite_%' AND name <> 'd1_migrations'",
  );
  expect(tables.length).toBeGreaterThan(8);
  for (const { name, strict } of tables) {
    const columns = await sql.all<{ name: string; notnull: number }>(
      'SELECT name, "notnull" FROM pragma_table_info(?)',
      [name],
    );
    expect([name, strict, columns.find((column) => column.name === "workspace_id")?.notnull]).toEqual([name, 1, 1]);
  }
});

test("a second start applies nothing again", async () => {
  const file = join(folder, "twice.sqlite");
  (await openDatabase(file)).close();
  const sql = await openDatabase(file);
  expect(await applied(sql)).toEqual(await files());
  sql.close();
});

test("a new file is applied to a database that has records", async () => {
  const sql = await openDatabase(":memory:");
  const newer = await withOneMore(
    "9000_more.sql",
    "CREATE TABLE more (a TEXT) STRICT;\nCREATE TABLE most (a TEXT) STRICT;",
  );
  await migrate(sql, newer);
  expect(await applied(sql)).toEqual([...(await files()), "9000_more.sql"]);
  expect(await sql.all("SELECT a FROM most")).toEqual([]);
});

test("a file that fails in its middle leaves nothing of itself", async () => {
  const sql = await openDatabase(":memory:");
  const broken = await withOneMore(
    "9000_broken.sql",
    "CREATE TABLE half (a TEXT) STRICT;\nCREATE TABLE half (a TEXT) STRICT;",
  );
  await expect(migrate(sql, broken)).rejects.toThrow(/already exists/);
  expect(await applied(sql)).toEqual(await files());
  await expect(sql.all("SELECT a FROM half")).rejects.toThrow(/no such table/);
});

test("two starts at once both come up", async () => {
  const file = join(folder, "at-once.sqlite");
  const [one, two] = [new NodeSql(file), new NodeSql(file)];
  await Promise.all([migrate(one), migrate(two)]);
  expect(await applied(two)).toEqual(await files());
  one.close();
  two.close();
});

test("records of a newer program are left alone, and it says so", async () => {
  const sql = await openDatabase(":memory:");
  await migrate(sql, await withOneMore("9000_more.sql", "CREATE TABLE more (a TEXT) STRICT;"));
  await expect(migrate(sql)).rejects.toMatchObject({
    code: "unavailable",
    message: expect.stringMatching(/newer Seepwise.*9000_more/),
  });
});
