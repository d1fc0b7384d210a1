import {
  FLEET_FIELDS,
  type FleetField,
  fleetFields,
  importBounds,
  MASS_COLUMN_UNITS,
  MASS_FIELDS,
  type MassColumnUnit,
  type MassField,
} from "../../../../data/fleet-format.ts";
import { pageNumber } from "../../../core/quantities/number-text.ts";
import type { DateOrder } from "../../../core/quantities/parse-when.ts";
import { CsvBroken, csvRows, type Delimiter, delimiterOf } from "./csv-rows.ts";
import type { Text } from "./csv-text.ts";
import { type DateEvidence, dateOrderOf, noDateEvidence, weighDate } from "./date-column.ts";

/** What each column of a file means, with its unit and date order: taken from its header and cells, or asked. */

export interface Column {
  index: number;
  header: string;
  /** A few of its cells. */
  samples: string[];
  /** Its amounts without a unit: how many, and the least and largest. */
  bare_numbers: { count: number; least: number; largest: number };
  dates: DateEvidence;
}

/** A summary of a file after one pass. */
export interface Survey {
  delimiter: Delimiter;
  columns: Column[];
  rows: number;
  /** Why reading stopped; null when it did not. */
  broken: string | null;
}

/** The person's answers about a file, by column index. */
export interface MappingAnswers {
  /** `none`: this column is not taken. */
  fields?: Readonly<Record<number, FleetField | "none">>;
  units?: Readonly<Record<number, MassColumnUnit>>;
  date_order?: DateOrder | null;
}

export interface Mapping {
  columns: Partial<Record<FleetField, number>>;
  units: Partial<Record<MassField, MassColumnUnit>>;
  date_order: DateOrder | null;
}

/** A question to settle before the file can be read. */
export type Question =
  | { kind: "no-vehicle" }
  | { kind: "twice"; field: FleetField; columns: number[] }
  | { kind: "unit"; field: MassField; column: number; least: number; largest: number }
  | { kind: "date-order"; column: number; example: string };

const SAMPLES = 3;
const BARE_NUMBER = /^\d+([.,]\d+)?$/;

/** Surveys the whole file: columns, rows, and what its cells tell about dates and units. */
export async function surveyOf(text: Text): Promise<Survey> {
  const delimiter = await delimiterOf(text);
  const survey: Survey = { delimiter, columns: [], rows: 0, broken: null };
  try {
    for await (const batch of csvRows(text, delimiter)) {
      for (const { cells } of batch) {
        if (survey.columns.length === 0) {
          survey.columns = cells.map(newColumn);
          continue;
        }
        if (++survey.rows > importBounds.rows) {
          survey.broken = `The file has more than ${pageNumber(importBounds.rows)} rows, more than can be taken at once. Cut it into parts, each with the header row, and send them one after the other.`;
          return survey;
        }
        for (const column of survey.columns) look(column, cells[column.index]);
      }
    }
  } catch (error) {
    if (!(error instanceof CsvBroken)) throw error;
    survey.broken = error.message;
  }
  if (survey.broken === null && survey.columns.length === 0) survey.broken = "The file is empty.";
  else if (survey.broken === null && survey.rows === 0)
    survey.broken = "The file has a header row and nothing below it.";
  return survey;
}

function newColumn(header: string, index: number): Column {
  return {
    index,
    header: header.trim(),
    samples: [],
    bare_numbers: { count: 0, least: Infinity, largest: 0 },
    dates: noDateEvidence(),
  };
}

function look(column: Column, cell: string | undefined): void {
  const text = cell?.trim() ?? "";
  if (text === "") return;
  if (column.samples.length < SAMPLES && !column.samples.includes(text)) column.samples.push(text);
  if (BARE_NUMBER.test(text)) {
    const value = Number(text.replace(",", "."));
    if (value === 0) return;
    column.bare_numbers.count++;
    column.bare_numbers.least = Math.min(column.bare_numbers.least, value);
    column.bare_numbers.largest = Math.max(column.bare_numbers.largest, value);
  } else weighDate(column.dates, text);
}

/** The mapping from headers, cells and answers, with the questions still open. */
export function mappingOf(
  { columns }: Survey,
  answers: MappingAnswers = {},
): { mapping: Mapping; questions: Question[] } {
  const mapping: Mapping = { columns: {}, units: {}, date_order: null };
  const questions: Question[] = [];
  const by_field = new Map<FleetField, Column[]>();
  for (const column of columns) {
    const field = answers.fields?.[column.index] ?? fieldOfHeader(column.header);
    if (field === null || field === "none") continue;
    by_field.set(field, [...(by_field.get(field) ?? []), column]);
  }
  for (const field of FLEET_FIELDS) {
    const [column, ...more] = by_field.get(field) ?? [];
    if (column === undefined) continue;
    if (more.length > 0) {
      questions.push({ kind: "twice", field, columns: [column, ...more].map(({ index }) => index) });
      continue;
    }
    mapping.columns[field] = column.index;
    if (isMassField(field)) {
      const unit = answers.units?.[column.index] ?? unitOfHeader(column.header);
      const { count, least, largest } = column.bare_numbers;
      if (unit !== null) mapping.units[field] = unit;
      else if (count > 0) questions.push({ kind: "unit", field, column: column.index, least, largest });
    }
    if (field === "date") {
      const { order, asked } = dateOrderOf(column.dates);
      mapping.date_order = order ?? answers.date_order ?? null;
      if (asked && mapping.date_order === null) {
        questions.push({ kind: "date-order", column: column.index, example: column.dates.example ?? "" });
      }
    }
  }
  if (
    mapping.columns.vehicle === undefined &&
    !questions.some((one) => one.kind === "twice" && one.field === "vehicle")
  ) {
    questions.unshift({ kind: "no-vehicle" });
  }
  return { mapping, questions };
}

function isMassField(field: FleetField): field is MassField {
  return (MASS_FIELDS as readonly string[]).includes(field);
}

const UNIT_WORDS: Readonly<Record<string, MassColumnUnit>> = {
  ...Object.fromEntries(MASS_COLUMN_UNITS.map((unit) => [unit, unit])),
  gram: "g",
  grams: "g",
  ounce: "oz",
  ounces: "oz",
  lbs: "lb",
  pound: "lb",
  pounds: "lb",
};

/** Lower case words without accents and signs: `Added (oz)` is `added oz`. */
export function plainHeader(header: string): string {
  return header
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/([a-z\d])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .replace(/[^a-z\d]+/g, " ")
    .trim();
}

const FIELD_OF_HEADER: ReadonlyMap<string, FleetField> = new Map(
  FLEET_FIELDS.flatMap((field) => fleetFields[field].headers.map((header) => [header, field] as const)),
);

function fieldOfHeader(header: string): FleetField | null {
  const words = plainHeader(header);
  return FIELD_OF_HEADER.get(words) ?? FIELD_OF_HEADER.get(withoutUnit(words)) ?? null;
}

function unitOfHeader(header: string): MassColumnUnit | null {
  const last = plainHeader(header).split(" ").at(-1) ?? "";
  return UNIT_WORDS[last] ?? null;
}

function withoutUnit(words: string): string {
  const at = words.lastIndexOf(" ");
  return at > 0 && UNIT_WORDS[words.slice(at + 1)] !== undefined ? words.slice(0, at).replace(/ in$/, "") : words;
}
