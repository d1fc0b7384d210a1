import { loggedParameters } from "../../../../data/parameters.ts";
import type { WorkspaceStore } from "../../../store/workspace-store.ts";
import type { FleetReading } from "./reading-shapes.ts";

/** That every charge of the file's vehicles is logged: from the first day in the file until today. */
export async function sayLogged(store: WorkspaceStore, reading: FleetReading, today: string): Promise<void> {
  const keys = new Set(reading.vehicles.map(({ key }) => key));
  const ids = new Set((await store.fleetImport.known()).flatMap(({ key, id }) => (keys.has(key) ? [id] : [])));
  const days = reading.vehicles.flatMap(({ entries }) => entries.map(({ entry }) => entry.date));
  const first = days.toSorted()[0] ?? today;
  const said = { from_date: first, until_date: today, missed: loggedParameters.missed.default };
  await store.fleetTerms.setLogged({ ids: [...ids] }, said);
}
