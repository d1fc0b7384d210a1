import { importBounds } from "../../../../data/fleet-format.ts";
import { pageNumber } from "../../../core/quantities/number-text.ts";
import { Pace } from "../../../store/pace.ts";
import { isAside } from "./asides.ts";
import { CsvBroken, type CsvRow, csvRows, type Delimiter, delimiterOf } from "./csv-rows.ts";
import type { Text } from "./csv-text.ts";
import { type DateEvidence, noDateEvidence, weighDate } from "./date-column.ts";
import { fieldOfHeader, plainHeader, unitOfWord } from "./headers.ts";

/** A file after one pass: where its header is, its columns, and what their cells tell. */

export interface SurveyedColumn {
  index: number;
  header: string;
  /** A few of its cells. */
  samples: string[];
  /** Cells that are not empty. */
  filled: number;
  /** Whether a cell of it stands alone in a row, as a heading does. */
  heads: boolean;
  /** Empty cells below a filled one, in rows that say something: a merged cell leaves them. */
  blanks_below: number;
  /** Its amounts without a unit: how many, and the least and largest. */
  bare_numbers: { count: number; least: number; largest: number };
  /** A number such as 1.250, which is 1250 to some readers and 1.25 to others. */
  thousands: string | null;
  /** How often each of its words stands there; null where there are too many for words of a list. */
  words: Record<string, number> | null;
  /** Whether every cell is the name of a unit of mass. */
  units_only: boolean;
  dates: DateEvidence;
}

/** A row as it stands in the sheet, to be shown. */
export interface HeadRow {
  row: number;
  cells: string[];
}

export interface Survey {
  delimiter: Delimiter;
  /** Whether its numbers are numbers of a workbook, and not text that someone typed. */
  typed_numbers: boolean;
  /** The row with the headers, as the sheet counts them. */
  header_row: number;
  /** The first rows, with what stands above the header. */
  head: HeadRow[];
  columns: SurveyedColumn[];
  rows: number;
  /** Why reading stopped; null when it did not. */
  broken: string | null;
}

const SAMPLES = 3;
/** Rows in which a header is looked for, and of those kept to be shown. */
const HEAD_ROWS = 40;
const HEAD_ROWS_KEPT = 15;
const SHOWN_CELL = 60;
/** A column with more words than this is no list to choose from. */
const MOST_WORDS = 30;
const LONGEST_WORD = 40;
const BARE_NUMBER = /^\d+([.,]\d+)?$/;
const THOUSANDS = /^[1-9]\d{0,2}([.,]\d{3})+( ?[a-z]{1,6})?$/i;

export interface SurveyOptions {
  typed_numbers?: boolean;
  /** The person's word for where the header is. */
  header_row?: number | undefined;
}

/** Surveys the whole file: columns, rows, and what its cells tell about dates, units and words. */
export async function surveyOf(text: Text, options: SurveyOptions = {}): Promise<Survey> {
  const delimiter = await delimiterOf(text);
  const survey: Survey = {
    delimiter,
    typed_numbers: options.typed_numbers ?? false,
    header_row: 0,
    head: [],
    columns: [],
    rows: 0,
    broken: null,
  };
  const pass = new SurveyPass(survey, options.header_row);
  const pace = new Pace();
  try {
    for await (const batch of csvRows(text, delimiter)) {
      for (const row of batch) {
        pass.take(row);
        if (survey.broken !== null) return survey;
        if (pace.due) await pace.rest();
      }
    }
  } catch (error) {
    if (!(error instanceof CsvBroken)) throw error;
    survey.broken = error.message;
  }
  pass.end();
  if (survey.broken === null && survey.columns.length === 0) survey.broken = "The file is empty.";
  else if (survey.broken === null && survey.rows === 0)
    survey.broken = "The file has a header row and nothing below it.";
  return survey;
}

/** Takes the rows one by one; the first ones wait until the header is found among them. */
class SurveyPass {
  readonly #survey: Survey;
  readonly #said_header: number | undefined;
  #head: CsvRow[] | null = [];
  #header_text = "";

  constructor(survey: Survey, said_header: number | undefined) {
    this.#survey = survey;
    this.#said_header = said_header;
  }

