import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import { newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { testDeps } from "../support/deps.ts";
import { browser, type LinksApp, linksRuntimes, SAME_ORIGIN } from "../support/links-app.ts";

const FORM = { ...SAME_ORIGIN.headers, "Content-Type": "application/x-www-form-urlencoded" };

describe.each(linksRuntimes)("erasing everything on $name", ({ start }) => {
  let app: LinksApp;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  const erase = (headers: Record<string, string>, name: string) =>
    app.request("/settings/erase", {
      method: "POST",
      headers: { ...FORM, ...headers },
      body: new URLSearchParams({ erase_name: name }).toString(),
    });

  test("is offered to the owner alone, with the name to be typed", async () => {
    const store = await newStore(app.sql);
    for (const [role, offered] of [
      ["owner", true],
      ["editor", false],
      ["viewer", false],
    ] as const) {
      const { headers } = await browser(app, store, role);
      const page = await (await app.request("/settings/records", { headers })).text();
      expect(page.includes("Type the name of these records")).toBe(offered);
    }
  });

  test("needs the name; a slip erases nothing and stays in the field", async () => {
    const store = await newStore(app.sql);
    const { headers } = await browser(app, store, "owner");
    await store.vehicles.create(VAN);
    const refused = await erase(headers, "My vehicle");
    expect(refused.status).toBe(422);
    const page = await refused.text();
    expect(page).toContain("To erase everything, type the name of these records: My vehicles");
    expect(page).toContain('value="My vehicle"');
    expect((await store.vehicles.list({})).items).toHaveLength(1);
  });

  test("ends all records and every way in, and takes the cookie back", async () => {
    const store = await newStore(app.sql);
    const { headers } = await browser(app, store, "owner");
    const viewer = await browser(app, store, "viewer");
    const { id } = await store.vehicles.create(VAN);
    const erased = await erase(headers, " my VEHICLES ");
    expect(erased.status).toBe(200);
    expect(erased.headers.get("Set-Cookie")).toMatch(/^__Host-seepwise=; Max-Age=0/);
    expect(await erased.text()).toContain("Everything is erased");
    for (const headers_now of [headers, viewer.headers])
      expect((await app.request(`/vehicles/${id}`, { headers: headers_now })).status).toBe(401);
  });
});

test("on one machine, erasing everything begins anew", async () => {
  const sql = await openDatabase(":memory:");
  await ensureLocalWorkspace({ sql, now: () => new Date("2026-05-01T12:00:00Z"), settings: { name: "Garage" } });
  const app = createApp(testDeps({ sql: () => sql }));
  const sent = await app.request("/settings/erase", { method: "POST", headers: FORM, body: "erase_name=garage" });
  expect(sent.status).toBe(200);
  expect(await sql.all("SELECT workspace_id, name FROM workspaces")).toEqual([
    { workspace_id: "local", name: "My vehicles" },
  ]);
  expect((await app.request("/vehicles")).status).toBe(200);
  sql.close();
});
