import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readingBounds } from "../../data/readings-table.ts";
import { ADDED_BY, COOLING, FINISHES, LOCATION_IDS, TESTS } from "../../src/core/question/contract.ts";
import { type ChargeLine, DYE, MAX_NOTE_CHARS, MAX_REMARK_CHARS } from "../../src/core/question/record.ts";
import {
  CLUTCH,
  COMPRESSOR,
  CONDENSER,
  FAN,
  METERING,
  MORE_AIR,
  SIGHT_GLASS,
} from "../../src/core/readings/contract.ts";
import { Conflict, ConstraintFailed } from "../../src/store/errors.ts";
import type { Sql } from "../../src/store/sql.ts";
import { engines, newStore } from "./engines.ts";
import { CAN, DYE_CLEAN, HARD_TEXTS, READ_LOW, VAN } from "./samples.ts";

describe.each(engines)("ledgers on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  /** A van with one entry in its log. */
  async function vanWithEntry() {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const [line] = await store.chargeLog.list(van.id);
    return { store, van, line: line! };
  }

  describe("add", () => {
    test("keeps what was said, and null for the rest", async () => {
      const store = await newStore(sql);
      const van = await store.vehicles.create(VAN);
      const line = await store.chargeLog.add(van.id, CAN);
      expect(line).toEqual({
        id: line.id,
        version: 1,
        change: "added",
        vehicle_id: van.id,
        number: 1,
        date: "2026-04-20",
        cooling: "weak",
        recovered_g: null,
        added_g: 340,
        added_by: "cans",
        finish: null,
        repair: null,
        dye: null,
        cooling_after: null,
        cans_opened: null,
        deposit: null,
        deposit_return_by: null,
        note: null,
        recorded_at: expect.stringMatching(/^2026-05-01T12:00:\d\d\.000Z$/),
        recorded_by: "tester",
      });
      expect(await store.chargeLog.list(van.id)).toEqual([line]);
    });

    test("the same submit arriving twice is stored once, and both get the same line", async () => {
      const { store, van } = await vanWithEntry();
      const [first, second] = await Promise.all([
        store.chargeLog.add(van.id, { ...CAN, added_g: 200 }, "key"),
        store.chargeLog.add(van.id, { ...CAN, added_g: 200 }, "key"),
      ]);
      expect(second).toEqual(first);
      expect(await store.chargeLog.list(van.id)).toHaveLength(2);
    });

    test("a submit that comes back with other content is told what was stored, and stores nothing", async () => {
      const { store, van } = await vanWithEntry();
      const first = await store.chargeLog.add(van.id, { ...CAN, added_g: 200 }, "key");
      const again = store.chargeLog.add(van.id, { ...CAN, added_g: 250 }, "key");
      await expect(again).rejects.toMatchObject({ code: "changed", current: first });
      expect(await store.chargeLog.list(van.id)).toHaveLength(2);
    });

    test("the same content under another key is another entry", async () => {
      const { store, van } = await vanWithEntry();
      await store.chargeLog.add(van.id, CAN, "one");
      await store.chargeLog.add(van.id, CAN, "two");
      expect(await store.chargeLog.list(van.id)).toHaveLength(3);
    });
  });

  describe("list", () => {
    test("is by date, entries of one date in the order in which they were added", async () => {
      const store = await newStore(sql);
      const van = await store.vehicles.create(VAN);
      const days = ["2026-03-02", "2026-03-01", "2026-03-02", "2025-12-31", "2026-03-01"];
      for (const [i, date] of days.entries()) await store.chargeLog.add(van.id, { date, added_g: i });
      const listed = (await store.chargeLog.list(van.id)).map(({ date, added_g }) => [date, added_g]);
      expect(listed).toEqual([
        ["2025-12-31", 3],
        ["2026-03-01", 1],
        ["2026-03-01", 4],
        ["2026-03-02", 0],
        ["2026-03-02", 2],
      ]);
    });

    test("a correction keeps the place of its entry among those of the date", async () => {
      const store = await newStore(sql);
      const van = await store.vehicles.create(VAN, { charge_log: [CAN, { ...CAN, added_g: 100 }] });
      const [first, second] = await store.chargeLog.list(van.id);
      await store.chargeLog.correct(first!.id, 1, { ...CAN, added_g: 300 });
      expect((await store.chargeLog.list(van.id)).map(({ id }) => id)).toEqual([first!.id, second!.id]);
    });
  });

  describe("correct", () => {
    test("holds from now on, and the old line can still be seen", async () => {
      const { store, van, line } = await vanWithEntry();
      const corrected = await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300, note: "scale said so" });
      expect(corrected).toEqual({
        ...line,
        version: 2,
        change: "corrected",
        added_g: 300,
        note: "scale said so",
        recorded_at: corrected.recorded_at,
      });
      expect(await store.chargeLog.list(van.id)).toEqual([corrected]);
      expect(await store.chargeLog.versions(line.id)).toEqual([line, corrected]);
      expect((await store.chargeLog.history(van.id)).items).toEqual([corrected, line]);
    });

    test("of two tabs, the second is told what the first wrote, and stores nothing", async () => {
      const { store, van, line } = await vanWithEntry();
      const attempts = await Promise.allSettled(
        [310, 320].map((added_g) => store.chargeLog.correct(line.id, 1, { ...CAN, added_g })),
      );
      const [won] = attempts.filter((attempt) => attempt.status === "fulfilled");
      const [lost] = attempts.filter((attempt) => attempt.status === "rejected");
      expect(lost!.reason).toBeInstanceOf(Conflict);
      expect(lost!.reason).toMatchObject({ code: "changed", current: won!.value });
      expect(await store.chargeLog.list(van.id)).toEqual([won!.value]);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(2);
    });

    test("a double click stores one correction, and both get it", async () => {
      const { store, line } = await vanWithEntry();
      const twice = [1, 2].map(() => store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 }, "key"));
      const [first, second] = await Promise.all(twice);
      expect(second).toEqual(first);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(2);
    });

    test("a version that does not exist yet is a conflict too", async () => {
      const { store, line } = await vanWithEntry();
      await expect(store.chargeLog.correct(line.id, 2, CAN)).rejects.toMatchObject({ code: "changed", current: line });
    });

    test("saying the same again writes no line", async () => {
      const { store, line } = await vanWithEntry();
      expect(await store.chargeLog.correct(line.id, 1, CAN)).toEqual(line);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(1);
    });

    test("saying the same about an old version is a conflict", async () => {
      const { store, line } = await vanWithEntry();
      const corrected = await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 });
      await expect(store.chargeLog.correct(line.id, 1, CAN)).rejects.toMatchObject({ current: corrected });
    });
  });

  describe("remove and undo", () => {
    test("remove takes the entry out of the list and keeps what it said", async () => {
      const { store, van, line } = await vanWithEntry();
      const removed = await store.chargeLog.remove(line.id, 1);
      expect(removed).toMatchObject({ version: 2, change: "removed", added_g: 340 });
      expect(await store.chargeLog.list(van.id)).toEqual([]);
      expect(await store.chargeLog.get(line.id)).toEqual(removed);
    });

    test("each undo leads one step back, and its own undo forth again", async () => {
      const { store, van, line } = await vanWithEntry();
      const grams = async () => (await store.chargeLog.list(van.id)).map(({ added_g }) => added_g);
      await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 });
      await store.chargeLog.remove(line.id, 2);
      expect(await grams()).toEqual([]);
      expect(await store.chargeLog.undo(line.id, 3)).toMatchObject({ version: 4, change: "restored", added_g: 300 });
      expect(await grams()).toEqual([300]);
      expect(await store.chargeLog.undo(line.id, 4)).toMatchObject({ version: 5, change: "removed" });
      expect(await grams()).toEqual([]);
    });

    test("undo of a correction restores what was there before", async () => {
      const { store, line } = await vanWithEntry();
      await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 });
      expect(await store.chargeLog.undo(line.id, 2)).toMatchObject({ change: "restored", added_g: 340 });
    });

    test("undo of an addition is a removal", async () => {
      const { store, van, line } = await vanWithEntry();
      expect(await store.chargeLog.undo(line.id, 1)).toMatchObject({ change: "removed" });
      expect(await store.chargeLog.list(van.id)).toEqual([]);
    });

    test("a removed entry cannot be corrected, nor removed a second time", async () => {
      const { store, line } = await vanWithEntry();
      const removed = await store.chargeLog.remove(line.id, 1);
      await expect(store.chargeLog.correct(line.id, 2, { ...CAN, added_g: 1 })).rejects.toMatchObject({
        current: removed,
      });
      await expect(store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 1 })).rejects.toMatchObject({
        current: removed,
      });
      expect(await store.chargeLog.remove(line.id, 2)).toEqual(removed);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(2);
    });

    test("a line that is there cannot be changed or deleted by any statement", async () => {
      const { store, van, line } = await vanWithEntry();
      const read = await store.readings.add(van.id, READ_LOW);
      for (const [text, id] of [
        ["UPDATE charge_log SET added_g = 1 WHERE id = ?", line.id],
        ["DELETE FROM charge_log WHERE id = ?", line.id],
        ["UPDATE readings SET low_kpa = 1 WHERE id = ?", read.id],
        ["DELETE FROM readings WHERE id = ?", read.id],
      ] as const)
        await expect(sql.all(text, [id])).rejects.toThrow(ConstraintFailed);
    });
  });

  test("history comes page by page, each line once, newest first", async () => {
    const { store, van, line } = await vanWithEntry();
    for (let version = 1; version < 10; version += 1)
      await store.chargeLog.correct(line.id, version, { ...CAN, added_g: version });
    const lines: ChargeLine[] = [];
    let after: string | null = null;
    do {
      const page = await store.chargeLog.history(van.id, { limit: 4, after });
      lines.push(...page.items);
      after = page.next;
    } while (after !== null);
    expect(lines.map(({ version }) => version)).toEqual([10, 9, 8, 7, 6, 5, 4, 3, 2, 1]);
  });

  test.each(["", "7", "[1,2,3]", '["a","b"]', "nonsense"])("a page after %j cannot be asked for", async (after) => {
    const { store, van } = await vanWithEntry();
    await expect(store.chargeLog.history(van.id, { after })).rejects.toMatchObject({ code: "invalid" });
  });

  test("every word of the contract fits into the tables", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const { date } = CAN;
    const entries = [
      ...COOLING.map((cooling) => ({ date, cooling })),
      ...ADDED_BY.map((added_by) => ({ date, added_by })),
      ...FINISHES.map((finish) => ({ date, finish })),
      ...LOCATION_IDS.map((repair) => ({ date, repair })),
      ...DYE.map((dye) => ({ date, dye })),
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
    const store = await newStore(sql);
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
    const store = await newStore(sql);
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
    const { store, van } = await vanWithEntry();
    await expect(store.chargeLog.add(van.id, entry)).rejects.toThrow();
    expect(await store.chargeLog.list(van.id)).toHaveLength(1);
  });

  test("a leak anywhere is no finding", async () => {
    const { store, van } = await vanWithEntry();
    await expect(store.findings.add(van.id, { ...DYE_CLEAN, result: "leak" })).rejects.toThrow(ConstraintFailed);
  });

  test.each(HARD_TEXTS)("a note keeps %j as it is", async (body) => {
    const { store, van } = await vanWithEntry();
    await store.notes.add(van.id, { body });
    expect(await store.notes.list(van.id)).toMatchObject([{ body }]);
  });

  test("a note may have as many characters as it says, counted as people count them, and no more", async () => {
    const { store, van } = await vanWithEntry();
    const body = "🔧".repeat(MAX_NOTE_CHARS);
    await store.notes.add(van.id, { body });
    expect(await store.notes.list(van.id)).toMatchObject([{ body }]);
    await expect(store.notes.add(van.id, { body: `${body}x` })).rejects.toThrow(ConstraintFailed);
  });

  test("half a character and NUL, which the engines would keep differently, do not get in", async () => {
    const { store, van } = await vanWithEntry();
    await store.notes.add(van.id, { body: "a\0b\ud83dc" });
    expect(await store.notes.list(van.id)).toMatchObject([{ body: "ab\ufffdc" }]);
  });
});
