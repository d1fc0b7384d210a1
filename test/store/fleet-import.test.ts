import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { FleetImport } from "../../src/store/fleet-import.ts";
import { type ImportedVehicle, vehicleKey } from "../../src/store/imported-vehicle.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { engines, newStore } from "./engines.ts";
import { CAN, VAN } from "./samples.ts";

const bus: ImportedVehicle = {
  key: "bus 1",
  id: null,
  label: "Bus 1",
  refrigerant: "R-134a",
  nameplate_g: 7200,
  fleet_group: "Buses",
  depot: null,
  electric_compressor: false,
  dye_in_own_oil: null,
  kind: null,
  model_year: null,
  odometer: null,
  entries: [
    { date: "2026-04-01", cooling: "weak", added_g: 900, note: "order 7" },
    { date: "2026-04-01", cooling: "weak", added_g: 900, note: "order 7" },
    { date: "2025-04-01", finish: "weighed", note: null },
  ],
};

const UNCHANGED = { entries_corrected: 0, vehicles_changed: 0 };

describe.each(engines)("fleet files on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => ({ sql, close } = await start()));
  afterAll(() => close());

  async function newFleet(): Promise<{ imports: FleetImport; store: WorkspaceStore }> {
    const store = await newStore(sql);
    return { imports: store.fleetImport, store };
  }

  /** What a second reading of the same file would hand over. */
  async function matched(imports: FleetImport, vehicles: ImportedVehicle[]): Promise<ImportedVehicle[]> {
    const known = new Map((await imports.known()).map(({ key, id }) => [key, id]));
    return vehicles.map((vehicle) => ({ ...vehicle, id: known.get(vehicle.key) ?? null }));
  }

  test("are added with all their events, equal ones too", async () => {
    const { imports, store } = await newFleet();
    const counts = { vehicles_added: 1, vehicles_known: 0, entries_added: 3, entries_known: 0 };
    expect(await imports.preview([bus])).toEqual({ counts: { ...counts, ...UNCHANGED }, corrections: [] });
    expect((await store.vehicles.list()).items).toEqual([]);
    await imports.add([bus]);
    const [vehicle] = (await store.vehicles.list()).items;
    expect(vehicle).toMatchObject({ label: "Bus 1", nameplate_g: 7200, fleet_group: "Buses", example: false });
    const lines = await store.chargeLog.list(vehicle!.id);
    expect(lines.map(({ date, number }) => [date, number])).toEqual([
      ["2025-04-01", 3],
      ["2026-04-01", 1],
      ["2026-04-01", 2],
    ]);
  });

  test("twice add nothing, not even after a correction, a removal or another label", async () => {
    const { imports, store } = await newFleet();
    await imports.add([bus]);
    const [vehicle] = (await store.vehicles.list()).items;
    const lines = await store.chargeLog.list(vehicle!.id);
    await store.chargeLog.correct(lines[0]!.id, 1, { date: "2025-04-02", finish: "weighed" });
    await store.chargeLog.remove(lines[1]!.id, 1);
    await store.vehicles.update(vehicle!.id, 1, { ...VAN, label: "Shuttle" });
    const again = await imports.add(await matched(imports, [bus]));
    expect(again).toEqual({ vehicles_added: 0, vehicles_known: 1, entries_added: 0, entries_known: 3, ...UNCHANGED });
    expect(await store.vehicles.count()).toBe(1);
    expect(await store.chargeLog.list(vehicle!.id)).toHaveLength(2);
  });

  test("add what is new to vehicles that are here, after their last entry", async () => {
    const { imports, store } = await newFleet();
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const file = {
      ...bus,
      key: vehicleKey("VAN  2"),
      label: "Van 2",
      entries: [CAN, { date: "2026-04-21", cooling: "ok" as const, note: null }],
    };
    const counts = await imports.add(await matched(imports, [file]));
    expect(counts).toEqual({ vehicles_added: 0, vehicles_known: 1, entries_added: 1, entries_known: 1, ...UNCHANGED });
    expect((await store.chargeLog.list(van.id)).map(({ number }) => number)).toEqual([1, 2]);
    expect((await store.vehicles.get(van.id)).nameplate_g).toBe(VAN.nameplate_g);
  });

  test("go in whole or not at all", async () => {
    const { imports, store } = await newFleet();
    const bad = {
      ...bus,
      key: "bus 2",
      label: "Bus 2",
      entries: [{ date: "2026-04-01", added_g: 99_999, note: null }],
    };
    await expect(imports.add([bus, bad])).rejects.toThrow();
    expect(await store.vehicles.count()).toBe(0);
  });

  test("of one workspace are not seen from another", async () => {
    const { imports } = await newFleet();
    await imports.add([bus]);
    const other = await newFleet();
    expect(await other.imports.known()).toEqual([]);
    expect((await other.imports.add([bus])).vehicles_added).toBe(1);
  });
});
