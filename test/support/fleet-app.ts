import { expect, onTestFinished } from "vitest";
import { createApp } from "../../src/app.ts";
import { assess } from "../../src/core/assess.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import type { AssessedRecord } from "../../src/store/vehicle-record.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { vehicleRequest } from "../../src/web/vehicle-answer.ts";
import { testDeps } from "./deps.ts";
import { fleetCsv } from "./fleet-csv.ts";

const ORIGIN = { Origin: "http://localhost" };

/** The application with an empty workspace, as someone with a fleet uses it, and its store. */
export async function fleetApp(as_of: string) {
  const sql = new NodeSql(":memory:");
  onTestFinished(() => sql.close());
  await migrate(sql);
  const random = (bytes: Uint8Array<ArrayBuffer>) => crypto.getRandomValues(bytes);
  const deps = testDeps({
    sql: () => sql,
    random: (bytes) => random(new Uint8Array(bytes)),
    now: () => new Date(`${as_of}T12:00:00Z`),
  });
  await ensureLocalWorkspace({ sql, now: deps.now });
  const app = createApp(deps);
  const store = workspaceStore({
    sql,
    workspaceId: LOCAL_WORKSPACE,
    role: "owner",
    actor: "tester",
    now: deps.now,
    random: deps.random,
  });

  const post = (path: string, fields: Record<string, string> = {}) =>
    app.request(path, {
      method: "POST",
      headers: { ...ORIGIN, "Content-Type": "application/x-www-form-urlencoded" },
      body: new URLSearchParams(fields).toString(),
    });

  async function textOf(path: string, headers: Record<string, string> = {}): Promise<string> {
    const answer = await app.request(path, { headers });
    expect(answer.status, path).toBe(200);
    return answer.text();
  }

  async function upload(content: string | Uint8Array<ArrayBuffer>, name = "fleet.csv"): Promise<Response> {
    const form = new FormData();
    form.set("file", new File([content], name, { type: "text/csv" }));
    return app.request("/fleet/import", { method: "POST", headers: ORIGIN, body: form });
  }

  /** Imports a file that needs no answers; gives the address of its report. */
  async function imported(csv: string | Uint8Array<ArrayBuffer>, name?: string): Promise<string> {
    const report = (await upload(csv, name)).headers.get("Location")!;
    expect((await post(`${report}/take`)).status).toBe(303);
    return report;
  }

  /** Has the fleet calculated; without work in the background each question does a slice. */
  async function reckoned(): Promise<void> {
    await post("/fleet/reckoning");
    for (let i = 0; i < 100; i++) {
      const page = await textOf("/fleet/progress", { "HX-Request": "true" });
      if (!page.includes("<progress")) return;
    }
    throw new Error("The reckoning does not end");
  }

  return {
    app,
    store,
    post,
    textOf,
    upload,
    imported,
    reckoned,
    requestOf: (record: AssessedRecord) => vehicleRequest(record, as_of),
    assess: (request: ReturnType<typeof vehicleRequest>) => assess(request, { sensitivity: false }),
    inventedCsv: (vehicles: number) => fleetCsv({ vehicles, entries: 4, seed: 3, as_of }),
  };
}
