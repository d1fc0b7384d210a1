import { csvOf } from "../../edge/csv.ts";
import type { FleetReading } from "./reading-shapes.ts";
import { fieldLabel } from "./rows.ts";

/**
 * The rejected rows of one file as they were, each with its row number and the reason, to be corrected and sent again.
 */
export function refusedCsv(reading: FleetReading, file: number): string {
  const { header } = reading.files[file]!;
  const refused = reading.refused.filter((row) => row.file === file);
  const width = Math.max(header.length, ...refused.map(({ cells }) => cells.length));
  const filled = (cells: readonly string[]): string[] => Array.from({ length: width }, (_, i) => cells[i] ?? "");
  return csvOf(
    [...filled(header), "row in the file", "what is wrong"],
    refused.map(({ row, cells, faults }) => [
      ...filled(cells),
      row,
      faults.map(({ field, why }) => `${fieldLabel(field)}: ${why}`).join(" "),
    ]),
  );
}
