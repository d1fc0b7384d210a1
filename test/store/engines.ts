import { join } from "node:path";
import type { D1Database } from "@cloudflare/workers-types";
import { createTestHarness } from "wrangler";
import { D1Sql } from "../../src/store/d1.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import type { Sql } from "../../src/store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import { createWorkspace } from "../../src/store/workspaces.ts";
import { once } from "../support/once.ts";
import { ROOT } from "../support/paths.ts";

interface Engine {
  sql: Sql;
  close(): Promise<void>;
}

async function onNode(): Promise<Engine> {
  const sql = new NodeSql(":memory:");
  await migrate(sql);
  return { sql, close: async () => sql.close() };
}

/** The hosted engine as it runs on this machine, with the migrations applied by its own tool. */
async function onD1(): Promise<Engine> {
  const database = { binding: "DB", database_name: "test", database_id: "00000000-0000-0000-0000-000000000000" };
  const config = {
    name: "store-test",
    main: join(ROOT, "test/store/empty-worker.ts"),
    compatibility_date: "2026-10-01",
    d1_databases: [{ ...database, migrations_dir: join(ROOT, "data/migrations") }],
  };
  const harness = createTestHarness({ workers: [{ config }] });
  await harness.listen();
  const worker = harness.getWorker<{ DB: D1Database }>();
  await worker.applyD1Migrations("DB");
  const { DB } = await worker.getEnv();
  return { sql: new D1Sql(DB), close: () => harness.close() };
}

/** For `describe.each(engines)("… on $name", ({ start }) => …)`. */
export const engines = [
  { name: "node:sqlite", start: onNode },
  { name: "D1", start: once(onD1) },
];

/** The same, each start with a database of its own, for what looks at or changes its tables. */
export const freshEngines = [
  { name: "node:sqlite", start: onNode },
  { name: "D1", start: onD1 },
];

export const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));

/** A clock that stands at noon of 2026-05-01 and goes on by a second whenever it is asked. */
export function testClock(): () => Date {
  let ms = Date.parse("2026-05-01T12:00:00Z");
  return () => {
    ms += 1000;
    return new Date(ms);
  };
}

/** A workspace of its own for one test: tests share a database, as people do. */
export async function newStore(sql: Sql, now = testClock()): Promise<WorkspaceStore> {
  const workspaceId = await createWorkspace({ sql, now, random });
  return workspaceStore({ sql, workspaceId, role: "owner", actor: "tester", now, random });
}
