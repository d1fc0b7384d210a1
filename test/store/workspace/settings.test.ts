import { describe, expect, test } from "vitest";
import { workspaceStore } from "../../../src/store/workspace-store.ts";
import {
  createWorkspace,
  DEFAULT_SETTINGS,
  ensureLocalWorkspace,
  LOCAL_WORKSPACE,
  type Settings,
} from "../../../src/store/workspaces.ts";
import { engines, random, testClock } from "../engines.ts";
import { RecordsDatabase } from "./records-database.ts";

describe.each(engines)("a workspace on $name", ({ start }) => {
  const database = new RecordsDatabase(start);

  describe("settings", () => {
    const changed: Settings = {
      name: "Workshop",
      mass_unit: "lb-oz",
      temperature_unit: "C",
      pressure_unit: "bar-gauge",
      currency: "EUR",
      place: "eu",
      climate: "hot-desert",
      monthly_mean_c: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
      time_zone: "Europe/Lisbon",
      plan: { keep_years: 4 },
      prices: { can_price: 3 },
      assumptions: { heel: 0.2 },
    };

    test("update puts all in place of all", async () => {
      const store = await database.newStore();
      const { workspaceId: workspace_id } = store;
      expect(await store.settings.get()).toMatchObject({ ...DEFAULT_SETTINGS, workspace_id, version: 1 });
      const updated = await store.settings.update(changed, 1);
      expect(updated).toMatchObject({ ...changed, workspace_id, version: 2, updated_by: "tester" });
      expect(await store.settings.get()).toEqual(updated);
    });

    test("of two tabs, the second is told what the first set", async () => {
      const store = await database.newStore();
      const first = await store.settings.update(changed, 1);
      await expect(store.settings.update(DEFAULT_SETTINGS, 1)).rejects.toMatchObject({
        code: "changed",
        current: first,
      });
    });

    test("a double click sets once", async () => {
      const store = await database.newStore();
      const [first, second] = await Promise.all([1, 2].map(() => store.settings.update(changed, 1, "key")));
      expect(first!.version).toBe(2);
      expect(second).toEqual(first);
    });

    test("the local workspace is made once, and stays as it was set", async () => {
      const now = testClock();
      await ensureLocalWorkspace({ sql: database.sql, now, settings: { time_zone: "America/Chicago" } });
      const store = workspaceStore({
        sql: database.sql,
        workspaceId: LOCAL_WORKSPACE,
        role: "owner",
        actor: "local",
        now,
        random,
      });
      expect(await store.settings.get()).toMatchObject({ time_zone: "America/Chicago", version: 1 });
      await store.settings.update(changed, 1);
      await ensureLocalWorkspace({ sql: database.sql, now });
      expect(await store.settings.get()).toMatchObject(changed);
    });

    test("a workspace that does not exist has no settings", async () => {
      const store = workspaceStore({
        sql: database.sql,
        workspaceId: "none",
        role: "owner",
        actor: "x",
        now: testClock(),
        random,
      });
      await expect(store.settings.get()).rejects.toMatchObject({ code: "not-found" });
    });

    test("two new workspaces have ids of their own", async () => {
      const make = () => createWorkspace({ sql: database.sql, now: testClock(), random });
      expect(await make()).not.toBe(await make());
    });
  });
});
