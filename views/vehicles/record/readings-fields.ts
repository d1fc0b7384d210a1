import type { ReadingsFields } from "../../readings/readings-fields.ts";

/** A set of readings as it was typed; refrigerant and size stand in the vehicle's record. */
export interface VehicleReadingsFields extends ReadingsFields {
  when: string;
  note: string;
}
