import { addDays } from "date-fns";
import { describe, expect, test } from "vitest";
import { takeDueMessages } from "../../src/store/webhook-outbox.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { createWorkspace } from "../../src/store/workspaces.ts";
import { bucketLimits, tokenBuckets } from "../../src/web/edge/rate-limit.ts";
import { random } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { bearer, browser, linksOnNode } from "../support/links-app.ts";
import { Person } from "../support/person.ts";

/** The clock of a machine is set back: by a year that it was ahead, or by an hour. Each has one clear outcome. */

const AHEAD = new Date("2027-05-03T12:00:00Z");
const RIGHT = new Date("2026-05-01T12:00:00Z");

/** The application with a shop in it that has worked for a day while the clock was ahead. */
async function afterwards() {
  let instant = AHEAD;
  const now = () => instant;
  const limits = bucketLimits(now);
  const app = await linksOnNode({ now, limits: () => limits });
  const workspaceId = await createWorkspace({ sql: app.sql, now, random });
  const store = workspaceStore({ sql: app.sql, workspaceId, role: "owner", actor: "tester", now, random });
  const owner = new Person(app, (await browser(app, store, "owner")).headers);
  const key = await bearer(store, "editor");
  const { id } = await store.vehicles.create(
    { ...VAN, fleet_group: "Vans" },
    { charge_log: [{ date: "2027-05-03", cooling: "weak", added_g: 300 }], notes: [{ body: "Rattles" }] },
  );
  return { app, store, owner, key, id, setBack: () => (instant = RIGHT) };
}

describe("a clock that is set back", () => {
  test("keeps whoever is in signed in, and says when a key was used by the clock of today", async () => {
    const { app, store, owner, key, setBack } = await afterwards();
    await app.request("/api/vehicles", { headers: key.headers });
    setBack();
    expect((await owner.get("/vehicles")).status).toBe(200);
    await app.request("/api/vehicles", { headers: key.headers });
    const keys = await store.accessKeys.list();
    expect(new Set(keys.map(({ last_used_at }) => last_used_at))).toEqual(new Set([RIGHT.toISOString()]));
    await app.close();
  });

  test("shows every page of records from days that are still to come, and takes what happens today", async () => {
    const { app, store, owner, key, id, setBack } = await afterwards();
    for (const path of ["/vehicles", `/vehicles/${id}`]) expect((await owner.get(path)).status).toBe(200);
    setBack();
    const paths = ["/vehicles", `/vehicles/${id}`, `/vehicles/${id}/details`, "/fleet", "/follow-ups", "/quotes"];
    for (const path of [...paths, "/settings/export.json", "/settings/access"])
      expect([path, (await owner.get(path)).status]).toEqual([path, 200]);
    const body = JSON.stringify({ date: "2026-05-01", cooling: "weak", added_g: 100 });
    const headers = { ...key.headers, "Content-Type": "application/json" };
    const sent = await app.request(`/api/vehicles/${id}/charge-log`, { method: "POST", headers, body });
    expect(sent.status).toBe(201);
    const dates = (await store.record(id)).charge_log.map(({ date }) => date);
    expect(dates).toEqual(["2026-05-01", "2027-05-03"]);
    expect((await owner.get(`/vehicles/${id}`)).status).toBe(200);
    await app.close();
  });

  test("stores a form once that was sent before and after it", async () => {
    const { app, store, owner, id, setBack } = await afterwards();
    const form = { body: "Hose looks wet", submit_key: "same" };
    expect((await owner.post(`/vehicles/${id}/notes`, form)).status).toBe(303);
    setBack();
    expect((await owner.post(`/vehicles/${id}/notes`, form)).status).toBe(303);
    expect((await store.record(id)).notes.map(({ body }) => body)).toEqual(["Rattles", "Hose looks wet"]);
    await app.close();
  });

  test("makes a page again that was kept for another day", async () => {
    const { app, owner, id, setBack } = await afterwards();
    const ahead = await owner.page(`/vehicles/${id}`);
    setBack();
    const today = await owner.page(`/vehicles/${id}`);
    expect(ahead).toContain("2027-05-03");
    expect(today).toContain("2026-05-01");
    await app.close();
  });

  test("calculates a fleet's answers anew that were calculated for a later day", async () => {
    const { app, store, owner, setBack } = await afterwards();
    const calculated = async () => {
      await owner.post("/fleet/reckoning");
      for (let slice = 0; slice < 10; slice += 1) await owner.get("/fleet/progress");
      return (await store.fleet.list()).map(({ reckoned }) => reckoned?.as_of);
    };
    expect(await calculated()).toEqual(["2027-05-03"]);
    setBack();
    expect(await calculated()).toEqual(["2026-05-01"]);
    await app.close();
  });

  test("neither empties nor fills what an address may still do", async () => {
    let ms = AHEAD.getTime();
    const limit = tokenBuckets({ now: () => new Date(ms), burst: 3, refill_ms: 1000 });
    expect([await limit.take("a"), await limit.take("a")]).toEqual([true, true]);
    ms = RIGHT.getTime();
    expect([await limit.take("a"), await limit.take("a")]).toEqual([true, false]);
    ms += 1000;
    expect([await limit.take("a"), await limit.take("a")]).toEqual([true, false]);
  });

  test("sends a message that would have waited for a year", async () => {
    const { app, store, setBack } = await afterwards();
    await store.webhooks.save("https://hooks.example.com/a", 0);
    await store.webhooks.sendTest();
    setBack();
    expect(await takeDueMessages(app.sql, RIGHT, 10)).toHaveLength(1);
    expect(await takeDueMessages(app.sql, RIGHT, 10)).toEqual([]);
    await app.close();
  });

  test("keeps the answers of today, not those of days that are still to come", async () => {
    const { app, store, id, setBack } = await afterwards();
    const ask = (day: Date) => ({
      as_of: day.toISOString().slice(0, 10),
      vehicle: { refrigerant: "R-134a" as const, nameplate_g: 650 },
    });
    let computed = 0;
    const answer = (day: Date) =>
      store.assessments.answer(id, ask(day), "1", (asked) => {
        computed += 1;
        return asked as never;
      });
    for (let i = 0; i < 40; i += 1) await answer(addDays(AHEAD, i));
    setBack();
    await answer(RIGHT);
    await answer(RIGHT);
    expect(computed).toBe(41);
    await app.close();
  });
});
