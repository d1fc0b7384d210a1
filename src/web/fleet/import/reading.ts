import type { ImportedVehicle, KnownVehicle } from "../../../store/imported-vehicle.ts";
import { Pace } from "../../../store/pace.ts";
import { csvRows } from "./csv-rows.ts";
import type { Mapping } from "./mapping.ts";
import type { Agreement, FleetFile, FleetReading, HeldVehicle } from "./reading-shapes.ts";
import { type RowContext, readRow } from "./rows.ts";
import { hold, settle, spellingsOf } from "./settle.ts";
import { type SheetToRead, sheetLines } from "./table-rows.ts";

/** All rows of the sheets, grouped into vehicles with their events, and the outcome of each row. */

/** Reads the files; `known` are the vehicles that are here already. */
export async function readFleetFiles(
  files: readonly FleetFile[],
  known: readonly KnownVehicle[],
  context: RowContext,
): Promise<FleetReading> {
  const reading: FleetReading = {
    files: [],
    vehicles: [],
    good: 0,
    mended: [],
    refused: [],
    from_text: [],
    doubted: [],
    changes: [],
    asides: [],
    samples: [],
    repeated: 0,
  };
  const vehicles = new Map<string, HeldVehicle>();
  const spellings = spellingsOf(known);
  const pace = new Pace();
  for (const [file, one] of files.entries()) {
    const header = await headerOf(one);
    let rows = 0;
    for await (const batch of sheetLines(one)) {
      for (const line of batch) {
        if (line.kind === "aside") {
          reading.asides.push({ file, row: line.row, why: line.why, text: line.text.slice(0, 80) });
          continue;
        }
        rows++;
        for (const row of line.rows)
          hold(vehicles, { file, read: readRow(row, context), cells: row.cells, first: row.first }, files, spellings);
        if (pace.due) await pace.rest();
      }
    }
    reading.files.push({ name: one.name, header, rows, not_taken: notTaken(header, one.mapping) });
  }
  const known_by_key = Map.groupBy(known, ({ key }) => key);
  for (const [key, vehicle] of vehicles) {
    settle(reading, vehicle, key, known_by_key.get(key) ?? []);
    if (pace.due) await pace.rest();
  }
  for (const rows of [reading.refused, reading.mended, reading.from_text, reading.doubted])
    rows.sort((a, b) => a.file - b.file || a.row - b.row);
  return reading;
}

/** What goes to the store when the person agrees to `agreed`. */
export function agreedVehicles(reading: FleetReading, agreed: ReadonlySet<Agreement>): ImportedVehicle[] {
  return reading.vehicles.map((vehicle) => ({
    ...vehicle,
    entries: vehicle.entries.flatMap(({ entry, order, needs }) =>
      needs.every((need) => agreed.has(need)) ? [{ ...entry, order }] : [],
    ),
  }));
}

async function headerOf({ text, survey }: SheetToRead): Promise<string[]> {
  for await (const batch of csvRows(text, survey.delimiter)) {
    const header = batch.find(({ row }) => row === survey.header_row);
    if (header !== undefined) return header.cells;
  }
  return [];
}

function notTaken(header: readonly string[], { columns, sets }: Mapping): string[] {
  const taken = new Set([columns, ...sets].flatMap((one) => Object.values(one)));
  return header.flatMap((name, i) => (name.trim() === "" || taken.has(i) ? [] : [name.trim()]));
}
