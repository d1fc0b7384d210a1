import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { decideQuote } from "../../src/store/offered-quote.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { testDeps } from "../support/deps.ts";
import { ROOT } from "../support/paths.ts";
import { random, testClock } from "./engines.ts";

/**
 * Records as earlier versions of the program wrote them: one file for each schema that people may have, made by the
 * program of its time (its repositories, then `.dump`). They are never made again; a schema that went out gets a new
 * one. `token` is the customer's link of the quote that is sent in it.
 */
const FIXTURES = [
  { fixture: "schema-0007.sql", quotes: 2, token: "Q7cbSrL6oioS2gIKcrpi6tKaXcnFOXUBnQkFUa10ygQ" },
  { fixture: "schema-0010.sql", quotes: 2, token: "Q7cbSrL6oioS2gIKcrpi6tKaXcnFOXUBnQkFUa10ygQ" },
  // With a customer, an invoice that is paid in part, and a cylinder; its third quote was accepted.
  { fixture: "schema-0014.sql", quotes: 3, token: "SdntF3Lms8_ySfdbkzT4ax-4ITqKyPJYXh75nq_g0Nk" },
];

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-upgrades-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** The file that a dump was made of. Rows come by table in it, so what they refer to is looked at in the end. */
async function restored(fixture: string, file: string): Promise<NodeSql> {
  const old = new NodeSql(file);
  const dump = await readFile(join(ROOT, "test/store/fixtures", fixture), "utf8");
  old.script(dump.replace(/^PRAGMA foreign_keys=OFF;\nBEGIN TRANSACTION;/, DEFERRED).replace(/COMMIT;\s*$/, ""));
  return old;
}

const DEFERRED = "PRAGMA defer_foreign_keys=ON;";

