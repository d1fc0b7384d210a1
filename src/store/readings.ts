import type { Readings } from "../core/readings/contract.ts";
import type { LedgerTable, Line } from "./ledger.ts";

/** What is read at the vehicle; what it is judged by beside that (refrigerant, size) stands in the vehicle's own record. */
type Read = Omit<Readings, "refrigerant" | "nameplate_g" | "system_volume_ml" | "ambient_c">;

/** What was read on a day; every field is there, null where nothing was read. Pressures are kPa absolute. */
export type ReadingsEntry = { [Field in keyof Required<Read>]: Exclude<Read[Field], undefined> } & {
  date: string;
  ambient_c: number;
  note: string | null;
};
export type ReadingsInput = Read & { date: string; ambient_c: number; note?: string | null };
export type ReadingsLine = Line<ReadingsEntry>;

export const readingsTable: LedgerTable<ReadingsEntry> = {
  table: "readings",
  what: "set of readings",
  columns: [
    "date",
    "ambient_c",
    "humidity_percent",
    "altitude_m",
    "static_kpa",
    "low_kpa",
    "high_kpa",
    "engine_rpm",
    "vent_c",
    "clutch",
    "fan",
    "condenser",
    "more_air",
    "suction_line_c",
    "liquid_line_c",
    "equalizing_s",
    "sight_glass",
    "metering",
    "compressor",
    "note",
  ],
  order: "date, number, id",
  searched: "note",
};
