import { CHARGE_COLUMNS } from "../../core/question/record.ts";
import type { ChargeOfVehicle } from "../../store/transfer.ts";
import { csvOf } from "../edge/csv.ts";

const COLUMNS = [
  "vehicle_id",
  "label",
  "refrigerant",
  "nameplate_g",
  ...CHARGE_COLUMNS,
  "id",
  "version",
  "recorded_at",
  "recorded_by",
] as const satisfies readonly (keyof ChargeOfVehicle)[];

/** The charge log as a table for a spreadsheet, one line for each entry that holds now; amounts in g. */
export function chargeLogCsv(charges: readonly ChargeOfVehicle[]): string {
  return csvOf(
    COLUMNS.map((column) => (column === "label" ? "vehicle" : column === "id" ? "entry_id" : column)),
    charges.map((charge) => COLUMNS.map((column) => charge[column])),
  );
}
