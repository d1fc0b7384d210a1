import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { fleetAnswer } from "../../src/core/fleet/answer.ts";
import { SUMMED } from "../../src/core/fleet/row.ts";
import { questionOf } from "../../src/core/question/question.ts";
import type { ImportedVehicle } from "../../src/store/fleet-import.ts";
import { unfinishedFleets } from "../../src/store/fleet-reckoning.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { settingsOf } from "../../src/store/workspaces.ts";
import { freshFrom, reckonSlice } from "../../src/web/fleet/reckoning.ts";
import { vehicleRequest } from "../../src/web/vehicle-answer.ts";
import { inventedFleet } from "../support/fleet-generator.ts";
import { engines, newStore } from "./engines.ts";

const AS_OF = "2026-05-01";

function imported(vehicles: number): ImportedVehicle[] {
  return inventedFleet({ vehicles, entries: 5, seed: 21, as_of: AS_OF }).map(({ x: _, log, ...vehicle }) => ({
    ...vehicle,
    key: vehicle.label.toLowerCase(),
    id: null,
    electric_compressor: false,
    dye_in_own_oil: null,
    kind: null,
    entries: log,
  }));
}

/** Reckons to the end and gives how many vehicles were left to do at the start of each step. */
async function reckoned(store: WorkspaceStore, as_of = AS_OF): Promise<[logs: number, answers: number]> {
  await store.reckoning.begin(as_of, freshFrom(as_of));
  while (await reckonSlice(store, 7));
  const run = await store.reckoning.run();
  expect(run).toMatchObject({ state: "done", logs: { left: 0 }, answers: { left: 0 } });
  return [run!.logs.all, run!.answers.all];
}

