import { describe, expect, test } from "vitest";
import type { ImportedEntry, ImportedVehicle } from "../../../src/store/imported-vehicle.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { Database } from "../database.ts";
import { engines } from "../engines.ts";
import { VAN } from "../samples.ts";

const WEAK: ImportedEntry = { date: "2026-04-01", cooling: "weak", added_g: 310, order: "WO 2" };
const FILLED: ImportedEntry = { date: "2025-04-01", finish: "weighed" };

function van(number: number, entries: ImportedEntry[], more: Partial<ImportedVehicle> = {}): ImportedVehicle {
  const label = `Van ${number}`;
  return {
    key: label.toLowerCase(),
    id: null,
    label,
    refrigerant: "R-134a",
    nameplate_g: 850,
    fleet_group: "Vans",
    depot: "North",
    electric_compressor: false,
    dye_in_own_oil: null,
    kind: null,
    model_year: null,
    odometer: null,
    entries,
    ...more,
  };
}

/** Takes a file in as the page does; gives the id of the import. */
async function taken(store: WorkspaceStore, vehicles: ImportedVehicle[], name = "fleet.csv"): Promise<string> {
  const text = (async function* () {
    yield "vehicle\n";
  })();
  const id = await store.imports.keep([{ name, text, answers: {} }]);
  const known = new Map((await store.fleetImport.known()).map((one) => [one.key, one.id]));
  const matched = vehicles.map((one) => ({ ...one, id: known.get(one.key) ?? null }));
  const counts = await store.fleetImport.add(matched, { import_id: id });
  await store.imports.finish(id, { counts }, [], [{ headers: "vehicle date", answers: { "f0-date": name } }]);
  return id;
}

async function undone(store: WorkspaceStore, id: string) {
  await store.imports.undo(id);
  return (await store.imports.get(id)).undone;
}

const NONE = {
  entries_removed: 0,
  entries_restored: 0,
  vehicles_removed: 0,
  vehicles_restored: 0,
  entries_kept: 0,
  vehicles_kept: 0,
};

describe.each(engines)("an import that is taken back, on $name", ({ start }) => {
  const database = new Database(start);

  test("leaves nothing, and the same file comes in again", async () => {
    const store = await database.newStore();
    const hers = await store.vehicles.create({ ...VAN, label: "Shuttle" }, { charge_log: [FILLED] });
    const id = await taken(store, [van(1, [FILLED, WEAK]), van(2, [FILLED])]);
    expect(await undone(store, id)).toEqual({ ...NONE, entries_removed: 3, vehicles_removed: 2 });
    expect((await store.vehicles.list()).items.map(({ label }) => label)).toEqual(["Shuttle"]);
    expect(await store.chargeLog.list(hers.id)).toHaveLength(1);
    const [listed] = await store.imports.list();
    expect(listed).toMatchObject({ id, taken_by: "tester", undone_by: "tester" });
    // A second press finds nothing more.
    await store.imports.undo(id);
    await taken(store, [van(1, [FILLED, WEAK])]);
    expect(await store.vehicles.count()).toBe(2);
    // Outside of it no line of a log can be deleted, as ever.
    const gone = database.sql.all("DELETE FROM charge_log WHERE workspace_id = ? RETURNING id", [store.workspaceId]);
    await expect(gone).rejects.toThrow("only an example can be deleted");
  });

  test("gives back model year and odometer as they were", async () => {
    const store = await database.newStore();
    const odometer = { km: 1000, on: "2026-03-01" };
    const hers = await store.vehicles.create({ ...VAN, label: "Van 1", model_year: 2018, odometer });
    const id = await taken(store, [
      van(1, [], { change: { model_year: 2019, odometer: { km: 1200, on: "2026-04-01" } } }),
      van(2, [], { model_year: 2020, odometer }),
    ]);
    const now = (await store.fleetImport.known()).map((one) => [one.model_year, one.odometer]);
    expect(now).toEqual([
      [2019, { km: 1200, on: "2026-04-01" }],
      [2020, odometer],
    ]);
    await undone(store, id);
    expect(await store.vehicles.get(hers.id)).toMatchObject({ model_year: 2018, odometer, version: 3 });
  });

  test("later keeps what something was built on, and says how much", async () => {
    const store = await database.newStore();
    const id = await taken(store, [van(1, [FILLED, WEAK]), van(2, [FILLED]), van(3, [FILLED])]);
    const [one, two] = (await store.vehicles.list()).items;
    const [first] = await store.chargeLog.list(one!.id);
    await store.chargeLog.correct(first!.id, 1, { ...FILLED, note: "seen on the invoice" });
    await store.notes.add(two!.id, { body: "noisy" });
    expect(await undone(store, id)).toEqual({
      ...NONE,
      entries_removed: 3,
      entries_kept: 1,
      vehicles_removed: 1,
      vehicles_kept: 2,
    });
    const left = (await store.vehicles.list()).items;
    expect(left.map(({ label }) => label)).toEqual(["Van 1", "Van 2"]);
    const logs = await Promise.all(left.map((vehicle) => store.chargeLog.list(vehicle.id)));
    expect(logs.map((log) => log.map(({ note }) => note))).toEqual([["seen on the invoice"], []]);
  });

  test("gives back what it corrected by order and changed, unless that was changed since", async () => {
    const store = await database.newStore();
    await taken(store, [van(1, [WEAK]), van(2, [{ ...WEAK, order: "WO 3" }])], "May.csv");
    const corrected = { ...WEAK, order: " wo  2", added_g: 210 };
    const moved = { change: { depot: "South" } };
    const june = [van(1, [corrected], moved), van(2, [{ ...WEAK, order: "WO 3", added_g: 250 }], moved)];
    const id = await taken(store, june, "June.csv");
    const [one, two] = (await store.vehicles.list()).items;
    const amounts = async (vehicle_id: string) =>
      (await store.chargeLog.list(vehicle_id)).map(({ added_g }) => added_g);
    // One entry a vehicle, since the order is the key; the same file again corrects nothing more.
    expect([await amounts(one!.id), await amounts(two!.id), one!.depot]).toEqual([[210], [250], "South"]);
    await taken(store, june, "June again.csv");
    expect((await store.imports.list())[0]!.report).toMatchObject({
      counts: { entries_corrected: 0, entries_known: 2 },
    });

    await store.vehicles.update(two!.id, two!.version, { ...two!, depot: "East" });
    expect(await undone(store, id)).toEqual({ ...NONE, entries_restored: 2, vehicles_restored: 1, vehicles_kept: 1 });
    expect([await amounts(one!.id), await amounts(two!.id)]).toEqual([[310], [310]]);
    expect((await store.vehicles.list()).items.map(({ depot }) => depot)).toEqual(["North", "East"]);
  });

  test("of another program's vehicle keeps it, and how a file was read stays known", async () => {
    const store = await database.newStore();
    const id = await taken(store, [van(1, [FILLED])]);
    const said = { label: "Van 1", refrigerant: "R-134a" as const, nameplate_g: 850 };
    const item = { external_id: "v1", id: null, said };
    await store.fleetUpsert.apply({ source: "workshop", vehicles: [{ item }], events: [] }, () => []);
    expect(await undone(store, id)).toEqual({ ...NONE, entries_removed: 1, vehicles_kept: 1 });
    expect(await store.imports.mapping("vehicle date")).toEqual({ "f0-date": "fleet.csv" });
    expect(await store.imports.mapping("vehicle day")).toBeNull();
  });
});
