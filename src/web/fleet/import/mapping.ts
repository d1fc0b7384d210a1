import {
  type ColumnUnit,
  cellWords,
  EVENT_FIELDS,
  FLEET_FIELDS,
  type FleetField,
  MASS_FIELDS,
  type MassField,
} from "../../../../data/fleet-format.ts";
import type { DateOrder } from "../../../core/quantities/parse-when.ts";
import { dateOrderOf } from "./date-column.ts";
import { fieldOfHeader, type MeantField, plainHeader, unitOfHeader } from "./headers.ts";
import type { Survey, SurveyedColumn } from "./survey.ts";

/** What each column of a file means, with its unit and date order: taken from its header and cells, or asked. */

/** How the point in 1.250 is meant. */
export const POINTS = ["decimal", "thousands"] as const;
export type Points = (typeof POINTS)[number];

/** The person's answers about a sheet, by column index. */
export interface MappingAnswers {
  /** Nothing is taken from this sheet. */
  skip?: boolean | undefined;
  /** The row with the headers, where it is another than we thought. */
  header_row?: number | undefined;
  /** `none`: this column is not taken. */
  fields?: Readonly<Record<number, FleetField | "none">>;
  units?: Readonly<Record<number, ColumnUnit>>;
  points?: Readonly<Record<number, Points>>;
  /** By column, what a word means; empty: nothing. */
  words?: Readonly<Record<number, Readonly<Record<string, string>>>>;
  date_order?: DateOrder | null;
  /** Whether an empty cell in the column of vehicles means the vehicle above. */
  fill_down?: boolean | undefined;
  /** That there are no events in this sheet. */
  no_events?: boolean | undefined;
}

type Columns = Partial<Record<FleetField, number>>;

export interface Mapping {
  columns: Columns;
  /** Columns of events that stand several times in a row, beside those of `columns`. */
  sets: Columns[];
  /** By column. */
  units: Readonly<Record<number, ColumnUnit>>;
  points: Readonly<Record<number, Points>>;
  words: Readonly<Record<number, Readonly<Record<string, string>>>>;
  date_order: DateOrder | null;
  fill_down: boolean;
}

/** Fields whose cells are words of a list. */
export const WORD_FIELDS = {
  kind: cellWords.kind,
  electric: cellWords.yes_no,
  own_oil_dye: cellWords.yes_no,
  cooling: cellWords.cooling,
  added_by: cellWords.added_by,
  finish: cellWords.finish,
  repair: cellWords.repair,
  dye: cellWords.yes_no,
} as const satisfies Partial<Record<FleetField, Readonly<Record<string, readonly string[]>>>>;
export type WordField = keyof typeof WORD_FIELDS;

/** A question to settle before the file can be read. */
export type OpenPoint =
  | { kind: "no-vehicle" }
  | { kind: "twice"; field: FleetField; columns: number[] }
  | { kind: "unit"; field: MassField; column: number; least: number; largest: number }
  | { kind: "distance-unit"; field: "odometer"; column: number; example: string }
  | { kind: "points"; field: MassField; column: number; example: string }
  | { kind: "words"; field: WordField; column: number; words: string[] }
  | { kind: "date-order"; column: number; example: string }
  | { kind: "fill-down"; column: number; blanks: number }
  /** Nothing says when, or what was done, though there are columns that nobody has named. */
  | { kind: "no-event"; missing: "date" | "amount" };

/** The share of empty cells from which on a column of vehicles looks merged. */
const MERGED_SHARE = 0.2;

export interface SheetMapping {
  mapping: Mapping;
  questions: OpenPoint[];
  /** What each column was taken for. */
  fields: (FleetField | "none")[];
}

