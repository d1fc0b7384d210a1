import { readFileSync } from "node:fs";
import type { Server } from "node:http";
import { join } from "node:path";
import { serve } from "@hono/node-server";
import { serveStatic } from "@hono/node-server/serve-static";
import { createApp } from "../../src/app.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import type { Sql } from "../../src/store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { assetUrl } from "../../src/web/edge/asset-url.ts";
import { random } from "../store/engines.ts";
import { testDeps } from "./deps.ts";
import { DIST } from "./paths.ts";

/** The application in this process, with its built files, in local mode, and with a clock that can be set. */
export interface ClockApp {
  url: string;
  sql: Sql;
  store: WorkspaceStore;
  /** Sets the clock to an instant; it stands still there. */
  setNow(instant: string): void;
  close(): Promise<void>;
}

export async function clockApp(instant: string): Promise<ClockApp> {
  let now = new Date(instant);
  const sql = await openDatabase(":memory:");
  const clock = () => now;
  await ensureLocalWorkspace({ sql, now: clock });
  const manifest: Record<string, string> = JSON.parse(readFileSync(join(DIST, "assets.json"), "utf8"));
  const deps = testDeps({
    sql: () => sql,
    now: clock,
    today: () => now.toISOString().slice(0, 10),
    random,
    asset: assetUrl(manifest),
    packPage: null,
  });
  const app = createApp(deps, (edge) => {
    edge.use("/assets/*", serveStatic({ root: join(DIST, "public") }));
  });
  const { server, port } = await new Promise<{ server: Server; port: number }>((resolve) => {
    const made = serve({ fetch: app.fetch, hostname: "127.0.0.1", port: 0 }, (address) =>
      resolve({ server: made, port: address.port }),
    ) as Server;
  });
  return {
    url: `http://127.0.0.1:${port}`,
    sql,
    store: workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now: clock, random }),
    setNow: (next) => {
      now = new Date(next);
    },
    close: async () => {
      await new Promise((resolve) => {
        server.close(resolve);
        server.closeAllConnections();
      });
      sql.close();
    },
  };
}
