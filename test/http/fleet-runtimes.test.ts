import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import { createWorkspace } from "../../src/store/workspaces.ts";
import { workbookOf, workbookSheets } from "../../src/web/edge/workbook.ts";
import { random } from "../store/engines.ts";
import { fleetCsv } from "../support/fleet-csv.ts";
import { browser, type LinksApp, linksRuntimes } from "../support/links-app.ts";

/** A form with one file, as a browser sends it. */
function multipart(name: string, content: Uint8Array) {
  const boundary = "----form-of-a-test";
  const head = `--${boundary}\r\nContent-Disposition: form-data; name="file"; filename="${name}"\r\nContent-Type: text/csv\r\n\r\n`;
  const parts = [new TextEncoder().encode(head), content, new TextEncoder().encode(`\r\n--${boundary}--\r\n`)];
  const body = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    body.set(part, at);
    at += part.length;
  }
  return { headers: { "Content-Type": `multipart/form-data; boundary=${boundary}` }, body };
}

describe.each(linksRuntimes)("the fleet on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let editor: Record<string, string>;
  let viewer: Record<string, string>;

  beforeAll(async () => {
    app = await start();
    const now = () => new Date();
    const workspaceId = await createWorkspace({ sql: app.sql, now, random, settings: { plan: { service: "shop" } } });
    store = workspaceStore({ sql: app.sql, workspaceId, role: "owner", actor: "tester", now, random });
    editor = (await browser(app, store, "editor")).headers;
    viewer = (await browser(app, store, "viewer")).headers;
  });
  afterAll(() => app.close());

  const page = async (path: string, headers = editor) => (await app.request(path, { headers })).text();
  const post = (path: string, headers = editor) =>
    app.request(path, {
      method: "POST",
      headers: { ...headers, "Sec-Fetch-Site": "same-origin", "Content-Type": "application/x-www-form-urlencoded" },
      body: "",
    });
  const upload = (name: string, content: Uint8Array) => {
    const { headers, body } = multipart(name, content);
    return app.request("/fleet/import", {
      method: "POST",
      headers: { ...editor, ...headers, "Sec-Fetch-Site": "same-origin" },
      body: body as Uint8Array<ArrayBuffer>,
    });
  };

  test.each([
    [
      "Latin-1",
      Uint8Array.from("vehicle;refrigerant;nameplate g;depot\nVan 1;R-134a;850;S\u00fcd\n", (letter) =>
        letter.charCodeAt(0),
      ),
    ],
    [
      "UTF-16",
      new Uint8Array(
        Uint16Array.from("\ufeffvehicle;refrigerant;nameplate g;depot\nVan 1;R-134a;850;S\u00fcd\n", (letter) =>
          letter.charCodeAt(0),
        ).buffer,
      ),
    ],
  ])("reads a file in %s", async (name, content) => {
    const sent = await upload(`${name}.csv`, content);
    expect(sent.status).toBe(303);
    const address = sent.headers.get("Location")!;
    expect(await page(address)).toContain("1 row can be imported");
    await post(`${address}/back`);
  });

  test("reads a workbook, and writes one that it reads again", async () => {
    const rows = [
      ["vehicle", "refrigerant", "nameplate g", "date", "cooling"],
      ["Bus 31", "R-134a", 4000, "2026-04-01", "weak"],
    ];
    const workbook = new Uint8Array(await (await workbookOf({ name: "May", rows })).arrayBuffer());
    const address = (await upload("May.xlsx", workbook)).headers.get("Location")!;
    expect(await page(address)).toContain("1 row can be imported");
    expect((await post(`${address}/take`)).status).toBe(303);
    const out = await app.request("/fleet.xlsx", { headers: viewer });
    expect(out.headers.get("Content-Type")).toContain("spreadsheetml");
    const read = await workbookSheets(await out.arrayBuffer());
    expect(read.ok && read.sheets[0]!.csv.split("\n")[1]).toMatch(/^Bus 31,/);
    // Taken back, neither is there for the next.
    expect((await post(`${address}/undo`)).status).toBe(303);
    expect(await page(address)).toContain("This import was taken back");
    expect(await store.vehicles.count()).toBe(0);
    expect(await page("/fleet/import")).toContain("May.xlsx");
    expect((await app.request("/fleet/import", { headers: viewer })).status).toBe(403);
  });

  test("takes a file in and reckons it slice by slice, question by question", async () => {
    const sent = await upload(
      "fleet.csv",
      new TextEncoder().encode(fleetCsv({ vehicles: 30, entries: 4, seed: 12, as_of: "2026-05-01" })),
    );
    const address = sent.headers.get("Location")!;
    expect((await post(`${address}/take`)).status).toBe(303);
    // 30 vehicles are more than one slice, so the work cannot be over at once.
    const first = await page("/fleet/progress", { ...editor, "HX-Request": "true" });
    expect(first).toContain("<progress");
    let asked = 0;
    for (; asked < 50; asked++) {
      if (!(await page("/fleet/progress", { ...viewer, "HX-Request": "true" })).includes("<progress")) break;
    }
    expect(asked).toBeGreaterThan(0);
    expect(await page("/fleet")).toContain("All 30");
    expect((await store.fleet.totals()).reckoned).toBe(30);
    expect(await page("/fleet/budget?budget=20000")).toMatch(/No better plan exists|No plan is better/);
    expect(await page("/fleet/audit?year=2025")).toContain("By group");
    // Past predictions go on by looks at them, too, and are told to programs.
    let predictions = "";
    for (asked = 0; asked < 50; asked++) {
      predictions = await page("/fleet/predictions", viewer);
      if (!predictions.includes("hindsight-progress")) break;
    }
    const { fleet } = JSON.parse(await page("/api/fleet/predictions", viewer));
    expect(fleet.charges).toBeGreaterThan(0);
    expect(predictions).toMatch(/Of \d+ charges, \d+% came inside|Too few to judge/);
  });

  test("shows a viewer everything and lets them change nothing", async () => {
    const seen = await page("/fleet", viewer);
    expect(seen).toContain("All 30");
    expect(seen).not.toContain("/fleet/reckoning");
    for (const path of ["/fleet/reckoning", "/fleet/reckoning/stop", "/fleet/locks"]) {
      expect((await post(path, viewer)).status).toBe(403);
    }
    expect((await app.request("/fleet/import", { headers: viewer })).status).toBe(403);
    for (const path of ["/fleet", "/fleet/budget", "/fleet/plan", "/fleet/audit", "/fleet/terms"])
      expect(await page(path, viewer), path).not.toContain('href="/fleet/import"');
    expect((await app.request("/fleet")).status).toBe(401);
  });
});
