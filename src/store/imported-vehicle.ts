import type { ChargeEntryInput, Vehicle } from "../core/question/record.ts";
import { searchText } from "./text.ts";

/** What a fleet file says of a vehicle, what is known of one here, and what an import counts. */

/** Particulars that change over time. */
export type VehicleChange = Partial<Pick<Vehicle, "fleet_group" | "depot" | "kind" | "model_year" | "odometer">>;

/** An event of a file; the number of its work order finds the entry that a corrected file means. */
export type ImportedEntry = ChargeEntryInput & { order?: string | null };

/** What files and records say about a vehicle itself. */
type Particulars = Pick<
  Vehicle,
  | "refrigerant"
  | "nameplate_g"
  | "fleet_group"
  | "depot"
  | "electric_compressor"
  | "dye_in_own_oil"
  | "kind"
  | "model_year"
  | "odometer"
>;

/** A vehicle of a file, with the events that the file has of it. */
export interface ImportedVehicle extends Particulars {
  key: string;
  /** The existing vehicle that it matches; null: a new one. */
  id: string | null;
  label: string;
  /** Which particulars the file has otherwise than the records; null: none. */
  change?: VehicleChange | null;
  entries: ImportedEntry[];
}

/** New entries of a vehicle that is here. */
export type KnownEntries = Pick<ImportedVehicle, "entries"> & { id: string };

/** A vehicle that is here, by one of the names under which files may speak of it. */
export interface KnownVehicle extends Omit<ImportedVehicle, "id" | "label" | "change" | "entries"> {
  id: string;
  /** The day of its newest entry; null without one. */
  last_date?: string | null;
}

/** An entry that a file corrects: what it says here, and what the file says. */
export interface Correction {
  label: string;
  order: string;
  here: ChargeEntryInput;
  file: ChargeEntryInput;
}

export interface ImportOptions {
  /** The import that what is written belongs to, so that it can be taken back; null for none. */
  import_id?: string | null;
  /** Whether entries are corrected by the number of their order; true unless said. */
  corrections?: boolean;
  /** Whether groups, depots and kinds are changed; true unless said. */
  changes?: boolean;
}

/** A vehicle's name as files are matched by it: case, accents and the number of spaces make no difference. */
export function vehicleKey(label: string): string {
  return searchText(label).replace(/\s+/g, " ").trim();
}
