import { describe, expect, test } from "vitest";
import { workspaceBytes } from "../../src/store/workspace-bytes.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { Room } from "../../src/web/edge/room.ts";
import { engines, newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { bearer, browser, linksOnNode } from "../support/links-app.ts";
import { Person } from "../support/person.ts";

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

test("a workspace that is full saves nothing more; all of it is seen, exported and deleted, and then it goes on", async () => {
  let at = Date.parse("2026-05-01T12:00:00Z");
  const now = () => new Date(at);
  const measure = (workspace_id: string) => workspaceBytes(app.sql, workspace_id);
  let room: Room | null = null;
  const app = await linksOnNode({ room: () => room });
  const [store, neighbor] = [await newStore(app.sql), await newStore(app.sql)];
  const owner = new Person(app, (await browser(app, store, "owner")).headers);
  const { id } = await store.vehicles.create(VAN);
  await store.vehicles.create(
    { ...VAN, label: "Example" },
    { example: true, notes: Array(5).fill({ body: "x".repeat(9000) }) },
  );
  const limit_bytes = (await measure(store.workspaceId)) + 30_000;
  room = new Room({ limit_bytes, most: () => 10 * limit_bytes, measure, now });

  const writer = async (of: WorkspaceStore, vehicle_id: string) => {
    const { headers } = await bearer(of, "editor");
    const body = JSON.stringify({ body: "x".repeat(9000) });
    const sent = { ...headers, "Content-Type": "application/json", "Content-Length": String(body.length) };
    return () => app.request(`/api/vehicles/${vehicle_id}/notes`, { method: "POST", headers: sent, body });
  };
  const write = await writer(store, id);
  let refused = await write();
  for (let i = 0; refused.status === 201 && i < 5; i += 1) refused = await write();
  expect(refused.status).toBe(507);
  expect(await refused.text()).toContain("of the 1 MB that there is room for, so nothing of this was saved");
  const { notes } = await store.record(id);

  for (const path of ["/vehicles", `/vehicles/${id}`, "/settings/export.json", "/settings/charge-log.csv"])
    expect([path, (await owner.get(path)).status]).toEqual([path, 200]);
  // Whoever does not say how much will come is taken to send as much as may come.
  expect((await owner.post(`/vehicles/${id}/notes`, { body: "x" })).status).toBe(507);
  const others = await neighbor.vehicles.create(VAN);
  expect((await (await writer(neighbor, others.id))()).status).toBe(201);

  expect((await owner.post("/vehicles/examples/removal", {})).status).toBe(303);
  at += 10_000;
  expect((await write()).status).toBe(201);
  expect((await store.record(id)).notes).toHaveLength(notes.length + 1);
  await app.close();
});
