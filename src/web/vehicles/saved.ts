import { LEDGERS, type LedgerName, vehiclePath } from "../../../views/vehicles/record/record.ts";
import type { Saved } from "../../../views/vehicles/saved.tsx";
import { Problem } from "../../core/problem.ts";
import type { LineHead } from "../../core/question/record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { oneOf } from "../forms/typed-values.ts";

const VEHICLE_CHANGES = ["kept", "details", "archived", "unarchived", "same"] as const;

/**
 * The page of a vehicle, told what has just been done to it: the address says it, so that nothing needs to be
 * remembered.
 */
export function savedVehicle(vehicle_id: string, change: (typeof VEHICLE_CHANGES)[number]): string {
  return `${vehiclePath(vehicle_id)}?saved=${change}`;
}

/** Address of the vehicle's page that says that this line was saved. */
export function savedLine(ledger: LedgerName, { id, vehicle_id, version }: LineHead): string {
  return `${vehiclePath(vehicle_id)}?saved=${ledger}.${id}.${version}`;
}

/** What an address says was saved; null when that is not what holds now. */
export async function savedOf(store: WorkspaceStore, vehicle_id: string, said: string): Promise<Saved | null> {
  const what = oneOf(VEHICLE_CHANGES, said);
  if (what !== undefined) return { what };
  const [name = "", line_id = "", version] = said.split(".");
  const ledger = oneOf(LEDGERS, name);
  if (ledger === undefined) return null;
  const line = await lineOf(store, ledger, line_id);
  if (line === null || line.vehicle_id !== vehicle_id || String(line.version) !== version) return null;
  return { what: ledger, line_id, version: line.version, change: line.change };
}

async function lineOf(store: WorkspaceStore, ledger: LedgerName, line_id: string): Promise<LineHead | null> {
  const { chargeLog, findings, readings, notes } = store;
  try {
    return await { log: chargeLog, findings, readings, notes }[ledger].get(line_id);
  } catch (error) {
    if (error instanceof Problem && error.code === "not-found") return null;
    throw error;
  }
}
