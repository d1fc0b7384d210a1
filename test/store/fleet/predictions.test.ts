import { describe, expect, test } from "vitest";
import { replayed } from "../../../src/core/hindsight/replay.ts";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { MODEL_IN_PLACE } from "../../../src/web/edge/model.ts";
import { unfinishedWork } from "../../../src/web/fleet/background.ts";
import { hindsightFreshFrom } from "../../../src/web/fleet/hindsight.ts";
import { freshFrom, reckonSlice } from "../../../src/web/fleet/reckoning.ts";
import { hashOf, replayRequest } from "../../../src/web/past-predictions.ts";
import { engines } from "../engines.ts";
import { AS_OF, FleetDatabase, reckoned } from "./fleet-database.ts";

describe.each(engines)("past charges on $name", ({ start }) => {
  const database = new FleetDatabase(start);

  test("are predicted again once the fleet has its answers, each from the record as it was", async () => {
    const store = await database.newFleet(9);
    expect(await store.predictions.run()).toBeNull();
    await reckoned(store);
    expect(await store.predictions.run()).toMatchObject({ as_of: AS_OF, all: 9, left: 0, under_way: false });
    expect(await store.predictions.due(hindsightFreshFrom(AS_OF), AS_OF)).toBe(0);

    const all = await store.predictions.all();
    const vehicles = (await store.vehicles.list()).items;
    expect(all.length).toBeGreaterThan(9);
    for (const { id, label, fleet_group } of vehicles.slice(0, 3)) {
      const [record] = await store.records([id]);
      const request = replayRequest(record!, AS_OF);
      const expected = replayed(request);
      expect(await store.predictions.ofVehicle(id, await hashOf(request))).toEqual(expected);
      expect(all.filter(({ vehicle }) => vehicle.id === id)).toEqual(
        expected.map((one) =>
          expect.objectContaining({ ...one, vehicle: expect.objectContaining({ label, fleet_group }) }),
        ),
      );
      expect(await store.predictions.ofVehicle(id, "of another log")).toBeNull();
    }
  });

  test("are predicted by the kind of vehicle, not by a group that was fitted to what came later", async () => {
    const store = await database.newFleet(24);
    await reckoned(store);
    const [{ id } = { id: "" }] = (await store.vehicles.list()).items;
    const [record] = await store.records([id]);
    expect(record!.group_belief).not.toBeNull();
    expect(replayRequest(record!, AS_OF).vehicle.leak_prior ?? null).toBeNull();
  });

  test("are predicted anew only where the log changed, or after a month", async () => {
    const store = await database.newFleet(6);
    await reckoned(store);
    const before = await store.predictions.all();
    const [first, second] = (await store.vehicles.list()).items;
    await store.chargeLog.add(first!.id, { date: "2026-04-30", cooling: "ok" }, "a-look");
    // A depot is no part of what is asked: looked at, and kept.
    await store.vehicles.update(second!.id, 1, { ...second!, depot: "Elsewhere" });
    expect(await store.predictions.due(hindsightFreshFrom(AS_OF), AS_OF)).toBe(2);
    await reckoned(store);
    expect(await store.predictions.run()).toMatchObject({ all: 2, under_way: false });
    const after = await store.predictions.all();
    const without = (rows: typeof after) =>
      rows.filter(({ vehicle }) => vehicle.id !== first!.id).map(({ chance }) => chance);
    expect(without(after)).toEqual(without(before));
    expect(await store.predictions.due(hindsightFreshFrom(AS_OF), AS_OF)).toBe(0);

    const settings = await store.settings.get();
    await store.settings.update({ ...settingsOf(settings), name: "Another name" }, settings.version);
    expect(await store.predictions.due(hindsightFreshFrom("2026-06-15"), "2026-06-15")).toBe(6);
    await reckoned(store, "2026-06-15");
    const open = (await store.predictions.all()).filter(({ ended }) => ended === "open");
    expect(open.length).toBeGreaterThan(0);
    expect(open.every(({ until }) => until === "2026-06-15")).toBe(true);
  });

  test("go on where they stopped, leave out what was put away, and are not seen from another workspace", async () => {
    const store = await database.newFleet(6);
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    while (!(await store.predictions.run())?.under_way) await reckonSlice({ store, model: MODEL_IN_PLACE }, 4);
    await reckonSlice({ store, model: MODEL_IN_PLACE }, 4);
    expect(await store.predictions.run()).toMatchObject({ all: 6, left: 2, under_way: true });
    expect(await unfinishedWork(database.sql)).toContain(store.workspaceId);
    const [gone] = (await store.vehicles.list()).items;
    await store.vehicles.archive(gone!.id, 1);
    while (await reckonSlice({ store, model: MODEL_IN_PLACE }, 4));
    expect(await unfinishedWork(database.sql)).not.toContain(store.workspaceId);
    const all = await store.predictions.all();
    expect(new Set(all.map(({ vehicle }) => vehicle.id))).not.toContain(gone!.id);
    const other = await database.newStore();
    expect(await other.predictions.all()).toEqual([]);
    expect(await other.predictions.run()).toBeNull();
    expect(await other.predictions.ofVehicle(all[0]!.vehicle.id, "1")).toBeNull();
  });
});
