import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { workspaceBytes } from "../../src/store/workspace-bytes.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { Room } from "../../src/web/edge/room.ts";
import { engines, newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { bearer, browser, type LinksApp, linksOnNode, linksOnWorkers } from "../support/links-app.ts";
import { Person } from "../support/person.ts";
import { unsecured } from "../support/secured.ts";
import { objectAt, type RunningWorker, startWorker } from "../support/worker.ts";

describe.each(engines)("how much a workspace takes on $name", ({ start }) => {
  test("is about what was written, of it alone", async () => {
    const { sql, close } = await start();
    const store = await newStore(sql);
    const { id } = await store.vehicles.create(VAN);
    const before = await workspaceBytes(sql, store.workspaceId);
    for (let i = 0; i < 20; i += 1) await store.notes.add(id, { body: "ä".repeat(2000) });
    const added = (await workspaceBytes(sql, store.workspaceId)) - before;
    // Two bytes for each of them, and what a search looks through has the text once more without its dots.
    expect(added).toBeGreaterThan(80_000);
    expect(added).toBeLessThan(130_000);
    expect(await workspaceBytes(sql, "none")).toBe(0);
    await close();
  });
});

/** The Worker with settings of its own: room for 1 MB, and empty workspaces end after a second. */
let small: RunningWorker;
beforeAll(async () => {
  small = await startWorker({ WORKSPACE_MB: "1", EMPTY_DAYS: "0.00001" });
});
afterAll(() => small.close());

/** A workspace's application with room for 1 MB, one of its neighbors', and how the time passes there. */
interface Tight {
  app: LinksApp;
  neighbor: LinksApp;
  /** Whether a request says how long it is. */
  tells_length: boolean;
  later(): Promise<void>;
}

async function tightOnNode(): Promise<Tight> {
  let at = Date.parse("2026-05-01T12:00:00Z");
  const measure = (workspace_id: string) => workspaceBytes(app.sql, workspace_id);
  const room = new Room({ limit_bytes: 1e6, most: () => 10e6, measure, now: () => new Date(at) });
  const app = await linksOnNode({ room: () => room });
  const later = async () => {
    at += 10_000;
  };
  return { app, neighbor: app, tells_length: false, later };
}

/** Its clock is the machine's: whoever was refused is measured again after three seconds. */
async function tightOnWorkers(): Promise<Tight> {
  const later = () => new Promise<void>((resume) => setTimeout(resume, 3100));
  return { app: await linksOnWorkers(small), neighbor: await linksOnWorkers(small), tells_length: true, later };
}

describe.each([
  { name: "Node", start: tightOnNode },
  { name: "Workers", start: tightOnWorkers },
])("a workspace that is full on $name", ({ start }) => {
  test("saves nothing more; all of it is seen, exported and deleted, and then it goes on", async () => {
    const { app, neighbor, tells_length, later } = await start();
    const store = await newStore(app.sql);
    const owner = new Person(app, (await browser(app, store, "owner")).headers);
    const { id } = await store.vehicles.create(VAN);
    // A note counts twice: what a search looks through has it, too.
    const notes = Array(48).fill({ body: "x".repeat(9000) });
    await store.vehicles.create({ ...VAN, label: "Example" }, { example: true, notes });
    const write = await writer(app, store, id);
    let refused = await write();
    for (let i = 0; refused.status === 201 && i < 20; i += 1) refused = await write();
    expect([refused.status, unsecured(refused, { https: true })]).toEqual([507, []]);
    expect(await refused.text()).toContain(
      "These records take 1 MB of the 1 MB that there is room for, so nothing of this was saved.",
    );
    for (const path of ["/vehicles", `/vehicles/${id}`, "/settings/export.json", "/settings/charge-log.csv"])
      expect([path, (await owner.get(path)).status]).toEqual([path, 200]);
    // Whoever does not say how much will come is taken to send as much as may come.
    expect((await owner.post(`/vehicles/${id}/notes`, { body: "x" })).status).toBe(tells_length ? 303 : 507);
    const others = await newStore(neighbor.sql);
    expect((await (await writer(neighbor, others, (await others.vehicles.create(VAN)).id))()).status).toBe(201);

    expect((await owner.post("/vehicles/examples/removal", {})).status).toBe(303);
    await later();
    const kept = (await store.record(id)).notes.length;
    expect((await write()).status).toBe(201);
    expect((await store.record(id)).notes).toHaveLength(kept + 1);
    await app.close();
  });
});

/** Writes a note of 9 kB to a vehicle over HTTP, again each time. */
async function writer(app: LinksApp, store: WorkspaceStore, vehicle_id: string) {
  const { headers } = await bearer(store, "editor");
  const body = JSON.stringify({ body: "x".repeat(9000) });
  const sent = { ...headers, "Content-Type": "application/json", "Content-Length": String(body.length) };
  return () => app.request(`/api/vehicles/${vehicle_id}/notes`, { method: "POST", headers: sent, body });
}

test("an object in which nothing was kept is gone when its time has come, and one with a vehicle or a name stays", async () => {
  const begun = async () => {
    const app = await linksOnWorkers(small);
    const store = await newStore(app.sql, () => new Date());
    return { app, store, headers: (await browser(app, store, "owner")).headers };
  };
  const [left, used, named] = [await begun(), await begun(), await begun()];
  await used.store.vehicles.create(VAN);
  await named.store.customers.create({ name: "Invented Garage", phone: "", email: "", address: "", note: "" });
  const opens = async ({ app, headers }: typeof left) => (await app.request("/vehicles", { headers })).status;
  expect([await opens(left), await opens(used), await opens(named)]).toEqual([200, 200, 200]);

  const object = await objectAt(left.app.sql.place, small);
  await expect.poll(() => object.size(), { interval: 200 }).toBeLessThan(20_000);
  expect(await object.wakes()).toBeNull();
  expect([await opens(left), await opens(used), await opens(named)]).toEqual([401, 200, 200]);
  expect((await named.store.customers.list({})).items.map(({ name }) => name)).toEqual(["Invented Garage"]);
});
