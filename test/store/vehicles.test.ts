import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { MAX_LABEL_CHARS } from "../../src/core/question/record.ts";
import { Conflict, ConstraintFailed } from "../../src/store/errors.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { VehicleQuery } from "../../src/store/vehicles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { engines, newStore } from "./engines.ts";
import { CAN, DYE_CLEAN, HARD_TEXTS, TRUCK, VAN } from "./samples.ts";

describe.each(engines)("vehicles on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  test.each([VAN, TRUCK])("create keeps all of $label", async (input) => {
    const store = await newStore(sql);
    const vehicle = await store.vehicles.create(input);
    expect(vehicle).toEqual({
      ...input,
      id: vehicle.id,
      example: false,
      archived_at: null,
      version: 1,
      created_at: expect.stringMatching(/^2026-05-01T/),
      created_by: "tester",
      updated_at: vehicle.created_at,
      updated_by: "tester",
    });
    expect(await store.vehicles.get(vehicle.id)).toEqual(vehicle);
  });

  test("create stores the vehicle with its first records, or nothing", async () => {
    const store = await newStore(sql);
    const first = {
      charge_log: [CAN, { ...CAN, date: "2025-05-05" }],
      findings: [DYE_CLEAN],
      notes: [{ body: "red" }],
    };
    const van = await store.vehicles.create(VAN, first);
    const record = await store.record(van.id);
    expect(record.charge_log.map(({ date }) => date)).toEqual(["2025-05-05", "2026-04-20"]);
    expect(record.findings).toMatchObject([DYE_CLEAN]);
    expect(record.notes).toMatchObject([{ body: "red" }]);

    const wrong = { ...first, notes: [{ body: "fine" }, { body: "" }] };
    await expect(store.vehicles.create(TRUCK, wrong)).rejects.toThrow(ConstraintFailed);
    expect((await store.vehicles.list()).items).toEqual([van]);
  });

  test("create by a double click makes one vehicle, and both get it", async () => {
    const store = await newStore(sql);
    const twice = [1, 2].map(() => store.vehicles.create(VAN, { charge_log: [CAN] }, "key"));
    const [first, second] = await Promise.all(twice);
    expect(second).toEqual(first);
    expect(await store.vehicles.count()).toBe(1);
    expect(await store.chargeLog.list(first!.id)).toHaveLength(1);
  });

  test("update puts all in place of all, and counts the version", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const updated = await store.vehicles.update(van.id, 1, TRUCK);
    expect(updated).toEqual({ ...van, ...TRUCK, version: 2, updated_at: updated.updated_at });
    expect(updated.updated_at > van.updated_at).toBe(true);
  });

  test("of two tabs, the second is told what the first saved, and saves nothing", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const labels = ["Van A", "Van B"];
    const attempts = await Promise.allSettled(
      labels.map((label) => store.vehicles.update(van.id, 1, { ...VAN, label })),
    );
    const [won] = attempts.filter((attempt) => attempt.status === "fulfilled");
    const [lost] = attempts.filter((attempt) => attempt.status === "rejected");
    expect(lost!.reason).toBeInstanceOf(Conflict);
    expect(lost!.reason).toMatchObject({ code: "changed", current: won!.value });
    expect(await store.vehicles.get(van.id)).toEqual(won!.value);
  });

  test("update by a double click counts once", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const twice = [1, 2].map(() => store.vehicles.update(van.id, 1, TRUCK, "key"));
    const [first, second] = await Promise.all(twice);
    expect(first!.version).toBe(2);
    expect(second).toEqual(first);
  });

  test("archive takes it out of the list and keeps its records; unarchive brings it back", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const archived = await store.vehicles.archive(van.id, 1);
    expect(archived.archived_at).toMatch(/^2026-05-01T/);
    expect((await store.vehicles.list()).items).toEqual([]);
    expect((await store.vehicles.list({ archived: true })).items).toEqual([archived]);
    expect(await store.chargeLog.list(van.id)).toHaveLength(1);
    await expect(store.vehicles.archive(van.id, 1)).rejects.toMatchObject({ current: archived });
    expect(await store.vehicles.unarchive(van.id, 2)).toMatchObject({ archived_at: null, version: 3 });
  });

  test("deleteExamples takes the invented vehicles with all their lines, and nothing else", async () => {
    const store = await newStore(sql);
    const neighbour = await newStore(sql);
    const theirs = await neighbour.vehicles.create(VAN, { example: true });
    const real = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const records = { charge_log: [CAN, CAN], findings: [DYE_CLEAN], notes: [{ body: "invented" }], example: true };
    const example = await store.vehicles.create(TRUCK, records);
    const [line] = await store.chargeLog.list(example.id);
    await store.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 10 });

    expect(await store.vehicles.deleteExamples()).toBe(1);
    expect((await store.vehicles.list()).items).toEqual([real]);
    expect(await store.chargeLog.list(real.id)).toHaveLength(1);
    expect(await neighbour.vehicles.get(theirs.id)).toEqual(theirs);
    expect(await store.vehicles.deleteExamples()).toBe(0);
  });

  test.each([
    ["a label over its limit", { ...VAN, label: "x".repeat(MAX_LABEL_CHARS + 1) }],
    ["no label", { ...VAN, label: "" }],
    ["eleven months", { ...VAN, monthly_mean_c: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11] }],
    ["a nameplate charge of nothing", { ...VAN, nameplate_g: 0 }],
  ])("the table refuses %s", async (_what, input) => {
    const store = await newStore(sql);
    await expect(store.vehicles.create(input)).rejects.toThrow(ConstraintFailed);
  });

  describe("list", () => {
    let store: WorkspaceStore;
    const labels = async (query: VehicleQuery = {}) =>
      (await store.vehicles.list(query)).items.map(({ label }) => label);
    beforeAll(async () => {
      store = await newStore(sql);
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
    const store = await newStore(sql);
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
