import { describe, expect, test } from "vitest";
import { SUMMED } from "../../../src/core/fleet/row.ts";
import { MODEL_IN_PLACE } from "../../../src/web/edge/model.ts";
import { freshFrom, reckonSlice } from "../../../src/web/fleet/reckoning.ts";
import { engines } from "../engines.ts";
import { AS_OF, FleetDatabase, reckoned } from "./fleet-database.ts";

describe.each(engines)("the fleet on $name", ({ start }) => {
  const database = new FleetDatabase(start);

  test("is listed by any column, filtered, searched and paged, with totals of all pages", async () => {
    const store = await database.newFleet();
    await store.vehicles.create({
      ...(await store.vehicles.list()).items[0]!,
      label: "Not reckoned",
      fleet_group: null,
    });
    await reckoned(store);
    await store.vehicles.create({
      ...(await store.vehicles.list()).items[0]!,
      label: "Only just here",
      fleet_group: null,
    });
    const { list, totals } = { list: store.fleet.list.bind(store.fleet), totals: store.fleet.totals.bind(store.fleet) };

    const all = await list({ per_page: 100 });
    expect(all).toHaveLength(26);
    const dearest = await list({ sort: "cost_as_is", descending: true, per_page: 100 });
    expect(dearest.at(-1)).toMatchObject({ label: "Only just here", reckoned: null });
    const costs = dearest.flatMap(({ reckoned }) => (reckoned === null ? [] : [reckoned.cost_as_is]));
    expect(costs).toEqual(costs.toSorted((a, b) => b - a));
    expect(await list({ page: 2, per_page: 20 })).toEqual(all.slice(20));

    const buses = await list({ fleet_group: "Shuttle buses" });
    expect(buses.map(({ label }) => label)).toEqual([
      "Shuttle buses 0001",
      "Shuttle buses 0002",
      "Shuttle buses 0003",
      "Shuttle buses 0004",
    ]);
    expect((await list({ search: "BUSES 0003" })).map(({ label }) => label)).toEqual(["Shuttle buses 0003"]);
    const verdict = all.find(({ reckoned }) => reckoned !== null)!.reckoned!.verdict!;
    expect((await list({ verdict, per_page: 100 })).every(({ reckoned }) => reckoned!.verdict === verdict)).toBe(true);

    const sum = await totals({ fleet_group: "Shuttle buses" });
    expect(sum).toMatchObject({ vehicles: 4, reckoned: 4 });
    expect(sum.cost_as_is).toBeCloseTo(
      buses.reduce((total, { reckoned }) => total + reckoned!.cost_as_is, 0),
      6,
    );
    expect(sum.by_verdict.reduce((total, { vehicles }) => total + vehicles, 0)).toBe(4);
    expect(await store.fleet.choices()).toMatchObject({ refrigerants: ["R-1234yf", "R-134a"] });
    expect((await store.fleet.some([buses[2]!.id, "none", buses[0]!.id])).map(({ label }) => label)).toEqual([
      "Shuttle buses 0003",
      "Shuttle buses 0001",
    ]);
  });

  test("leaves out vehicles that were put away", async () => {
    const store = await database.newFleet(6);
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    const [vehicle] = (await store.vehicles.list()).items;
    await store.vehicles.archive(vehicle!.id, 1);
    while (await reckonSlice({ store, model: MODEL_IN_PLACE }, 50));
    expect(await store.fleet.totals()).toMatchObject({ vehicles: 5, reckoned: 5 });
  });

  test("adds up all of it as it adds up its parts, whatever is put away or not reckoned", async () => {
    const store = await database.newFleet();
    await reckoned(store);
    const [gone, usual] = (await store.vehicles.list()).items;
    await store.vehicles.archive(gone!.id, 1);
    await store.vehicles.create({ ...usual!, label: "Only just here" });
    const all = await store.fleet.totals();
    expect(all).toMatchObject({ vehicles: 24, reckoned: 23 });
    const rows = (await store.fleet.list({ per_page: 100 })).flatMap(({ reckoned }) => reckoned ?? []);
    const parts = await Promise.all(["R-134a", "R-1234yf"].map((refrigerant) => store.fleet.totals({ refrigerant })));
    for (const figure of SUMMED) {
      expect(all[figure]).toBeCloseTo(
        rows.reduce((sum, row) => sum + row[figure], 0),
        6,
      );
      expect(all[figure]).toBeCloseTo(parts[0]![figure] + parts[1]![figure], 6);
    }
    for (const { verdict, vehicles } of all.by_verdict) {
      expect(vehicles).toBe(rows.filter((row) => row.verdict === verdict).length);
    }
  });

  test("says what an answer owes to the group, and nothing where there was none", async () => {
    const store = await database.newFleet();
    const [first] = (await store.vehicles.list()).items;
    expect(await store.fleet.groupSays(first!.id)).toBeNull();
    const alone = await store.vehicles.create({ ...first!, label: "Alone", fleet_group: null });
    await reckoned(store);
    const [row] = await store.fleet.some([first!.id]);
    const { answer, own_share } = row!.reckoned!;
    expect(await store.fleet.groupSays(first!.id)).toEqual({
      fleet_group: first!.fleet_group,
      vehicles: 4,
      as_of: AS_OF,
      own_share,
      verdict: answer.verdict,
      low_now: answer.low_now,
      no_entries: answer.no_entries,
    });
    expect(await store.fleet.groupSays(alone.id)).toBeNull();
    expect(await store.fleet.groupSays("nobody")).toBeNull();
  });

  test("remembers which repairs were settled beforehand", async () => {
    const store = await database.newFleet(6);
    const [first, second] = (await store.vehicles.list()).items;
    const never = { repair: "must-not" as const, year: null };
    const not_this_year = { repair: "must-not" as const, year: 2026 };
    await store.fleet.lock(first!.id, { repair: "must", year: null });
    await store.fleet.lock(second!.id, never);
    await store.fleet.lock(first!.id, not_this_year);
    await store.fleet.lock(second!.id, null);
    await store.fleet.lock("nobody", never);
    expect(await store.fleet.locks()).toEqual(new Map([[first!.id, not_this_year]]));
  });

  test("of one workspace is not seen from another", async () => {
    const store = await database.newFleet(6);
    await reckoned(store);
    const other = await database.newStore();
    expect(await other.fleet.list()).toEqual([]);
    expect(await other.reckoning.run()).toBeNull();
    expect(await other.fleet.cohorts()).toEqual([]);
    expect(await other.fleet.auditYears()).toEqual([]);
    expect((await other.fleet.totals()).vehicles).toBe(0);
  });
});
