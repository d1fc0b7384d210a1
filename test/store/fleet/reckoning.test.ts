import { describe, expect, test } from "vitest";
import { fleetAnswer } from "../../../src/core/fleet/answer.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { unfinishedFleets } from "../../../src/store/fleet-reckoning.ts";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { MODEL_IN_PLACE } from "../../../src/web/edge/model.ts";
import { freshFrom, reckonSlice } from "../../../src/web/fleet/reckoning.ts";
import { vehicleRequest } from "../../../src/web/vehicle-answer.ts";
import { engines } from "../engines.ts";
import { AS_OF, FleetDatabase, reckoned } from "./fleet-database.ts";

describe.each(engines)("the fleet on $name", ({ start }) => {
  const database = new FleetDatabase(start);

  test("is reckoned once, and what has not changed not again", async () => {
    const store = await database.newFleet();
    expect(await store.reckoning.due(freshFrom(AS_OF), AS_OF)).toBe(24);
    expect(await reckoned(store)).toEqual([24, 24]);
    expect(await store.reckoning.due(freshFrom(AS_OF), AS_OF)).toBe(0);
    expect(await reckoned(store)).toEqual([0, 0]);

    const [vehicle] = (await store.vehicles.list()).items;
    await store.vehicles.update(vehicle!.id, 1, { ...vehicle!, depot: "Elsewhere" });
    expect(await store.reckoning.due(freshFrom(AS_OF), AS_OF)).toBe(1);
    const [logs, answers] = await reckoned(store);
    expect(logs).toBe(1);
    // The group hardly moves, so its other vehicles keep their answers.
    expect(answers).toBe(1);

    await store.readings.add(vehicle!.id, { date: AS_OF, ambient_c: 30, low_kpa: 400, high_kpa: 2900 });
    expect(await store.reckoning.due(freshFrom(AS_OF), AS_OF)).toBe(1);
    expect(await reckoned(store)).toEqual([1, 1]);
  });

  test("has the answers of the model under each group's prior", async () => {
    const store = await database.newFleet();
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
    const store = await database.newFleet(6);
    await reckoned(store);
    const workspace = await store.settings.get();
    await store.settings.update({ ...settingsOf(workspace), name: "Another name" }, workspace.version);
    const before = await store.fleet.list();
    expect(await reckoned(store, "2026-05-03")).toEqual([6, 6]);
    // Still those of the first day: nothing was computed anew.
    expect((await store.fleet.list()).map(({ reckoned }) => reckoned!.as_of)).toEqual(before.map(() => AS_OF));
    expect(await store.reckoning.due(freshFrom("2026-05-03"), "2026-05-03")).toBe(0);
  });

  test("is reckoned anew after a week", async () => {
    const store = await database.newFleet(6);
    await reckoned(store);
    expect(await store.reckoning.due(freshFrom("2026-05-08"), "2026-05-08")).toBe(0);
    expect(await reckoned(store, "2026-05-09")).toEqual([6, 6]);
    expect((await store.fleet.list()).every(({ reckoned }) => reckoned!.as_of === "2026-05-09")).toBe(true);
  });

  test("goes on where it stopped, and stops when it is told to", async () => {
    const store = await database.newFleet();
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    for (let slice = 0; slice < 2; slice++) await reckonSlice({ store, model: MODEL_IN_PLACE }, 5);
    expect(await store.reckoning.run()).toMatchObject({ state: "logs", logs: { all: 24, left: 14 } });
    expect(await unfinishedFleets(database.sql)).toContain(store.workspaceId);
    while ((await store.reckoning.run())!.state !== "answers") await reckonSlice({ store, model: MODEL_IN_PLACE }, 10);
    await reckonSlice({ store, model: MODEL_IN_PLACE }, 10);
    expect(await store.reckoning.run()).toMatchObject({ state: "answers", answers: { all: 24, left: 14 } });

    await store.reckoning.cancel();
    expect(await reckonSlice({ store, model: MODEL_IN_PLACE }, 10)).toBe(false);
    expect((await store.fleet.totals()).reckoned).toBe(10);
    expect(await unfinishedFleets(database.sql)).not.toContain(store.workspaceId);
    // What was done is kept.
    expect(await reckoned(store)).toEqual([0, 14]);
  });

  test("a slice done twice at the same time does no harm", async () => {
    const store = await database.newFleet(12);
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    while (
      (
        await Promise.all([
          reckonSlice({ store, model: MODEL_IN_PLACE }, 5),
          reckonSlice({ store, model: MODEL_IN_PLACE }, 5),
        ])
      ).some(Boolean)
    );
    expect(await store.reckoning.run()).toMatchObject({ state: "done" });
    expect((await store.fleet.totals()).reckoned).toBe(12);
  });
});
