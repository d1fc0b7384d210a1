import { expect } from "vitest";
import type { ImportedVehicle } from "../../../src/store/imported-vehicle.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { MODEL_IN_PLACE } from "../../../src/web/edge/model.ts";
import { freshFrom, reckonSlice } from "../../../src/web/fleet/reckoning.ts";
import { inventedFleet } from "../../support/fleet-generator.ts";
import { Database } from "../database.ts";

export const AS_OF = "2026-05-01";

function imported(vehicles: number): ImportedVehicle[] {
  return inventedFleet({ vehicles, entries: 5, seed: 21, as_of: AS_OF }).map(({ x: _, log, ...vehicle }) => ({
    ...vehicle,
    key: vehicle.label.toLowerCase(),
    id: null,
    electric_compressor: false,
    dye_in_own_oil: null,
    kind: null,
    model_year: null,
    odometer: null,
    entries: log,
  }));
}

/** Reckons to the end and gives how many vehicles were left to do at the start of each step. */
export async function reckoned(store: WorkspaceStore, as_of = AS_OF): Promise<[logs: number, answers: number]> {
  await store.reckoning.begin(as_of, freshFrom(as_of));
  while (await reckonSlice({ store, model: MODEL_IN_PLACE }, 7));
  const run = await store.reckoning.run();
  expect(run).toMatchObject({ state: "done", logs: { left: 0 }, answers: { left: 0 } });
  return [run!.logs.all, run!.answers.all];
}
/** A database with an invented fleet. */
export class FleetDatabase extends Database {
  async newFleet(vehicles = 24): Promise<WorkspaceStore> {
    const store = await this.newStore();
    await store.fleetImport.add(imported(vehicles));
    return store;
  }
}
