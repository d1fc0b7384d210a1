import { LazySql } from "../../src/store/lazy-sql.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import type { Deps } from "../../src/web/edge/deps.ts";
import { MODEL_IN_PLACE } from "../../src/web/edge/model.ts";
import { NO_LIMITS } from "../../src/web/edge/rate-limit.ts";
import { workbookSheets } from "../../src/web/edge/workbook.ts";

/** The day on which the application under test believes to be. */
export const TODAY = "2026-05-01";

/**
 * What the app needs, with nothing left to chance: a fixed instant, counted bytes for randomness, plain names for
 * files. There are no records but an empty workspace, made when it is first looked at; a test that needs some brings
 * its own database. An unexpected error fails the test that caused it instead of being logged.
 */
export function testDeps(changes: Partial<Deps> = {}): Deps {
  let drawn = 0;
  let empty: LazySql | undefined;
  const sql = changes.sql ?? (() => (empty ??= new LazySql(emptyRecords)));
  return {
    now: () => new Date(`${TODAY}T12:00:00Z`),
    timeZone: () => "UTC",
    today: () => TODAY,
    clientAddress: () => "192.0.2.1",
    origin: (c) => new URL(c.req.url).origin,
    limits: () => NO_LIMITS,
    room: () => null,
    model: MODEL_IN_PLACE,
    workbook: workbookSheets,
    random: (bytes) => Uint8Array.from({ length: bytes }, () => drawn++ % 256),
    asset: (name) => `/assets/${name}`,
    packPage: null,
    sql,
    sqlToBegin: sql,
    access_mode: "local",
    newcomers: () => true,
    keepWorking: null,
    post: async () => 204,
    condition: async () => ({
      of_all: true,
      bytes: null,
      last_backup: null,
      last_error: null,
      since: `${TODAY}T12:00:00Z`,
    }),
    reportError: (error) => {
      throw error;
    },
    ...changes,
  };
}

async function emptyRecords(): Promise<NodeSql> {
  const sql = new NodeSql(":memory:");
  await migrate(sql);
  await ensureLocalWorkspace({ sql, now: () => new Date(`${TODAY}T12:00:00Z`) });
  return sql;
}
