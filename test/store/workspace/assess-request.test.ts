import { describe, expect, test } from "vitest";
import { assessRequestOf } from "../../../src/store/vehicle-record.ts";
import { DEFAULT_SETTINGS } from "../../../src/store/workspaces.ts";
import { engines } from "../engines.ts";
import { CAN, DYE_CLEAN, READ_LOW, TRUCK, VAN } from "../samples.ts";
import { RecordsDatabase } from "./records-database.ts";

describe.each(engines)("a workspace on $name", ({ start }) => {
  const database = new RecordsDatabase(start);

  describe("assessRequestOf", () => {
    const noClimate = () => null;

    test("takes the vehicle's own numbers before those of the workspace", async () => {
      const store = await database.newStore();
      await store.settings.update(
        {
          ...DEFAULT_SETTINGS,
          plan: { keep_years: 9, service: "shop" },
          prices: { locate_fee: 50, can_price: 1, locations: { hose: { holds: 0.5, price: 1 }, joint: { price: 2 } } },
          assumptions: { heel: 0.4, discount: 0.01 },
        },
        1,
      );
      const truck = await store.vehicles.create(TRUCK);
      const request = assessRequestOf(await store.record(truck.id), "2026-05-01", noClimate);
      expect(request).toEqual({
        as_of: "2026-05-01",
        vehicle: {
          refrigerant: "R-1234yf",
          nameplate_g: 1234.5,
          kind: "heavy-vehicle",
          monthly_mean_c: TRUCK.monthly_mean_c,
        },
        log: [],
        findings: [],
        plan: { keep_years: 3, service: "shop", tools_owned: true, barred: ["top-off"] },
        prices: {
          locate_fee: 50,
          can_price: 14.5,
          locations: { joint: { price: 2 }, hose: { holds: 0.5, price: 410 } },
        },
        assumptions: { heel: 0.05, discount: 0.01 },
      });
    });

    test("looks for the climate at the vehicle first, then at the workspace", async () => {
      const climateMeans = (climate: string) => Array.from({ length: 12 }, () => climate.length);
      const store = await database.newStore();
      const { id } = await store.vehicles.create(VAN);
      const means = async () =>
        assessRequestOf(await store.record(id), "2026-05-01", climateMeans).vehicle.monthly_mean_c?.[0] ?? null;
      expect(await means()).toBeNull();
      await store.settings.update({ ...DEFAULT_SETTINGS, climate: "abc" }, 1);
      expect(await means()).toBe(3);
      await store.vehicles.update(id, 1, { ...VAN, climate: "abcde" });
      expect(await means()).toBe(5);
    });

    // Low and high side 204.7 and 928.7 kPa absolute, 15 and 120 psi at sea level, on a day of 85 °F: low/low is
    // undercharge (trade training text T-22/8).
    test("readings of the last two weeks say whether it is low, until something is added or they get old", async () => {
      const store = await database.newStore();
      const { id } = await store.vehicles.create({ ...VAN, plan: { readings: "not-low" } });
      const says = async (as_of: string) =>
        assessRequestOf(await store.record(id), as_of, noClimate).plan?.readings ?? null;
      expect(await says("2026-04-28")).toBe("not-low");
      await store.readings.add(id, READ_LOW);
      expect(await says("2026-04-27")).toBe("not-low");
      expect(await says("2026-04-28")).toBe("low");
      expect(await says("2026-05-12")).toBe("low");
      expect(await says("2026-05-13")).toBe("not-low");
      await store.chargeLog.add(id, { date: "2026-04-30", cooling: "weak" });
      expect(await says("2026-05-01")).toBe("low");
      await store.chargeLog.add(id, { date: "2026-05-01", added_g: 300 });
      expect(await says("2026-04-30")).toBe("low");
      expect(await says("2026-05-01")).toBe("not-low");
    });

    test("takes how it cooled when all was done as a look of its own, after the entry", async () => {
      const store = await database.newStore();
      const { id } = await store.vehicles.create(VAN, { charge_log: [{ ...CAN, cooling_after: "ok" }, CAN] });
      const { log } = assessRequestOf(await store.record(id), "2026-05-01", noClimate);
      expect(log!.map(({ cooling, added_g = null }) => [cooling, added_g])).toEqual([
        ["weak", 340],
        ["ok", null],
        ["weak", 340],
      ]);
    });

    test("of the log takes the days up to the question's, and what the model takes at most", async () => {
      const store = await database.newStore();
      const days = Array.from({ length: 205 }, (_, i) => new Date(Date.UTC(2020, 0, 1 + i)).toISOString().slice(0, 10));
      const charge_log = days.map((date) => ({ date, cooling: "ok" as const, note: "seen" }));
      const { id } = await store.vehicles.create(VAN, { charge_log, findings: [DYE_CLEAN] });
      const record = await store.record(id);
      const all = assessRequestOf(record, "2026-05-01", noClimate);
      expect(all.log).toHaveLength(200);
      expect(all.log![0]).toEqual({
        date: days[5],
        date_within_days: null,
        cooling: "ok",
        recovered_g: null,
        added_g: null,
        added_by: null,
        finish: null,
        repair: null,
      });
      expect(all.findings).toEqual([DYE_CLEAN]);
      const early = assessRequestOf(record, "2020-01-03", noClimate);
      expect(early.log!.map(({ date }) => date)).toEqual(["2020-01-01", "2020-01-02", "2020-01-03"]);
      expect(early.findings).toEqual([]);
      expect(assessRequestOf(record, "2060-01-02", noClimate).log).toHaveLength(200);
      expect(assessRequestOf(record, "2060-06-02", noClimate).log![0]!.date).toBe("2020-06-02");
    });
  });
});
