import { afterAll, beforeAll, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import { saidMass } from "../../views/words/numbers.ts";
import { testDeps } from "../support/deps.ts";
import { formIn, textOf } from "../support/page-form.ts";

/** What a vehicle is reaches its answer from every way in, and page, list, fleet and interface say the same of it. */

const ORIGIN = { Origin: "http://localhost" };
let sql: NodeSql;
let app: ReturnType<typeof createApp>;

beforeAll(async () => {
  sql = new NodeSql(":memory:");
  await migrate(sql);
  const deps = testDeps({ sql: () => sql, random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)) });
  await ensureLocalWorkspace({ sql, now: deps.now });
  app = createApp(deps);
});
afterAll(() => sql.close());

async function page(path: string, headers: Record<string, string> = {}): Promise<string> {
  const answer = await app.request(path, { headers });
  expect(answer.status, path).toBe(200);
  return answer.text();
}

async function post(path: string, body: URLSearchParams | FormData): Promise<Response> {
  return app.request(path, { method: "POST", headers: ORIGIN, body });
}

async function entered(fields: Record<string, string>): Promise<string> {
  const form = formIn(await page("/vehicles/new"), "details-form");
  for (const [name, value] of Object.entries(fields)) form.set(name, value);
  const sent = await post("/vehicles/new", form);
  expect(sent.status).toBe(303);
  return sent.headers.get("Location")!.replace(/\?.*/, "");
}

async function leakOf(address: string): Promise<number> {
  const { leak } = JSON.parse(await page(`/api${address}/assessment`)) as { leak: { g_per_year: { median: number } } };
  return leak.g_per_year.median;
}

const BUS = { refrigerant: "R-134a", nameplate: "7.7 kg" };

test("a bus by form, interface and file leaks like a bus; page, list, fleet and export say so", async () => {
  const unsaid = await entered({ ...BUS, label: "Unsaid" });
  const typed = await entered({ ...BUS, label: "Typed bus", kind: "bus" });
  const posted = await app.request("/api/vehicles", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ label: "Posted bus", refrigerant: "R-134a", nameplate_g: 7700, kind: "bus" }),
  });
  expect(posted.status).toBe(201);
  const { id } = (await posted.json()) as { id: string };
  const upload = new FormData();
  const csv = "vehicle,refrigerant,nameplate g,kind of vehicle,own oil dye\nFile bus,R-134a,7700,Coach,yes\n";
  upload.set("file", new File([csv], "buses.csv"));
  const sent = await post("/fleet/import", upload);
  expect((await post(`${sent.headers.get("Location")}/take`, new URLSearchParams())).status).toBe(303);
  const { items } = JSON.parse(await page("/api/vehicles?search=file+bus")) as {
    items: { id: string; kind: string; dye_in_own_oil: boolean }[];
  };
  expect(items).toMatchObject([{ kind: "bus", dye_in_own_oil: true }]);

  const buses = [typed, `/vehicles/${id}`, `/vehicles/${items[0]!.id}`];
  const leaks = await Promise.all(buses.map(leakOf));
  expect(new Set(leaks).size).toBe(1);
  expect(leaks[0]).toBeLessThan((await leakOf(unsaid)) * 0.8);

  await post("/fleet/reckoning", new URLSearchParams());
  for (let looks = 0; looks < 100; looks++)
    if (!(await page("/fleet/progress", { "HX-Request": "true" })).includes("<progress")) break;
  const said = saidMass(leaks[0]!, "us").replace(/\u00a0/g, " ");
  for (const address of buses) {
    const text = textOf(await page(address));
    expect(text).toContain("Bus · R-134a");
    expect(text).toContain(`${said} a year`);
  }
  expect(textOf(await page("/vehicles")).split(said).length).toBeGreaterThanOrEqual(4);
  // The fleet's table has its unit in the head of the column.
  const ounces = said.replace(/ oz$/, "");
  expect(textOf(await page("/fleet")).split(` ○ ${ounces} `)).toHaveLength(buses.length + 1);
  const rows = (await page("/fleet.csv")).split("\r\n").filter((row) => row.includes("bus"));
  expect(rows).toHaveLength(3);
  for (const row of rows) expect(row).toContain(String(leaks[0]).slice(0, 3));
});

test("the form shows what is recorded, changes it, and refuses what is none", async () => {
  const address = await entered({
    ...BUS,
    label: "Changed",
    kind: "van",
    electric_compressor: "yes",
    dye_in_own_oil: "no",
  });
  const form = formIn(await page(`${address}/details`), "details-form");
  expect([form.get("kind"), form.get("dye_in_own_oil")]).toEqual(["van", "no"]);
  form.set("kind", "heavy-vehicle");
  form.set("dye_in_own_oil", "");
  expect((await post(`${address}/details`, form)).status).toBe(303);
  const now = JSON.parse(await page(`/api${address}`)) as { kind: string; dye_in_own_oil: boolean | null };
  expect(now).toMatchObject({ kind: "heavy-vehicle", dye_in_own_oil: null });

  const wrong = formIn(await page(`${address}/details`), "details-form");
  wrong.set("kind", "boat");
  wrong.set("dye_in_own_oil", "maybe");
  const refused = await post(`${address}/details`, wrong);
  expect(refused.status).toBe(422);
  const text = textOf(await refused.text());
  expect(text).toContain("Choose what it is, or leave it not said");
  expect(text).toContain("Choose yes or no, or not sure");
});

test("what two people changed at once is shown, kind and dye too", async () => {
  const address = await entered({ ...BUS, label: "Both" });
  const [mine, theirs] = [0, 1].map(async () => formIn(await page(`${address}/details`), "details-form"));
  (await theirs!).set("kind", "bus");
  expect((await post(`${address}/details`, await theirs!)).status).toBe(303);
  (await mine!).set("dye_in_own_oil", "yes");
  const answer = await post(`${address}/details`, await mine!);
  expect(answer.status).toBe(409);
  const text = textOf(await answer.text());
  expect(text).toContain("Kind of vehicle bus");
  expect(text).toContain("Leak dye in the compressor's own oil empty yes");
});
