import type { FleetField } from "../../../../data/fleet-format.ts";
import type { ChargeEntryInput } from "../../../core/question/record.ts";
import type { ImportedVehicle } from "../../../store/imported-vehicle.ts";
import type { Aside } from "./asides.ts";
import type { CellFault, Mend, ReadRow, VehicleParticulars } from "./rows.ts";
import type { SheetToRead } from "./table-rows.ts";

/** What is read of fleet files: rows, the vehicles that they are about, and what is to be said of each. */

export interface FleetFile extends SheetToRead {
  name: string;
}

export interface RefusedRow {
  /** Which of the files. */
  file: number;
  row: number;
  /** The row as it was. */
  cells: string[];
  faults: CellFault[];
}

/** A row with something to say about its cells. */
export interface MendedRow {
  file: number;
  row: number;
  mends: Mend[];
}

/** What is taken only when the person agrees: what was read out of sentences, and amounts that are hard to believe. */
export const AGREEMENTS = ["text", "doubt"] as const;
export type Agreement = (typeof AGREEMENTS)[number];

/** An event of a file with where it stands and what has to be agreed to for it. */
export interface ReadEntry {
  file: number;
  row: number;
  entry: ChargeEntryInput;
  order: string | null;
  needs: Agreement[];
}

export type ReadVehicle = Omit<ImportedVehicle, "entries"> & { entries: ReadEntry[] };

/** A particular of a vehicle that differs from before. */
export interface ParticularChange {
  label: string;
  field: FleetField;
  from: string;
  to: string;
  /** Whether the vehicle is in the records already; else it changed within the file. */
  here: boolean;
}

export interface AsideRow {
  file: number;
  row: number;
  why: Aside;
  text: string;
}

/** A row as it was read, to be looked over before anything is written. */
export interface SampleRow {
  file: number;
  row: number;
  vehicle: string;
  /** What it says of the vehicle itself. */
  about: string;
  entry: ChargeEntryInput | null;
}

export interface FleetReading {
  /** By file: its header, how many rows it has, and the headers of the columns that nothing was taken from. */
  files: { name: string; header: string[]; rows: number; not_taken: string[] }[];
  /** What can be imported, in file order. */
  vehicles: ReadVehicle[];
  good: number;
  mended: MendedRow[];
  refused: RefusedRow[];
  from_text: MendedRow[];
  doubted: MendedRow[];
  changes: ParticularChange[];
  asides: AsideRow[];
  samples: SampleRow[];
  /** Rows identical to an earlier one. All are imported: two equal cans on one day are possible. */
  repeated: number;
}

/** What is kept of a row until all are read. */
export interface Held {
  file: number;
  read: ReadRow;
  cells: string[];
  first: boolean;
}

export interface HeldVehicle {
  label: string;
  particulars: VehicleParticulars;
  /** The row that each of its values comes from, and the day of it. */
  said_in: Partial<Record<keyof VehicleParticulars, string>>;
  said_on: Partial<Record<keyof VehicleParticulars, string>>;
  held: Held[];
  moved: ParticularChange[];
}