/** The mapping from headers, cells and answers, with the questions still open. */
export function mappingOf({ columns }: Pick<Survey, "columns">, answers: MappingAnswers = {}): SheetMapping {
  const meant = columns.map((column) => meaningOf(column, answers));
  const { by_field, sets, twice } = sorted(columns, meant);
  const questions: OpenPoint[] = [...twice];
  const mapping: Mapping = {
    columns: by_field,
    sets,
    units: {},
    points: answers.points ?? {},
    words: answers.words ?? {},
    date_order: null,
    fill_down: answers.fill_down ?? false,
  };
  const units: Record<number, ColumnUnit> = {};
  const used = [by_field, ...sets].flatMap((one) => Object.entries(one) as [FleetField, number][]);
  used.sort(([a], [b]) => FLEET_FIELDS.indexOf(a) - FLEET_FIELDS.indexOf(b));
  for (const [field, index] of used) {
    const column = columns[index]!;
    if (isMassField(field)) {
      const unit = answers.units?.[index] ?? unitOfHeader(column.header);
      const has_units = field !== "nameplate" && used.some(([one]) => one === "amount_unit");
      if (unit !== null) units[index] = unit;
      else if (column.bare_numbers.count > 0 && !has_units) {
        const { least, largest } = column.bare_numbers;
        questions.push({ kind: "unit", field, column: index, least, largest });
      }
      // A charge is a small number of kilograms or pounds, so there 1.250 is no question.
      const example = column.thousands;
      const fine = /kg|kilo|lb|pound/i.test(example ?? "") || unit === "kg" || unit === "lb";
      if (example !== null && !fine && mapping.points[index] === undefined)
        questions.push({ kind: "points", field, column: index, example });
    }
    if (field === "odometer") {
      const unit = answers.units?.[index] ?? unitOfHeader(column.header);
      const bare = column.samples.find((sample) => /^[\d., ]+$/.test(sample));
      if (unit !== null) units[index] = unit;
      else if (bare !== undefined) questions.push({ kind: "distance-unit", field, column: index, example: bare });
    }
    if (field in WORD_FIELDS) questions.push(...wordQuestions(column, field as WordField, answers));
  }
  mapping.units = units;
  mapping.date_order = dateOrder(columns, used, answers, questions);
  const vehicle = by_field.vehicle;
  if (vehicle === undefined) {
    if (!twice.some(({ field }) => field === "vehicle")) questions.unshift({ kind: "no-vehicle" });
  } else {
    const { blanks_below, filled } = columns[vehicle]!;
    const merged = blanks_below > 1 && blanks_below >= MERGED_SHARE * (filled + blanks_below);
    if (merged && answers.fill_down === undefined)
      questions.push({ kind: "fill-down", column: vehicle, blanks: blanks_below });
    const missing = missingOf(used, columns, meant, answers);
    if (missing !== null) questions.push({ kind: "no-event", missing });
  }
  return { mapping, questions, fields: meant.map((one) => one?.field ?? "none") };
}

function meaningOf(column: SurveyedColumn, { fields }: MappingAnswers): MeantField | null {
  const said = fields?.[column.index];
  const own = fieldOfHeader(column.header);
  if (said === "none") return null;
  if (said !== undefined) return { field: said, set: own?.set ?? null };
  const word = plainHeader(column.header);
  if ((word === "unit" || word === "units") && column.units_only && column.filled > 0)
    return { field: "amount_unit", set: null };
  // A column "by" with people's names is not our field.
  if (own?.field === "added_by" && column.filled > 0 && knownWords(column, cellWords.added_by) === 0) return null;
  return own;
}

