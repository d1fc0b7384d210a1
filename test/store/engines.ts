import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import type { Sql } from "../../src/store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import { createWorkspace } from "../../src/store/workspaces.ts";
import { newObject } from "../support/worker.ts";

interface Engine {
  sql: Sql;
  close(): Promise<void>;
}

async function onNode(): Promise<Engine> {
  const sql = new NodeSql(":memory:");
  await migrate(sql);
  return { sql, close: async () => sql.close() };
}

/** A new object of the Worker, with its migrations applied by itself; it ends with the process. */
async function onObject(): Promise<Engine> {
  return { sql: await newObject(), close: async () => {} };
}

/** For `describe.each(engines)("… on $name", ({ start }) => …)`. */
export const engines = [
  { name: "node:sqlite", start: onNode },
  { name: "a durable object", start: onObject },
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
