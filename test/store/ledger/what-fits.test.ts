import { describe, expect, test } from "vitest";
import { requestBounds } from "../../../data/parameters.ts";
import { readingBounds } from "../../../data/readings-table.ts";
import { ADDED_BY, COOLING, FINISHES, LOCATION_IDS, TESTS } from "../../../src/core/question/contract.ts";
import { DYE, MAX_NOTE_CHARS, MAX_REMARK_CHARS } from "../../../src/core/question/record.ts";
import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  METERING,
  MORE_AIR,
  SIGHT_GLASS,
} from "../../../src/core/readings/readings-contract.ts";
import { ConstraintFailed } from "../../../src/store/errors.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { CAN, DYE_CLEAN, HARD_TEXTS, READ_LOW, VAN } from "../samples.ts";

describe.each(engines)("ledgers on $name", ({ start }) => {
  const database = new Database(start);

  test("every word of the contract fits into the tables", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN);
    const { date } = CAN;
    const entries = [
      ...COOLING.map((cooling) => ({ date, cooling })),
      ...ADDED_BY.map((added_by) => ({ date, added_by })),
      ...FINISHES.map((finish) => ({ date, finish })),
      ...LOCATION_IDS.map((repair) => ({ date, repair })),
      ...DYE.map((dye) => ({ date, dye })),
      ...[1, requestBounds.log.most_within_days].map((date_within_days) => ({ date, date_within_days })),
      ...COOLING.map((cooling_after) => ({ date, cooling_after })),
    ];
    for (const entry of entries) expect(await store.chargeLog.add(van.id, entry)).toMatchObject(entry);
    const found = [
      ...TESTS.map((test) => ({ ...DYE_CLEAN, test })),
      ...LOCATION_IDS.map((location) => ({ ...DYE_CLEAN, location, result: "leak" as const })),
    ];
    for (const finding of found) expect(await store.findings.add(van.id, finding)).toMatchObject(finding);
    const seen = [
      ...CLUTCH.map((clutch) => ({ date, ambient_c: 20, clutch })),
      ...FAN.map((fan) => ({ date, ambient_c: 20, fan })),
      ...CONDENSER.map((condenser) => ({ date, ambient_c: 20, condenser })),
      ...MORE_AIR.map((more_air) => ({ date, ambient_c: 20, more_air })),
      ...SIGHT_GLASS.map((sight_glass) => ({ date, ambient_c: 20, sight_glass })),
      ...METERING.map((metering) => ({ date, ambient_c: 20, metering })),
      ...COMPRESSOR.map((compressor) => ({ date, ambient_c: 20, compressor })),
    ];
    for (const readings of seen) expect(await store.readings.add(van.id, readings)).toMatchObject(readings);
  });

  test("every reading and every bound of one fits into the tables, and nothing beyond a bound", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN);
    expect(await store.readings.add(van.id, READ_LOW)).toMatchObject(READ_LOW);
    const { nameplate_g, system_volume_ml, ...bounds } = readingBounds;
    for (const [field, { min, max }] of Object.entries(bounds)) {
      for (const value of [min, max]) {
        const readings = { date: CAN.date, ambient_c: 20, [field]: value };
        expect(await store.readings.add(van.id, readings)).toMatchObject(readings);
      }
      for (const value of [min - 1, max + 1]) {
        const adding = store.readings.add(van.id, { date: CAN.date, ambient_c: 20, [field]: value });
        await expect(adding, `${field} ${value}`).rejects.toThrow(ConstraintFailed);
      }
    }
  });

  test("cans, their deposit and its last day are kept beside an entry", async () => {
    const store = await database.newStore();
    const van = await store.vehicles.create(VAN);
    const bought = { ...CAN, cans_opened: 2, deposit: 20, deposit_return_by: "2026-07-19" };
    expect(await store.chargeLog.add(van.id, bought)).toMatchObject(bought);
    for (const wrong of [{ cans_opened: 1.5 }, { deposit: -1 }, { deposit_return_by: "soon" }])
      await expect(store.chargeLog.add(van.id, { ...CAN, ...wrong })).rejects.toThrow();
  });

  test.each([
    ["a day that does not exist", { ...CAN, date: "2026-02-29" }],
    ["a date in another form", { ...CAN, date: "2026-4-1" }],
    ["an instant for a date", { ...CAN, date: "2026-04-01T00:00:00Z" }],
    ["a negative amount", { ...CAN, added_g: -1 }],
    ["a remark over its limit", { ...CAN, note: "x".repeat(MAX_REMARK_CHARS + 1) }],
  ])("the tables refuse %s", async (_what, entry) => {
    const { store, van } = await database.vanWithEntry();
    await expect(store.chargeLog.add(van.id, entry)).rejects.toThrow();
    expect(await store.chargeLog.list(van.id)).toHaveLength(1);
  });

  test("a leak anywhere is no finding", async () => {
    const { store, van } = await database.vanWithEntry();
    await expect(store.findings.add(van.id, { ...DYE_CLEAN, result: "leak" })).rejects.toThrow(ConstraintFailed);
  });

  test.each(HARD_TEXTS)("a note keeps %j as it is", async (body) => {
    const { store, van } = await database.vanWithEntry();
    await store.notes.add(van.id, { body });
    expect(await store.notes.list(van.id)).toMatchObject([{ body }]);
  });

  test("a note may have as many characters as it says, counted as people count them, and no more", async () => {
    const { store, van } = await database.vanWithEntry();
    const body = "🔧".repeat(MAX_NOTE_CHARS);
    await store.notes.add(van.id, { body });
    expect(await store.notes.list(van.id)).toMatchObject([{ body }]);
    await expect(store.notes.add(van.id, { body: `${body}x` })).rejects.toThrow(ConstraintFailed);
  });

  test("half a character and NUL, which the engines would keep differently, do not get in", async () => {
    const { store, van } = await database.vanWithEntry();
    await store.notes.add(van.id, { body: "a\0b\ud83dc" });
    expect(await store.notes.list(van.id)).toMatchObject([{ body: "ab\ufffdc" }]);
  });
});
