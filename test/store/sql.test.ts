import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { ConstraintFailed } from "../../src/store/errors.ts";
import type { Param, Sql } from "../../src/store/sql.ts";
import { engines } from "./engines.ts";

describe.each(engines)("the SQL port on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
    await sql.batch([
      {
        sql: "CREATE TABLE parents (id TEXT PRIMARY KEY, size INTEGER CONSTRAINT size_is_small CHECK (size < 10)) STRICT",
      },
      { sql: "CREATE TABLE children (id TEXT PRIMARY KEY, parent TEXT NOT NULL REFERENCES parents (id)) STRICT" },
    ]);
  });
  afterAll(() => close());
  beforeEach(async () => {
    await sql.batch([{ sql: "DELETE FROM children" }, { sql: "DELETE FROM parents" }]);
  });

  const insert = (id: string, size: Param = 1) => ({
    sql: "INSERT INTO parents (id, size) VALUES (?, ?)",
    params: [id, size],
  });
  const ids = async () => (await sql.all<{ id: string }>("SELECT id FROM parents ORDER BY id")).map(({ id }) => id);

  test("all gives the rows that a statement returns", async () => {
    expect(
      await sql.all("INSERT INTO parents (id, size) VALUES (?, ?) RETURNING id, size + 1 AS next", ["a", 4]),
    ).toEqual([{ id: "a", next: 5 }]);
  });

  test("batch gives the rows of each statement, in order", async () => {
    const rows = await sql.batch([
      insert("a"),
      { sql: "SELECT id FROM parents" },
      insert("b"),
      { sql: "SELECT count(*) AS n FROM parents" },
    ]);
    expect(rows).toEqual([[], [{ id: "a" }], [], [{ n: 2 }]]);
  });

  test("an empty batch does nothing", async () => {
    expect(await sql.batch([])).toEqual([]);
  });

  test("a batch that fails at its end has changed nothing", async () => {
    await expect(sql.batch([insert("a"), insert("b"), insert("a")])).rejects.toThrow(ConstraintFailed);
    expect(await ids()).toEqual([]);
  });

  test("after a failed batch the next one works", async () => {
    await expect(sql.batch([insert("a"), insert("a")])).rejects.toThrow();
    await sql.batch([insert("a")]);
    expect(await ids()).toEqual(["a"]);
  });

  test.each([
    ["a broken UNIQUE, with its column", insert("a"), { kind: "unique", what: "parents.id" }],
    ["a broken CHECK, with its name", insert("b", 10), { kind: "other", what: "size_is_small" }],
    ["a broken reference", { sql: "INSERT INTO children VALUES ('c', 'nobody')" }, { kind: "foreign-key" }],
  ])("says %s", async (_what, statement, expected) => {
    await sql.batch([insert("a")]);
    await expect(sql.batch([statement])).rejects.toMatchObject(expected);
    await expect(sql.all(statement.sql, "params" in statement ? statement.params : [])).rejects.toMatchObject(expected);
  });

  test.each([
    ["too few parameters", "INSERT INTO parents (id, size) VALUES (?, ?)", ["a"]],
    ["too many parameters", "INSERT INTO parents (id, size) VALUES (?, 1)", ["a", "b"]],
    ["a number that is none", "INSERT INTO parents (id, size) VALUES (?, ?)", ["a", Number.NaN]],
    ["an infinite number", "INSERT INTO parents (id, size) VALUES (?, ?)", ["a", Number.POSITIVE_INFINITY]],
  ])("refuses %s before the engine sees it", async (_what, text, params) => {
    await expect(sql.all(text, params)).rejects.toThrow(RangeError);
    await expect(sql.batch([insert("b"), { sql: text, params }])).rejects.toThrow(RangeError);
    expect(await ids()).toEqual([]);
  });

  test("a question mark in quotes or in a comment is no parameter", async () => {
    expect(await sql.all("SELECT '?''?' AS a, ? AS b -- what?\n", ["x"])).toEqual([{ a: "?'?", b: "x" }]);
  });

  test("a fraction does not fit into a whole number's column, a whole number does", async () => {
    await sql.batch([insert("a", 5)]);
    await expect(sql.batch([insert("b", 5.5)])).rejects.toThrow(ConstraintFailed);
    expect(await sql.all("SELECT size FROM parents")).toEqual([{ size: 5 }]);
  });
});
