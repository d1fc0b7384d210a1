import { describe, expect, test } from "vitest";
import { MAX_LABEL_CHARS } from "../../../src/core/question/record.ts";
import { Conflict, ConstraintFailed } from "../../../src/store/errors.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { CAN, DYE_CLEAN, TRUCK, VAN } from "../samples.ts";

describe.each(engines)("vehicles on $name", ({ start }) => {
  const database = new Database(start);

  test.each([VAN, TRUCK])("create keeps all of $label", async (input) => {
    const store = await database.newStore();
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
    const store = await database.newStore();
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
    const store = await database.newStore();
    const twice = [1, 2].map(() => store.vehicles.create(VAN, { charge_log: [CAN] }, "key"));
    const [first, second] = await Promise.all(twice);
    expect(second).toEqual(first);
    expect(await store.vehicles.count()).toBe(1);
    expect(await store.chargeLog.list(first!.id)).toHaveLength(1);
  });

  test("update puts all in place of all, and counts the version", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN);
    const updated = await store.vehicles.update(van.id, 1, TRUCK);
    expect(updated).toEqual({ ...van, ...TRUCK, version: 2, updated_at: updated.updated_at });
    expect(updated.updated_at > van.updated_at).toBe(true);
  });

  test("of two tabs, the second is told what the first saved, and saves nothing", async () => {
    const store = await database.newStore();
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
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN);
    const twice = [1, 2].map(() => store.vehicles.update(van.id, 1, TRUCK, "key"));
    const [first, second] = await Promise.all(twice);
    expect(first!.version).toBe(2);
    expect(second).toEqual(first);
  });

  test("archive takes it out of the list and keeps its records; unarchive brings it back", async () => {
    const store = await database.newStore();
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
    const store = await database.newStore();
    const neighbour = await database.newStore();
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
    const store = await database.newStore();
    await expect(store.vehicles.create(input)).rejects.toThrow(ConstraintFailed);
  });
});
