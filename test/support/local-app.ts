import { createApp } from "../../src/app.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { testDeps } from "./deps.ts";
import { textOf } from "./page-form.ts";

/** The application as its owner uses it on their own machine, with empty records; no network, nothing signed in. */
export interface LocalApp {
  store: WorkspaceStore;
  /** A page as markup, and as its words. Throws for one that is not answered 200. */
  page(path: string): Promise<string>;
  words(path: string): Promise<string>;
  /** A page that names what is to be put right (422). */
  refused(path: string): Promise<string>;
  post(path: string, body: URLSearchParams | FormData): Promise<Response>;
  /** Works the fleet out, as its button does. */
  calculateFleet(): Promise<void>;
  close(): void;
}

export async function localApp(): Promise<LocalApp> {
  const sql = new NodeSql(":memory:");
  await migrate(sql);
  const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
  const deps = testDeps({ sql: () => sql, random });
  const { now } = deps;
  await ensureLocalWorkspace({ sql, now });
  const app = createApp(deps);
  const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now, random });

  async function page(path: string, status = 200): Promise<string> {
    const answer = await app.request(path);
    if (answer.status !== status) throw new Error(`${path}: ${answer.status}`);
    return answer.text();
  }
  const post: LocalApp["post"] = async (path, body) =>
    app.request(path, { method: "POST", headers: { Origin: "http://localhost" }, body });

  return {
    store,
    page: (path) => page(path),
    refused: (path) => page(path, 422),
    words: async (path) => textOf(await page(path)),
    post,
    async calculateFleet() {
      await post("/fleet/reckoning", new URLSearchParams());
      for (let looks = 0; looks < 200; looks++) {
        const progress = await app.request("/fleet/progress", { headers: { "HX-Request": "true" } });
        if (!(await progress.text()).includes("<progress")) return;
      }
      throw new Error("The fleet is not calculated");
    },
    close: () => sql.close(),
  };
}

/** The address of the quick question about an R-134a car, with entries of `when, what, how much, how it cooled`. */
export function quickQuestion(said: Record<string, string>, entries: readonly (readonly string[])[] = []): string {
  const query = new URLSearchParams({ units: "us", refrigerant: "R-134a", nameplate: "23 oz", ...said });
  for (const [when = "", did = "", amount = "", cooled = ""] of entries)
    for (const [name, value] of Object.entries({ when, did, amount, cooled })) query.append(name, value);
  return `/?${query}`;
}