describe.each(FIXTURES)("the records of $fixture", ({ fixture, quotes, token }) => {
  const file = () => join(folder, `${fixture}.sqlite`);
  let sql: Awaited<ReturnType<typeof openDatabase>>;
  let rows_before: Record<string, number>;
  beforeAll(async () => {
    const old = await restored(fixture, file());
    rows_before = await rowsOf(old);
    old.close();
    sql = await openDatabase(file());
  });
  afterAll(() => sql.close());

  async function rowsOf(database: NodeSql): Promise<Record<string, number>> {
    const tables = ["vehicles", "charge_log", "findings", "readings", "notes", "quotes", "price_books", "access_keys"];
    const counts = tables.map((name) => `(SELECT count(*) FROM ${name}) AS ${name}`).join(", ");
    const [row] = await database.all<Record<string, number>>(`SELECT ${counts}`);
    return { ...row };
  }

  async function opened() {
    const [found] = await sql.all<{ workspace_id: string }>("SELECT workspace_id FROM vehicles LIMIT 1");
    const as = { role: "owner", actor: "tester" } as const;
    return workspaceStore({ sql, workspaceId: found!.workspace_id, ...as, now: testClock(), random });
  }

  test("are all there under today's schema", async () => {
    const applied = await sql.all<{ name: string }>("SELECT name FROM d1_migrations ORDER BY id");
    expect(applied.map(({ name }) => name)).toEqual((await readdir(join(ROOT, "data/migrations"))).toSorted());
    expect(await rowsOf(sql)).toEqual(rows_before);
    expect(rows_before).toMatchObject({ vehicles: 2, charge_log: 3, findings: 1, readings: 1, notes: 1, quotes });
    expect(await sql.all("PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
    expect(await sql.all("PRAGMA foreign_key_check")).toEqual([]);
  });

  test("say what they said", async () => {
    const store = await opened();
    const { items } = await store.vehicles.list({ limit: 10, after: null });
    expect(items.map(({ label, refrigerant, nameplate_g }) => [label, refrigerant, nameplate_g])).toEqual([
      ["Truck 7", "R-1234yf", 1234.5],
      ["Van 2", "R-134a", 650],
    ]);
    const { charge_log, findings } = await store.record(items[0]!.id);
    // The later of the two was corrected from 340 to 320 g.
    expect(charge_log.map(({ date, date_within_days, added_g }) => [date, date_within_days, added_g])).toEqual([
      ["2025-06-02", null, 340],
      ["2026-04-20", null, 320],
    ]);
    expect(findings).toMatchObject([{ test: "dye", location: "anywhere", result: "clean" }]);
  });

  test("go out whole, and open as pages", async () => {
    const store = await opened();
    const { vehicles } = await store.transfer.export();
    expect(vehicles).toHaveLength(2);
    const owner = await store.accessKeys.create("api", "owner", "after the upgrade");
    const app = createApp(testDeps({ sql: () => sql, access_mode: "links", random }));
    const headers = { Authorization: `Bearer ${owner.key}` };
    const { items } = await store.vehicles.list({ limit: 10, after: null });
    const paths = [
      "/vehicles",
      "/quotes",
      "/fleet",
      "/settings",
      "/prices",
      ...items.map(({ id }) => `/vehicles/${id}`),
    ];
    for (const path of paths) expect([path, (await app.request(path, { headers })).status]).toEqual([path, 200]);
    expect((await app.request(`/q/${token}`)).status).toBe(200);
  });

  test("take an answer to a quote that was sent before", async () => {
    const yes = { option: "b", name: "R. Ames", keep_years: 5 };
    const said = await decideQuote({ sql, now: () => new Date("2026-05-02T09:00:00Z") }, token, yes, "2026-05-02");
    expect(said).toMatchObject({ decided: true, offered: { status: "accepted", decided_option: "b" } });
  });
});

/**
 * A workspace with something in nearly every table of its time: webhook, plan, closed year, terms, import, ids of other
 * programs, predictions, and a quote in each state.
 */
describe("the records of schema-0034.sql", () => {
  const FIXTURE = "schema-0034.sql";
  const TOKEN = "_LRPKR8aFlhcj9WC9PFjD1VNkNG3zVS7hnDNn4d40Z0";
  const file = () => join(folder, `${FIXTURE}.sqlite`);

  async function counted(sql: NodeSql) {
    const tables = await sql.all<{ name: string }>(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'd1_migrations'",
    );
    const counts = tables.map(async ({ name }) => {
      const [row] = await sql.all<{ n: number }>(`SELECT count(*) AS n FROM ${name}`);
      return [name, row!.n] as const;
    });
    return new Map(await Promise.all(counts));
  }

  test("lose no row of any table, and every page opens", async () => {
    const old = await restored(FIXTURE, file());
    const before = await counted(old);
    expect([...before.values()].filter((n) => n > 0).length).toBeGreaterThanOrEqual(30);
    old.close();

    const sql = await openDatabase(file());
    const after = await counted(sql);
    for (const [name, rows] of before) expect([name, after.get(name)]).toEqual([name, rows]);
    expect(await sql.all("PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
    expect(await sql.all("PRAGMA foreign_key_check")).toEqual([]);

    const [found] = await sql.all<{ workspace_id: string }>("SELECT workspace_id FROM workspaces");
    const as = { role: "owner", actor: "tester" } as const;
    const store = workspaceStore({ sql, workspaceId: found!.workspace_id, ...as, now: testClock(), random });
    const document = await store.transfer.export();
    expect([document.vehicles.length, document.quotes.length, document.notes.length]).toEqual([5, 5, 6]);

    const app = createApp(testDeps({ sql: () => sql, access_mode: "links", random }));
    const { key } = await store.accessKeys.create("api", "owner", "after the upgrade");
    const paths = ["/vehicles", "/quotes", "/customers", "/fleet", "/fleet/plan?year=2026", "/fleet/audit?year=2025"];
    const more = ["/fleet/predictions", "/fleet/terms", "/fleet/import", "/follow-ups", "/settings/webhook", "/prices"];
    for (const path of [...paths, ...more, ...document.vehicles.map(({ id }) => `/vehicles/${id}`), `/q/${TOKEN}`])
      expect([path, (await app.request(path, { headers: { Authorization: `Bearer ${key}` } })).status]).toEqual([
        path,
        200,
      ]);
    sql.close();
  });
});
