import { readVin } from "../../core/quotes/vin.ts";
import { isEmpty } from "./typed-values.ts";

const MESSAGES = {
  shape: "Enter the 17 letters and figures of the VIN; it has no I, O or Q",
  "check-digit": "Check the VIN: its ninth character does not fit the others, so one of them has a slip",
} as const;

/** A VIN in capitals, "" for none; or an error message. */
export function readTypedVin(typed: string): { vin: string } | { message: string } {
  if (isEmpty(typed)) return { vin: "" };
  const read = readVin(typed);
  return read.ok ? { vin: read.vin } : { message: MESSAGES[read.code] };
}
