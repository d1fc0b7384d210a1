import { describe, expect, test } from "vitest";
import { DEFAULT_SETTINGS } from "../../../src/store/workspaces.ts";
import { engines } from "../engines.ts";
import { CAN, TRUCK, VAN } from "../samples.ts";

import { NOTHING, sent, TransferDatabase } from "./transfer-database.ts";

describe.each(engines)("an import into records that have gone on on $name", ({ start }) => {
  const database = new TransferDatabase(start);

  test("what was added since on either side comes together", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await database.newStore();
    await copy.transfer.import(sent(await store.transfer.export()));
    await copy.chargeLog.add(van.id, { ...CAN, added_g: 50 });
    await store.chargeLog.add(van.id, { ...CAN, added_g: 60 });
    const report = await store.transfer.import(sent(await copy.transfer.export()));
    expect(report.charge_log).toEqual({ added: 1, same: 1, differing: 0 });
    const grams = (await store.chargeLog.list(van.id)).map(({ added_g }) => added_g);
    expect(new Set(grams)).toEqual(new Set([340, 50, 60]));
  });

  test("a correction made elsewhere arrives as the newer line", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await database.newStore();
    await copy.transfer.import(sent(await store.transfer.export()));
    const [line] = await copy.chargeLog.list(van.id);
    const corrected = await copy.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 300 });
    await store.transfer.import(sent(await copy.transfer.export()));
    expect(await store.chargeLog.list(van.id)).toEqual([corrected]);
  });

  test("where two copies corrected one entry, ours stays, theirs is reported, and nothing is built on top", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await database.newStore();
    await copy.transfer.import(sent(await store.transfer.export()));
    const [line] = await copy.chargeLog.list(van.id);
    await copy.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 10 });
    await copy.chargeLog.correct(line!.id, 2, { ...CAN, added_g: 11 });
    const ours = await store.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 20 });
    const report = await store.transfer.import(sent(await copy.transfer.export()));
    expect(report.charge_log).toEqual({ added: 0, same: 1, differing: 2 });
    expect(report.differing_vehicles).toEqual([{ id: van.id, label: VAN.label }]);
    expect(await store.chargeLog.list(van.id)).toEqual([ours]);
  });

  test("a vehicle that differs stays ours, or becomes theirs when the person says so", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN);
    const copy = await database.newStore();
    await copy.transfer.import(sent(await store.transfer.export()));
    await copy.vehicles.update(van.id, 1, TRUCK);
    const document = sent(await copy.transfer.export());
    const report = await store.transfer.import(document);
    expect(report).toMatchObject({
      vehicles: { differing: 1 },
      differing_vehicles: [{ id: van.id, label: VAN.label }],
    });
    expect(await store.vehicles.get(van.id)).toEqual(van);
    await store.transfer.import(document, { take_vehicles: true });
    expect(await store.vehicles.get(van.id)).toMatchObject({ ...TRUCK, version: 2 });
    expect((await store.transfer.import(document)).vehicles).toEqual({ added: 0, same: 1, differing: 0 });
    expect(await store.vehicles.count({ search: "truck" })).toBe(1);
  });

  test("settings that someone has set are kept", async () => {
    const store = await database.filled();
    const other = await database.newStore();
    const set = await other.settings.update({ ...DEFAULT_SETTINGS, name: "Mine" }, 1);
    expect(await other.transfer.import(sent(await store.transfer.export()))).toMatchObject({ settings: "kept" });
    expect(await other.settings.get()).toEqual(set);
  });

  test("an import that meets another writer adds nothing and can be repeated", async () => {
    const document = sent(await (await database.filled()).transfer.export());
    const empty = await database.newStore();
    const both = await Promise.allSettled([empty.transfer.import(document), empty.transfer.import(document)]);
    expect(both.filter(({ status }) => status === "fulfilled").length).toBeGreaterThanOrEqual(1);
    for (const attempt of both)
      if (attempt.status === "rejected") expect(attempt.reason).toMatchObject({ code: "changed" });
    expect((await empty.transfer.import(document)).charge_log).toEqual({ ...NOTHING, same: 6 });
  });

  test("a document whose lines hang in the air is refused whole by the tables too", async () => {
    const document = await (await database.filled()).transfer.export();
    const empty = await database.newStore();
    const lines = document.charge_log.filter(({ version }) => version !== 1);
    await expect(empty.transfer.import({ ...document, charge_log: lines })).rejects.toThrow();
    expect(await empty.vehicles.count()).toBe(0);
  });
});
