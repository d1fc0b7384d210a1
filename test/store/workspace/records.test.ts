import { describe, expect, test } from "vitest";
import { DEFAULT_SETTINGS } from "../../../src/store/workspaces.ts";
import { engines } from "../engines.ts";
import { CAN, TRUCK, VAN } from "../samples.ts";
import { RecordsDatabase } from "./records-database.ts";

describe.each(engines)("a workspace on $name", ({ start }) => {
  const database = new RecordsDatabase(start);

  describe("records", () => {
    test("are those of record, in the order asked, without what is not there", async () => {
      const { store, ids } = await database.storeWithRecords();
      const { id: truck } = await store.vehicles.create(TRUCK, { charge_log: [CAN, { ...CAN, date: "2020-01-01" }] });
      const expected = await Promise.all(
        [truck, ids.vehicle].map(async (id) => {
          const { notes: _, ...record } = await store.record(id);
          return record;
        }),
      );
      expect(await store.records([truck, "nowhere", ids.vehicle])).toEqual(expected);
      expect(await store.records([])).toEqual([]);
    });
  });

  describe("recordStamp", () => {
    test("is the same until something of the record changes", async () => {
      const { store, ids } = await database.storeWithRecords();
      const { id: other } = await store.vehicles.create(VAN);
      const stamps = new Set([(await store.recordStamp(ids.vehicle)).stamp]);
      await store.chargeLog.add(other, CAN);
      stamps.add((await store.recordStamp(ids.vehicle)).stamp);
      expect(stamps.size).toBe(1);
      const changes = [
        () => store.chargeLog.correct(ids.entry, 1, { ...CAN, added_g: 300 }),
        () => store.chargeLog.undo(ids.entry, 2),
        () => store.findings.remove(ids.finding, 1),
        () => store.readings.remove(ids.readings, 1),
        () => store.notes.add(ids.vehicle, { body: "x" }),
        () => store.vehicles.archive(ids.vehicle, 1),
        () => store.settings.update({ ...DEFAULT_SETTINGS, mass_unit: "g" }, 1),
      ];
      for (const [i, change] of changes.entries()) {
        await change();
        stamps.add((await store.recordStamp(ids.vehicle)).stamp);
        expect(stamps.size, String(change)).toBe(i + 2);
      }
    });
  });
});
