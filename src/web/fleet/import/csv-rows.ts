import Papa from "papaparse";
import { importBounds } from "../../../../data/fleet-format.ts";
import type { Text } from "./csv-text.ts";

/** The rows of a CSV text, as they arrive. */

export type Delimiter = "," | ";" | "\t" | "|";
const DELIMITERS: readonly Delimiter[] = [",", ";", "\t", "|"];

export interface CsvRow {
  /** Row of the table as a spreadsheet counts them: the header is 1. */
  row: number;
  cells: string[];
  /** What is wrong with the row as CSV; null: nothing. */
  fault: string | null;
}

/** The text cannot be split into rows any further. */
export class CsvBroken extends Error {}

const HEAD_CHARS = 64_000;
/** Rows of the head that the delimiter is guessed from. */
const HEAD_ROWS = 50;
const QUOTE_FAULT =
  "The quotation marks in this row do not match. A cell that holds one needs it doubled, and the cell in quotation marks.";

/** The delimiter: from a first line `sep=;`, else the one that fits the first rows best. */
export async function delimiterOf(text: Text): Promise<Delimiter> {
  let head = "";
  for await (const piece of text()) {
    head += piece;
    if (head.length >= HEAD_CHARS) break;
  }
  const said = SEPARATOR_LINE.exec(head)?.[1];
  if (said !== undefined) return said as Delimiter;
  const { meta } = Papa.parse(head, { preview: HEAD_ROWS, delimitersToGuess: [...DELIMITERS] });
  return DELIMITERS.find((delimiter) => delimiter === meta.delimiter) ?? ",";
}

const SEPARATOR_LINE = /^sep=([,;\t|])\n/i;

/**
 * All rows, in batches as the text arrives; empty ones are counted and skipped. Throws `CsvBroken` for a row without an
 * end: an unclosed quotation mark would swallow the rest of the file.
 */
export async function* csvRows(text: Text, delimiter: Delimiter): AsyncGenerator<CsvRow[]> {
  let rest = "";
  let row = 0;
  let first = true;
  const read = (input: string, last: boolean): { rows: CsvRow[]; used: number } => {
    const parser = new Papa.Parser({ delimiter, newline: "\n" });
    const { data, errors, meta } = parser.parse(input, 0, !last) as Papa.ParseResult<string[]>;
    const faulty = new Set(errors.map((error) => error.row));
    const rows: CsvRow[] = [];
    for (const [i, cells] of data.entries()) {
      row++;
      if (cells.every((cell) => cell.trim() === "")) continue;
      rows.push({ row, cells, fault: faultOf(cells, faulty.has(i)) });
    }
    return { rows, used: meta.cursor };
  };
  for await (const piece of text()) {
    rest += piece;
    if (first) {
      first = false;
      rest = rest.replace(SEPARATOR_LINE, "");
    }
    const { rows, used } = read(rest, false);
    rest = rest.slice(used);
    if (rest.length > importBounds.row_chars) {
      throw new CsvBroken(
        `Row ${row + 1} has no end: a quotation mark in it is opened and not closed. Close it, or take it out, and send the file again.`,
      );
    }
    if (rows.length > 0) yield rows;
  }
  if (rest !== "") {
    const { rows } = read(rest, true);
    if (rows.length > 0) yield rows;
  }
}

function faultOf(cells: readonly string[], quotes: boolean): string | null {
  if (quotes) return QUOTE_FAULT;
  if (cells.length > importBounds.columns)
    return `This row has ${cells.length} cells; at most ${importBounds.columns} can be read.`;
  const endless = cells.find(
    (cell) => cell.length > importBounds.cell_lines && cell.split("\n").length > importBounds.cell_lines,
  );
  if (endless === undefined) return null;
  return `A cell of this row runs over more than ${importBounds.cell_lines} lines: a quotation mark before it is probably not closed.`;
}