describe.each(engines)("the fleet on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => ({ sql, close } = await start()));
  afterAll(() => close());

  async function newFleet(vehicles = 24): Promise<WorkspaceStore> {
    const store = await newStore(sql);
    await store.fleetImport.add(imported(vehicles));
    return store;
  }

  test("is reckoned once, and what has not changed not again", async () => {
    const store = await newFleet();
    expect(await store.reckoning.due(freshFrom(AS_OF))).toBe(24);
    expect(await reckoned(store)).toEqual([24, 24]);
    expect(await store.reckoning.due(freshFrom(AS_OF))).toBe(0);
    expect(await reckoned(store)).toEqual([0, 0]);

    const [vehicle] = (await store.vehicles.list()).items;
    await store.vehicles.update(vehicle!.id, 1, { ...vehicle!, depot: "Elsewhere" });
    expect(await store.reckoning.due(freshFrom(AS_OF))).toBe(1);
    const [logs, answers] = await reckoned(store);
    expect(logs).toBe(1);
    // The group hardly moves, so its other vehicles keep their answers.
    expect(answers).toBe(1);

    await store.readings.add(vehicle!.id, { date: AS_OF, ambient_c: 30, low_kpa: 400, high_kpa: 2900 });
    expect(await store.reckoning.due(freshFrom(AS_OF))).toBe(1);
    expect(await reckoned(store)).toEqual([1, 1]);
  });

  test("has the answers of the model under each group's prior", async () => {
    const store = await newFleet();
    await reckoned(store);
    const cohorts = new Map((await store.fleet.cohorts()).map((cohort) => [cohort.fleet_group, cohort]));
    expect(cohorts.size).toBe(6);
    for (const row of (await store.fleet.list({ per_page: 6 })).slice(0, 6)) {
      const [record] = await store.records([row.id]);
      const { audit, ...answer } = fleetAnswer(
        questionOf(vehicleRequest(record!, AS_OF)),
        cohorts.get(row.fleet_group!)!.used,
      );
      // JSON has no minus zero.
      expect(row.reckoned!.answer).toEqual(JSON.parse(JSON.stringify(answer)));
      const years = (await Promise.all(audit.map(({ year }) => store.fleet.audit(year)))).flat();
      expect(years.filter(({ id }) => id === row.id)).toMatchObject(
        audit.map(({ year, lost_g }) => ({ year, lost_g })),
      );
    }
  });

  test("keeps answers when something changed that the model is not asked about", async () => {
    const store = await newFleet(6);
    await reckoned(store);
    const workspace = await store.settings.get();
    await store.settings.update({ ...settingsOf(workspace), name: "Another name" }, workspace.version);
    const before = await store.fleet.list();
    expect(await reckoned(store, "2026-05-03")).toEqual([6, 6]);
    // Still those of the first day: nothing was computed anew.
    expect((await store.fleet.list()).map(({ reckoned }) => reckoned!.as_of)).toEqual(before.map(() => AS_OF));
    expect(await store.reckoning.due(freshFrom("2026-05-03"))).toBe(0);
  });

  test("is reckoned anew after a week", async () => {
    const store = await newFleet(6);
    await reckoned(store);
    expect(await store.reckoning.due(freshFrom("2026-05-08"))).toBe(0);
    expect(await reckoned(store, "2026-05-09")).toEqual([6, 6]);
    expect((await store.fleet.list()).every(({ reckoned }) => reckoned!.as_of === "2026-05-09")).toBe(true);
  });

  test("goes on where it stopped, and stops when it is told to", async () => {
    const store = await newFleet();
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    for (let slice = 0; slice < 2; slice++) await reckonSlice(store, 5);
    expect(await store.reckoning.run()).toMatchObject({ state: "logs", logs: { all: 24, left: 14 } });
    expect(await unfinishedFleets(sql)).toContain(store.workspaceId);
    while ((await store.reckoning.run())!.state !== "answers") await reckonSlice(store, 10);
    await reckonSlice(store, 10);
    expect(await store.reckoning.run()).toMatchObject({ state: "answers", answers: { all: 24, left: 14 } });

    await store.reckoning.cancel();
    expect(await reckonSlice(store, 10)).toBe(false);
    expect((await store.fleet.totals()).reckoned).toBe(10);
    expect(await unfinishedFleets(sql)).not.toContain(store.workspaceId);
    // What was done is kept.
    expect(await reckoned(store)).toEqual([0, 14]);
  });

  test("a slice done twice at the same time does no harm", async () => {
    const store = await newFleet(12);
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    while ((await Promise.all([reckonSlice(store, 5), reckonSlice(store, 5)])).some(Boolean));
    expect(await store.reckoning.run()).toMatchObject({ state: "done" });
    expect((await store.fleet.totals()).reckoned).toBe(12);
  });

  test("is listed by any column, filtered, searched and paged, with totals of all pages", async () => {
    const store = await newFleet();
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
    const store = await newFleet(6);
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    const [vehicle] = (await store.vehicles.list()).items;
    await store.vehicles.archive(vehicle!.id, 1);
    while (await reckonSlice(store, 50));
    expect(await store.fleet.totals()).toMatchObject({ vehicles: 5, reckoned: 5 });
  });

  test("adds up all of it as it adds up its parts, whatever is put away or not reckoned", async () => {
    const store = await newFleet();
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
    const store = await newFleet();
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
    const store = await newFleet(6);
    const [first, second] = (await store.vehicles.list()).items;
    await store.fleet.lock(first!.id, "must");
    await store.fleet.lock(second!.id, "must-not");
    await store.fleet.lock(first!.id, "must-not");
    await store.fleet.lock(second!.id, null);
    await store.fleet.lock("nobody", "must");
    expect(await store.fleet.locks()).toEqual(new Map([[first!.id, "must-not"]]));
  });

  test("of one workspace is not seen from another", async () => {
    const store = await newFleet(6);
    await reckoned(store);
    const other = await newStore(sql);
    expect(await other.fleet.list()).toEqual([]);
    expect(await other.reckoning.run()).toBeNull();
    expect(await other.fleet.cohorts()).toEqual([]);
    expect(await other.fleet.auditYears()).toEqual([]);
    expect((await other.fleet.totals()).vehicles).toBe(0);
  });
});
