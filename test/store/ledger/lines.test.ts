import { describe, expect, test } from "vitest";
import { Conflict } from "../../../src/store/errors.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { CAN, VAN } from "../samples.ts";

describe.each(engines)("ledgers on $name", ({ start }) => {
  const database = new Database(start);

  describe("add", () => {
    test("keeps what was said, and null for the rest", async () => {
      const store = await database.newStore();
      const van = await store.vehicles.create(VAN);
      const line = await store.chargeLog.add(van.id, CAN);
      expect(line).toEqual({
        id: line.id,
        version: 1,
        change: "added",
        vehicle_id: van.id,
        number: 1,
        date: "2026-04-20",
        date_within_days: null,
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
      const { store, van } = await database.vanWithEntry();
      const [first, second] = await Promise.all([
        store.chargeLog.add(van.id, { ...CAN, added_g: 200 }, "key"),
        store.chargeLog.add(van.id, { ...CAN, added_g: 200 }, "key"),
      ]);
      expect(second).toEqual(first);
      expect(await store.chargeLog.list(van.id)).toHaveLength(2);
    });

    test("a submit that comes back with other content is told what was stored, and stores nothing", async () => {
      const { store, van } = await database.vanWithEntry();
      const first = await store.chargeLog.add(van.id, { ...CAN, added_g: 200 }, "key");
      const again = store.chargeLog.add(van.id, { ...CAN, added_g: 250 }, "key");
      await expect(again).rejects.toMatchObject({ code: "changed", current: first });
      expect(await store.chargeLog.list(van.id)).toHaveLength(2);
    });

    test("the same content under another key is another entry", async () => {
      const { store, van } = await database.vanWithEntry();
      await store.chargeLog.add(van.id, CAN, "one");
      await store.chargeLog.add(van.id, CAN, "two");
      expect(await store.chargeLog.list(van.id)).toHaveLength(3);
    });
  });

  describe("list", () => {
    test("is by date, entries of one date in the order in which they were added", async () => {
      const store = await database.newStore();
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
      const store = await database.newStore();
      const van = await store.vehicles.create(VAN, { charge_log: [CAN, { ...CAN, added_g: 100 }] });
      const [first, second] = await store.chargeLog.list(van.id);
      await store.chargeLog.correct(first!.id, 1, { ...CAN, added_g: 300 });
      expect((await store.chargeLog.list(van.id)).map(({ id }) => id)).toEqual([first!.id, second!.id]);
    });
  });

  describe("correct", () => {
    test("holds from now on, and the old line can still be seen", async () => {
      const { store, van, line } = await database.vanWithEntry();
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
      const { store, van, line } = await database.vanWithEntry();
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
      const { store, line } = await database.vanWithEntry();
      const twice = [1, 2].map(() => store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 }, "key"));
      const [first, second] = await Promise.all(twice);
      expect(second).toEqual(first);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(2);
    });

    test("a version that does not exist yet is a conflict too", async () => {
      const { store, line } = await database.vanWithEntry();
      await expect(store.chargeLog.correct(line.id, 2, CAN)).rejects.toMatchObject({ code: "changed", current: line });
    });

    test("saying the same again writes no line", async () => {
      const { store, line } = await database.vanWithEntry();
      expect(await store.chargeLog.correct(line.id, 1, CAN)).toEqual(line);
      expect(await store.chargeLog.versions(line.id)).toHaveLength(1);
    });

    test("saying the same about an old version is a conflict", async () => {
      const { store, line } = await database.vanWithEntry();
      const corrected = await store.chargeLog.correct(line.id, 1, { ...CAN, added_g: 300 });
      await expect(store.chargeLog.correct(line.id, 1, CAN)).rejects.toMatchObject({ current: corrected });
    });
  });
});
