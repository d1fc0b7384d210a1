import { beforeAll, describe, expect, test } from "vitest";
import type { VehicleQuery } from "../../../src/store/vehicles.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { CAN, HARD_TEXTS, TRUCK, VAN } from "../samples.ts";

describe.each(engines)("vehicles on $name", ({ start }) => {
  const database = new Database(start);

  describe("list", () => {
    let store: WorkspaceStore;
    const labels = async (query: VehicleQuery = {}) =>
      (await store.vehicles.list(query)).items.map(({ label }) => label);
    beforeAll(async () => {
      store = await database.newStore();
      for (const label of ["Van 10", "van 2", "Ärger", "Azur", "ΣΊΣΥΦΟΣ", "Straße 5", "Van 2"])
        await store.vehicles.create({
          ...VAN,
          label,
          fleet_group: label.startsWith("V") ? "Vans" : null,
          depot: "North",
        });
    });

    test("is in the order in which people read labels", async () => {
      const order = await labels();
      expect(order.map((label) => label.toLowerCase())).toEqual(
        ["Ärger", "Azur", "Straße 5", "Van 2", "Van 2", "Van 10", "ΣΊΣΥΦΟΣ"].map((label) => label.toLowerCase()),
      );
    });

    test.each([1, 2, 3, 7, 8])("comes in pages of %i without a gap or a repeat", async (limit) => {
      const paged: string[] = [];
      let after: string | null = null;
      do {
        const page = await store.vehicles.list({ limit, after });
        expect(page.items.length).toBeLessThanOrEqual(limit);
        paged.push(...page.items.map(({ id }) => id));
        after = page.next;
      } while (after !== null);
      const whole = await store.vehicles.list();
      expect(paged).toEqual(whole.items.map(({ id }) => id));
    });

    test("a vehicle that comes in between moves none out of the pages", async () => {
      const first = await store.vehicles.list({ limit: 3 });
      const early = await store.vehicles.create({ ...VAN, label: "AA" });
      const rest = await store.vehicles.list({ limit: 100, after: first.next });
      expect(first.items.length + rest.items.length).toBe(7);
      await store.vehicles.archive(early.id, 1);
    });

    test("counts what it finds on all pages", async () => {
      expect(await store.vehicles.count()).toBe(7);
      expect(await store.vehicles.count({ fleet_group: "Vans", depot: "North" })).toBe(2);
      expect(await store.vehicles.count({ depot: "South" })).toBe(0);
      expect(await labels({ fleet_group: "Vans" })).toEqual(["Van 2", "Van 10"]);
    });

    test.each([
      ["VAN 10", ["Van 10"]],
      ["10 vAn", ["Van 10"]],
      ["arger", ["Ärger"]],
      ["ÄRG", ["Ärger"]],
      ["strasse", ["Straße 5"]],
      ["STRAßE", ["Straße 5"]],
      ["σίσυφος", ["ΣΊΣΥΦΟΣ"]],
      ["σισυφοσ", ["ΣΊΣΥΦΟΣ"]],
      ["%", []],
      ["_", []],
      ["an 1", ["Van 10"]],
      ["van nowhere", []],
    ])("search %j finds %j", async (search, expected) => {
      expect(await labels({ search })).toEqual(expected);
    });

    test("search for nothing finds all", async () => {
      expect(await labels({ search: "  " })).toHaveLength(7);
    });

    test("search for any text at all gives an answer", async () => {
      for (const search of [...HARD_TEXTS, "x".repeat(5000), "a b c d e f g h i j k l", "\0", "\ud83d"])
        expect(Array.isArray(await labels({ search }))).toBe(true);
    });
  });

  test("search looks into group, depot, notes and remarks, as they read now", async () => {
    const store = await database.newStore();
    const entry = { ...CAN, note: "Added at the Müller garage" };
    const truck = await store.vehicles.create(TRUCK, {
      charge_log: [entry],
      notes: [{ body: "Hose rubs on bracket" }],
    });
    await store.vehicles.create(VAN);
    const found = async (search: string) => (await store.vehicles.list({ search })).items.map(({ label }) => label);
    const everywhere = ["box", "north", "bracket", "muller", "truck muller BRACKET"];
    for (const search of everywhere) expect(await found(search)).toEqual(["Truck 7"]);

    const [note] = await store.notes.list(truck.id);
    await store.notes.correct(note!.id, 1, { body: "Hose was moved" });
    expect(await found("bracket")).toEqual([]);
    expect(await found("moved")).toEqual(["Truck 7"]);
    const [line] = await store.chargeLog.list(truck.id);
    await store.chargeLog.remove(line!.id, 1);
    expect(await found("muller")).toEqual([]);
  });
});
