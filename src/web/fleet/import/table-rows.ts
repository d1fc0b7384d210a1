import { type Aside, isAside } from "./asides.ts";
import { type CsvRow, csvRows } from "./csv-rows.ts";
import type { Text } from "./csv-text.ts";
import type { Mapping } from "./mapping.ts";
import type { Survey } from "./survey.ts";

/**
 * The rows of a sheet as a table has them: what stands above the header, totals and lines of text are set aside, merged
 * cells are filled down where the person said so, and a row with several events becomes several.
 */

export interface TableRow extends CsvRow {
  /** Which set of event columns is meant; the mapping of this row. */
  mapping: Mapping;
  /** The first of its sheet row: rows are counted by it. */
  first: boolean;
}

export type SheetLine = { kind: "row"; rows: TableRow[] } | { kind: "aside"; row: number; why: Aside; text: string };

export interface SheetToRead {
  text: Text;
  survey: Pick<Survey, "delimiter" | "header_row" | "typed_numbers">;
  mapping: Mapping;
}

/** Every line below the header, in order; batches as they arrive. Throws as `csvRows` does. */
export async function* sheetLines({ text, survey, mapping }: SheetToRead): AsyncGenerator<SheetLine[]> {
  let header = "";
  let width = Infinity;
  let vehicle = "";
  const vehicle_at = mapping.columns.vehicle;
  for await (const batch of csvRows(text, survey.delimiter)) {
    const lines: SheetLine[] = [];
    for (const row of batch) {
      const text = row.cells.join("\n");
      if (row.row === survey.header_row) {
        header = text;
        width = row.cells.length;
      }
      if (row.row <= survey.header_row || text === header) continue;
      const named = vehicle_at === undefined ? "" : (row.cells[vehicle_at] ?? "").trim();
      const why = isAside(row.cells, width);
      if (why !== null) {
        // The vehicle as a heading above its rows.
        if (why === "text" && named !== "") vehicle = named;
        lines.push({ kind: "aside", row: row.row, why, text: row.cells.find((cell) => cell.trim() !== "") ?? "" });
        continue;
      }
      const filled =
        mapping.fill_down && named === "" && vehicle_at !== undefined ? withCell(row, vehicle_at, vehicle) : row;
      if (named !== "") vehicle = named;
      lines.push({ kind: "row", rows: eventRows(withFault(filled, width), mapping) });
    }
    yield lines;
  }
}

function withCell(row: CsvRow, at: number, cell: string): CsvRow {
  const cells = [...row.cells];
  cells[at] = cell;
  return { ...row, cells };
}

function withFault(row: CsvRow, width: number): CsvRow {
  if (row.fault !== null || row.cells.length <= width) return row;
  if (row.cells.slice(width).every((cell) => cell.trim() === "")) return row;
  return {
    ...row,
    fault: `This row has ${row.cells.length} cells, the header ${width}: is there a comma in a number or a text? Put that cell in quotation marks, or write 1250 for 1,250.`,
  };
}

function eventRows(row: CsvRow, mapping: Mapping): TableRow[] {
  if (mapping.sets.length === 0) return [{ ...row, mapping, first: true }];
  const said = mapping.sets.filter((set) => Object.values(set).some((at) => (row.cells[at] ?? "").trim() !== ""));
  const sets = said.length === 0 ? [{}] : said;
  return sets.map((set, i) => ({
    ...row,
    mapping: { ...mapping, columns: { ...mapping.columns, ...set } },
    first: i === 0,
  }));
}