/** The columns by field: common ones, and those of events that stand several times in a row. */
function sorted(columns: readonly SurveyedColumn[], meant: readonly (MeantField | null)[]) {
  const by_field: Columns = {};
  const sets = new Map<number, Columns>();
  const twice: Extract<OpenPoint, { kind: "twice" }>[] = [];
  const found = Map.groupBy(
    columns.flatMap((column, i) => (meant[i] == null ? [] : [{ index: column.index, ...meant[i] }])),
    ({ field }) => field,
  );
  const dates = (found.get("date") ?? []).filter(({ set }) => set === null).length;
  for (const field of FLEET_FIELDS) {
    const all = found.get(field) ?? [];
    for (const { index, set } of all.filter((one) => one.set !== null)) {
      const of_set = sets.get(set!) ?? {};
      if (of_set[field] !== undefined) twice.push({ kind: "twice", field, columns: [of_set[field], index] });
      of_set[field] = index;
      sets.set(set!, of_set);
    }
    const plain = all.filter(({ set }) => set === null).map(({ index }) => index);
    if (plain.length === 0) continue;
    const is_event = (EVENT_FIELDS as readonly FleetField[]).includes(field);
    if (plain.length === 1) by_field[field] = plain[0]!;
    // Date, amount, date, amount: the second of each belongs to the second event.
    else if (is_event && plain.length === dates)
      for (const [i, index] of plain.entries()) sets.set(i + 1, { ...sets.get(i + 1), [field]: index });
    else twice.push({ kind: "twice", field, columns: plain });
  }
  const ordered = [...sets].sort(([a], [b]) => a - b).map(([, set]) => set);
  const alone = ordered.length === 1 && by_field.date === undefined ? ordered.splice(0) : [];
  return { by_field: Object.assign(by_field, ...alone) as Columns, sets: ordered, twice };
}

function isMassField(field: FleetField): field is MassField {
  return (MASS_FIELDS as readonly string[]).includes(field);
}

/** Words that mean nothing was written. */
export const BLANK_WORDS: ReadonlySet<string> = new Set(["-", "–", "—", "n a", "na", "none given", "unknown", "?"]);

function wordQuestions(column: SurveyedColumn, field: WordField, { words }: MappingAnswers): OpenPoint[] {
  if (column.words === null) return [];
  const known = knownSet(WORD_FIELDS[field]);
  const open = Object.keys(column.words).filter(
    (word) => !known.has(word) && !BLANK_WORDS.has(word) && words?.[column.index]?.[word] === undefined,
  );
  return open.length === 0 ? [] : [{ kind: "words", field, column: column.index, words: open }];
}

function knownSet(table: Readonly<Record<string, readonly string[]>>): Set<string> {
  return new Set(Object.values(table).flat());
}

function knownWords(column: SurveyedColumn, table: Readonly<Record<string, readonly string[]>>): number {
  const known = knownSet(table);
  return Object.keys(column.words ?? {}).filter((word) => known.has(word)).length;
}

function dateOrder(
  columns: readonly SurveyedColumn[],
  used: readonly [FleetField, number][],
  answers: MappingAnswers,
  questions: OpenPoint[],
): DateOrder | null {
  const dated = used.filter(([field]) => /date$/.test(field)).map(([, index]) => columns[index]!);
  if (dated.length === 0) return null;
  const sum = (name: "day_first" | "month_first" | "either") => dated.reduce((all, { dates }) => all + dates[name], 0);
  const example = dated.find(({ dates }) => dates.example !== null)?.dates.example ?? null;
  const evidence = { day_first: sum("day_first"), month_first: sum("month_first"), either: sum("either"), example };
  const { order, asked } = dateOrderOf(evidence);
  const settled = order ?? answers.date_order ?? null;
  const asking = dated.find(({ dates }) => dates.example !== null) ?? dated[0]!;
  if (asked && settled === null) questions.push({ kind: "date-order", column: asking.index, example: example ?? "" });
  return settled;
}

const SAYING_WHAT: readonly FleetField[] = ["added", "recovered", "cooling", "finish", "repair", "dye", "work"];

function missingOf(
  used: readonly [FleetField, number][],
  columns: readonly SurveyedColumn[],
  meant: readonly (MeantField | null)[],
  { no_events, fields }: MappingAnswers,
): "date" | "amount" | null {
  const open = columns.some(
    (column, i) => meant[i] == null && column.filled > 0 && fields?.[column.index] === undefined,
  );
  if (no_events === true || !open) return null;
  const has = (field: FleetField) => used.some(([one]) => one === field);
  if (has("date")) return SAYING_WHAT.some(has) ? null : "amount";
  return SAYING_WHAT.some(has) || columns.some(({ dates }) => dates.either + dates.day_first + dates.month_first > 0)
    ? "date"
    : null;
}
