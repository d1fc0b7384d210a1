import type { Line } from "../question/record.ts";
import type { Readings } from "./contract.ts";

/**
 * What is read at the vehicle; what it is judged by beside that (refrigerant, size) stands in the vehicle's own record.
 */
type Read = Omit<Readings, "refrigerant" | "nameplate_g" | "system_volume_ml" | "ambient_c">;

/** What was read on a day; every field is there, null where nothing was read. Pressures are kPa absolute. */
export type ReadingsEntry = { [Field in keyof Required<Read>]: Exclude<Read[Field], undefined> } & {
  date: string;
  ambient_c: number;
  note: string | null;
};
/** The same as it comes in: what is absent was not read. */
export type ReadingsInput = Read & { date: string; ambient_c: number; note?: string | null };
export type ReadingsLine = Line<ReadingsEntry>;
