import type {
  AssumptionsInput,
  Cooling,
  Finding,
  LogEntry,
  PlanInput,
  PricesInput,
  RefrigerantId,
} from "../../../src/core/question/contract.ts";
import type { Readings } from "../../../src/core/readings/contract.ts";

/** A vehicle as the pages show it. */
export interface ShownVehicle {
  id: string;
  label: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  system_volume_ml: number | null;
  electric_compressor: boolean;
  climate: string | null;
  monthly_mean_c: number[] | null;
  fleet_group: string | null;
  depot: string | null;
  plan: PlanInput;
  prices: PricesInput;
  assumptions: AssumptionsInput;
  example: boolean;
  archived_at: string | null;
  version: number;
}

/** What a line of a ledger says beside its content. */
export interface LineHead {
  id: string;
  version: number;
  change: "added" | "corrected" | "removed" | "restored";
  recorded_at: string;
}

/** What was seen and done at a visit, with what the model does not ask for. */
export interface Deed extends LogEntry {
  dye: "added" | null;
  cooling_after: Cooling | null;
  cans_opened: number | null;
  /** In the workspace's currency. */
  deposit: number | null;
  deposit_return_by: string | null;
}

export type EntryLine = LineHead & Deed & { note: string | null };
export type FindingLine = LineHead & Finding & { note: string | null };
export type ReadingsLine = LineHead &
  Omit<Readings, "refrigerant" | "nameplate_g" | "system_volume_ml"> & {
    date: string;
    ambient_c: number;
    note: string | null;
  };
export type NoteLine = LineHead & { body: string };

/** The four ledgers of a vehicle, as their addresses name them. */
export const LEDGERS = ["log", "findings", "readings", "notes"] as const;
export type LedgerName = (typeof LEDGERS)[number];

/** Something of a vehicle at its address. */
export function vehiclePath(vehicle_id: string, ...parts: string[]): string {
  return ["/vehicles", vehicle_id, ...parts].join("/");
}
