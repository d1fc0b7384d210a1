import { createApp } from "../../src/app.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import type { Role } from "../../src/store/roles.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import type { Deps } from "../../src/web/edge/deps.ts";
import { random } from "../store/engines.ts";
import { testDeps } from "./deps.ts";
import { type Ask, fromSomewhere } from "./runtimes.ts";
import { newObject, type RunningWorker, theWorker } from "./worker.ts";

/** The application with access links, on one runtime, and its database. */
export interface LinksApp {
  sql: Sql;
  /** Redirects are not followed. */
  request(path: string, ask?: Ask): Promise<Response>;
  close(): Promise<void>;
}

export async function linksOnNode(changes: Partial<Deps> = {}): Promise<LinksApp> {
  const sql = await openDatabase(":memory:");
  const app = createApp(testDeps({ sql: () => sql, access_mode: "links", random, ...changes }));
  return { sql, request: async (path, ask) => app.request(path, ask), close: async () => sql.close() };
}

export async function linksOnWorkers(worker?: RunningWorker): Promise<LinksApp> {
  const { harness, url } = worker ?? (await theWorker());
  return {
    sql: await newObject(worker),
    request: (path, { headers, ...ask } = {}) =>
      harness.fetch(new URL(path, url).href, { redirect: "manual", headers: fromSomewhere(headers), ...ask }),
    close: async () => {},
  };
}

/** For `describe.each(linksRuntimes)("… on $name", ({ start }) => …)`; a test makes a workspace of its own. */
export const linksRuntimes = [
  { name: "Node", start: () => linksOnNode() },
  { name: "Workers", start: () => linksOnWorkers() },
];

export const SAME_ORIGIN = { method: "POST", headers: { "Sec-Fetch-Site": "same-origin" } };

export function cookieOf(answer: Response): string {
  return (answer.headers.get("Set-Cookie") ?? "").split(";")[0] as string;
}

/** A key of the workspace for programs, as the headers that carry it. */
export async function bearer(store: WorkspaceStore, role: Role) {
  const { id, key } = await store.accessKeys.create("api", role, "script");
  return { id, headers: { Authorization: `Bearer ${key}` } };
}

/** A browser that opened a link of the workspace, as the headers that it sends. */
export async function browser(app: LinksApp, store: WorkspaceStore, role: Role) {
  const { id, key } = await store.accessKeys.create("link", role, "phone");
  return { id, headers: { Cookie: cookieOf(await app.request(`/access/${key}`, SAME_ORIGIN)) } };
}
