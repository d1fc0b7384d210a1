import type { Line } from "../question/record.ts";
import type { Readings } from "./readings-contract.ts";

/** What is read at the vehicle. What it is judged by (refrigerant, size) is in the vehicle's own record. */
type Read = Omit<Readings, "refrigerant" | "nameplate_g" | "system_volume_ml" | "ambient_c">;

/** A set of readings; every field is there, null where nothing was read. Pressures are kPa absolute. */
export type ReadingsEntry = { [Field in keyof Required<Read>]: Exclude<Read[Field], undefined> } & {
  /** Day of the readings. */
  date: string;
  /** Air in front of the vehicle, in the shade, °C. */
  ambient_c: number;
  /** Free text. */
  note: string | null;
};
/** A set of readings as entered: what is absent was not read. */
export type ReadingsInput = Read & Pick<ReadingsEntry, "date" | "ambient_c"> & Partial<Pick<ReadingsEntry, "note">>;
export type ReadingsLine = Line<ReadingsEntry>;