  take(row: CsvRow): void {
    const { head } = this.#survey;
    if (head.length < HEAD_ROWS_KEPT) head.push({ row: row.row, cells: row.cells.map(shortened) });
    if (this.#head === null) {
      this.#below(row);
      return;
    }
    this.#head.push(row);
    if (this.#head.length >= HEAD_ROWS) this.end();
  }

  /** Finds the header among the first rows, and takes what stands below it. */
  end(): void {
    const head = this.#head;
    if (head === null || head.length === 0) return;
    this.#head = null;
    const said = head.findIndex(({ row }) => row === this.#said_header);
    const at = said >= 0 ? said : headerAt(head);
    const header = head[at]!;
    this.#survey.header_row = header.row;
    this.#header_text = header.cells.join("\n");
    const width = Math.max(...head.slice(at).map(({ cells }) => cells.length));
    this.#survey.columns = Array.from({ length: Math.min(width, header.cells.length) }, (_, i) =>
      newColumn(header.cells[i] ?? "", i),
    );
    for (const row of head.slice(at + 1)) this.#below(row);
  }

  #below({ cells }: CsvRow): void {
    const { columns } = this.#survey;
    if (cells.join("\n") === this.#header_text) return;
    if (++this.#survey.rows > importBounds.rows) {
      this.#survey.broken = `The file has more than ${pageNumber(importBounds.rows)} rows, more than can be taken at once. Cut it into parts, each with the header row, and send them one after the other.`;
      return;
    }
    const aside = isAside(cells, columns.length);
    // The vehicle may stand as a heading above its rows.
    if (aside === "text") for (const { index } of columns) columns[index]!.heads ||= (cells[index] ?? "").trim() !== "";
    if (aside !== null) return;
    for (const column of columns) sampleCell(column, cells[column.index], this.#survey.typed_numbers);
  }
}

/** The row whose cells are most of all headers that we know; where none is, the first that looks like a header. */
function headerAt(head: readonly CsvRow[]): number {
  const known = head.map(
    ({ cells }) => cells.filter((cell) => cell.trim() !== "" && fieldOfHeader(cell) !== null).length,
  );
  const most = Math.max(...known);
  const width = Math.max(...head.map(({ cells }) => filledOf(cells)));
  if (most >= 2 || (most === 1 && width <= 2)) return known.indexOf(most);
  const likely = head.findIndex(
    ({ cells }) => filledOf(cells) >= Math.max(2, width / 2) && cells.every((cell) => !/^[\d.,]+$/.test(cell.trim())),
  );
  return Math.max(0, likely);
}

function filledOf(cells: readonly string[]): number {
  return cells.filter((cell) => cell.trim() !== "").length;
}

function shortened(cell: string): string {
  return cell.length <= SHOWN_CELL ? cell : `${cell.slice(0, SHOWN_CELL - 1)}…`;
}

function newColumn(header: string, index: number): SurveyedColumn {
  return {
    index,
    header: header.trim(),
    samples: [],
    filled: 0,
    heads: false,
    blanks_below: 0,
    bare_numbers: { count: 0, least: Infinity, largest: 0 },
    thousands: null,
    words: {},
    units_only: true,
    dates: noDateEvidence(),
  };
}

function sampleCell(column: SurveyedColumn, cell: string | undefined, typed_numbers: boolean): void {
  const text = cell?.trim() ?? "";
  if (text === "") {
    if (column.filled > 0 || column.heads) column.blanks_below++;
    return;
  }
  column.filled++;
  if (column.samples.length < SAMPLES && !column.samples.includes(text)) column.samples.push(shortened(text));
  column.units_only &&= unitOfWord(text) !== null;
  countWord(column, text);
  if (!typed_numbers && column.thousands === null && THOUSANDS.test(text)) column.thousands = text;
  if (BARE_NUMBER.test(text)) {
    const value = Number(text.replace(",", "."));
    if (value === 0) return;
    column.bare_numbers.count++;
    column.bare_numbers.least = Math.min(column.bare_numbers.least, value);
    column.bare_numbers.largest = Math.max(column.bare_numbers.largest, value);
  } else weighDate(column.dates, text);
}

function countWord(column: SurveyedColumn, text: string): void {
  if (column.words === null) return;
  const word = text.length > LONGEST_WORD ? "" : plainWord(text);
  const before = column.words[word];
  if (before === undefined && (word === "" || Object.keys(column.words).length >= MOST_WORDS)) column.words = null;
  else column.words[word] = (before ?? 0) + 1;
}

/** A word of a list as it is compared: letters of any script stay. */
export function plainWord(text: string): string {
  return plainHeader(text) || text.trim().toLowerCase();
}

/** Under which a mapping is kept: the headers of a file. */
export function headersKey({ columns }: Survey): string {
  return columns.map(({ header }) => plainHeader(header)).join("|");
}
