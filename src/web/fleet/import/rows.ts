import {
  type ColumnUnit,
  cellWords,
  type FleetField,
  fleetFields,
  type MassField,
} from "../../../../data/fleet-format.ts";
import { priceParameters, requestBounds } from "../../../../data/parameters.ts";
import { parseDistance, saidDistance } from "../../../core/quantities/distance.ts";
import { formatMass } from "../../../core/quantities/format.ts";
import { parseMass } from "../../../core/quantities/parse-mass.ts";
import type { Cooling, LocationId, RefrigerantId, VehicleKind } from "../../../core/question/contract.ts";
import {
  type ChargeEntryInput,
  MAX_LABEL_CHARS,
  MAX_REMARK_CHARS,
  type Odometer,
  recordBounds,
} from "../../../core/question/record.ts";
import { readDate } from "./date-column.ts";
import { unitOfWord } from "./headers.ts";
import { BLANK_WORDS, type Mapping, type Points } from "./mapping.ts";
import { plainWord } from "./survey.ts";
import type { TableRow } from "./table-rows.ts";
import { readWork, type WorkRead } from "./work-text.ts";

/** One parsed row: its vehicle, at most one charge event, and what was corrected or rejected. */

/** A rejected cell; `field` is null when it is the row as a whole. */
export interface CellFault {
  field: FleetField | null;
  cell: string;
  why: string;
}

/** A cell that was corrected, and how. */
export interface Mend {
  field: FleetField;
  cell: string;
  how: string;
}

/** What a row says about the vehicle; null where it says nothing. */
export interface VehicleParticulars {
  refrigerant: RefrigerantId | null;
  nameplate_g: number | null;
  fleet_group: string | null;
  depot: string | null;
  electric_compressor: boolean | null;
  dye_in_own_oil: boolean | null;
  kind: VehicleKind | null;
  model_year: number | null;
  odometer: Odometer | null;
}

export interface ReadRow {
  row: number;
  vehicle: string;
  particulars: VehicleParticulars;
  /** Null for a row without an event. */
  entry: ChargeEntryInput | null;
  /** The number of the work order; null without one. */
  order: string | null;
  /** What was read out of a sentence, to be agreed to; empty where nothing was. */
  from_text: Mend[];
  mends: Mend[];
  faults: CellFault[];
}

export interface RowContext {
  /** The last day that an event can have, `YYYY-MM-DD`. */
  today: string;
  /** A can's net weight for a vehicle whose refrigerant is unknown; null: by refrigerant. */
  can_net_g: number | null;
}

/** Reads one row and reports all of its faults at once; a row with a fault is rejected whole. */
export function readRow(csv: TableRow, context: RowContext): ReadRow {
  const cells = new RowCells(csv, context);
  const vehicle = cells.text("vehicle", MAX_LABEL_CHARS) ?? "";
  if (vehicle === "" && cells.faults.length === 0) cells.refuse("vehicle", "Add the vehicle's name.");
  const lasting = readParticulars(cells);
  const order = cells.text("order", MAX_ORDER_CHARS);
  const { entry, date } = readEntry(cells, context, lasting.refrigerant, order);
  const particulars = {
    ...lasting,
    model_year: readModelYear(cells, context.today),
    odometer: readOdometer(cells, date, context.today),
  };
  if (csv.fault !== null)
    cells.faults.unshift({ field: null, cell: csv.cells.join(" ").slice(0, 200), why: csv.fault });
  const { mends, faults, from_text } = cells;
  return { row: csv.row, vehicle, particulars, entry, order, from_text, mends, faults };
}

function readParticulars(cells: RowCells): Omit<VehicleParticulars, "model_year" | "odometer"> {
  const refrigerant = cells.word("refrigerant", cellWords.refrigerant);
  const nameplate_g = cells.mass("nameplate", refrigerant);
  const { min, max } = requestBounds.nameplate_g;
  if (nameplate_g !== null && !(nameplate_g >= min && nameplate_g <= max))
    cells.refuse("nameplate", `Not between ${min} g and ${max / 1000} kg: is the unit right?`);
  const yesNo = (field: FleetField) => {
    const said = cells.word(field, cellWords.yes_no);
    return said === null ? null : said === "yes";
  };
  return {
    refrigerant,
    nameplate_g,
    fleet_group: cells.text("group", MAX_LABEL_CHARS),
    depot: cells.text("depot", MAX_LABEL_CHARS),
    kind: cells.word("kind", cellWords.kind),
    electric_compressor: yesNo("electric"),
    dye_in_own_oil: yesNo("own_oil_dye"),
  };
}

/** The model year, left out where it is none; makers begin one up to a year before it. */
function readModelYear(cells: RowCells, today: string): number | null {
  const cell = cells.of("model_year");
  if (cell === "" || BLANK_WORDS.has(cell)) return null;
  const { min } = recordBounds.model_year;
  const most = Number(today.slice(0, 4)) + 1;
  const year = /^\d{4}(\.0)?$/.test(cell) ? Number(cell) : 0;
  return year >= min && year <= most ? year : cells.leftOut("model_year", `no year from ${min} to ${most}`);
}

/** The reading of a row, on the day of the row or one of its own; else it is what the odometer shows now. */
function readOdometer(cells: RowCells, date: string | null, today: string): Odometer | null {
  const cell = cells.of("odometer");
  if (cell === "" || BLANK_WORDS.has(cell)) return null;
  const unit = cells.mapping.units[cells.mapping.columns.odometer ?? -1];
  const bare = !/[a-z]/i.test(cell);
  if (bare && unit !== "mi" && unit !== "km")
    return cells.leftOut("odometer", "no unit stands beside it, as in 84,200 miles");
  const read = parseDistance(cell, unit === "mi" ? "mi" : "km");
  if (!read.ok) return cells.leftOut("odometer", "no reading, like 84,200 miles or 135,500 km");
  const { max } = recordBounds.odometer_km;
  if (read.km > max)
    return cells.leftOut("odometer", `more than ${saidDistance(max, "metric")}, so the unit may be wrong`);
  if (read.km === 0) return cells.leftOut("odometer", "a vehicle in use has gone further");
  const own_day = readDay(cells, today, "odometer_date");
  // Several events in a row: the reading belongs to none of them.
  const of_row = cells.mapping.sets.length > 0 ? null : date;
  return { km: read.km, on: own_day ?? of_row ?? today };
}

/** The event of a row, null without one, or where it is rejected; and the day of the row. */
function readEntry(
  cells: RowCells,
  context: RowContext,
  refrigerant: RefrigerantId | null,
  order: string | null,
): { entry: ChargeEntryInput | null; date: string | null } {
  const event = {
    cooling: cells.word("cooling", cellWords.cooling),
    recovered_g: cells.mass("recovered", refrigerant),
    added_g: cells.mass("added", refrigerant),
    added_by: cells.word("added_by", cellWords.added_by),
    finish: cells.word("finish", cellWords.finish),
    repair: cells.word("repair", cellWords.repair),
    dye: cells.word("dye", cellWords.yes_no) === "yes" ? ("added" as const) : null,
  };
  const work = readSentence(cells, event, refrigerant, context);
  const remark = cells.text("note", MAX_REMARK_CHARS) ?? work;
  const { added_by, ...seen_or_done } = event;
  const said = [...Object.values(seen_or_done), remark].some((value) => value !== null);
  const note = noteOf(order, remark);
  const date = readDay(cells, context.today, "date");
  if (cells.of("date") === "" && said) cells.refuse("date", "Add the date.");
  if (date !== null && !said && cells.of("odometer") === "" && cells.faults.length === 0)
    cells.mend("date", "nothing beside it was seen or done, so no event was made of it");
  return { entry: date !== null && said ? { date, ...event, note } : null, date };
}

interface Said {
  cooling: Cooling | null;
  recovered_g: number | null;
  added_g: number | null;
  repair: LocationId | null;
  dye: "added" | null;
}

/**
 * Fills what the other cells leave open from the sentence about the work. Gives the sentence where it speaks of
 * refrigerant: other work has no place in a charge log.
 */
function readSentence(
  cells: RowCells,
  event: Said,
  refrigerant: RefrigerantId | null,
  { can_net_g }: RowContext,
): string | null {
  const sentence = cells.of("work");
  const { sentence_of_amount } = cells;
  if (sentence_of_amount !== null) {
    event.repair ??= sentence_of_amount.repair;
    event.dye ??= sentence_of_amount.dye ? "added" : null;
  }
  if (sentence === "") return null;
  const read = readWork(sentence, can_net_g ?? priceParameters.can_net_g.default[refrigerant ?? "R-134a"]);
  if (read.unread !== null && event.added_g === null && event.recovered_g === null)
    return cells.refuse("work", read.unread);
  if (read.said.length === 0) return null;
  const before = { ...event };
  event.added_g ??= read.added_g;
  event.recovered_g ??= read.recovered_g;
  event.repair ??= read.repair;
  event.cooling ??= read.cooling;
  event.dye ??= read.dye ? "added" : null;
  if (JSON.stringify(before) !== JSON.stringify(event)) cells.readFrom("work", read.said.join(", "));
  return cells.text("work", MAX_REMARK_CHARS);
}

/** The order's number stands in the note, where people look for it. */
function noteOf(order: string | null, remark: string | null): string | null {
  if (order === null || remark === null) return remark ?? order;
  return `${order}: ${remark}`.slice(0, MAX_REMARK_CHARS);
}

function readDay(cells: RowCells, today: string, field: "date" | "odometer_date"): string | null {
  const cell = cells.of(field);
  if (cell === "") return null;
  const read = readDate(cell, cells.mapping.date_order, today);
  if (!read.ok) return cells.refuse(field, read.message);
  if (read.iso < requestBounds.log.first_date) return cells.refuse(field, `Before ${requestBounds.log.first_date}.`);
  for (const how of read.mends) cells.mend(field, how);
  return read.iso;
}

/** A cell without the apostrophe with which our own export keeps it from running as a formula. */
const GUARDED = /^'(?=\s*[=+\-@\t\r\n＝＋－＠])/u;

/** Reads the cells of a row by field, and collects corrections and rejections. */
class RowCells {
  readonly mends: Mend[] = [];
  readonly faults: CellFault[] = [];
  readonly from_text: Mend[] = [];
  readonly mapping: Mapping;
  /** What a cell for an amount says besides, where a sentence stands in it. */
  sentence_of_amount: WorkRead | null = null;
  readonly #row: TableRow;
  readonly #context: RowContext;

  constructor(row: TableRow, context: RowContext) {
    this.#row = row;
    this.#context = context;
    this.mapping = row.mapping;
  }

  /** The trimmed text of the cell; empty where the column is missing. */
  of(field: FleetField): string {
    const at = this.mapping.columns[field];
    return at === undefined ? "" : (this.#row.cells[at] ?? "").trim().replace(GUARDED, "");
  }

  refuse(field: FleetField, why: string): null {
    this.faults.push({ field, cell: this.of(field), why });
    return null;
  }

  mend(field: FleetField, how: string): void {
    this.mends.push({ field, cell: this.of(field), how });
  }

  /** What is beside the point of a row does not keep the rest of it out. */
  leftOut(field: FleetField, why: string): null {
    this.mend(field, `left out: ${why}`);
    return null;
  }

  readFrom(field: FleetField, how: string): void {
    this.from_text.push({ field, cell: this.of(field), how });
  }

  text(field: FleetField, most: number): string | null {
    const cell = this.of(field);
    if (cell === "") return null;
    return [...cell].length <= most ? cell : this.refuse(field, `Longer than ${most} characters.`);
  }

  word<T extends string>(field: FleetField, table: Readonly<Record<T, readonly string[]>>): T | null {
    const cell = this.of(field);
    const word = plainWord(cell);
    if (cell === "" || BLANK_WORDS.has(word)) return null;
    const answered = this.mapping.words[this.mapping.columns[field] ?? -1]?.[word];
    if (answered === "") {
      this.mend(field, "left out, as you said");
      return null;
    }
    const value = answered ?? wordsOf(table).get(word);
    if (value === undefined || !(value in table))
      return this.refuse(field, `Not one of ${Object.keys(table).join(", ")}.`);
    if (cell !== value) this.mend(field, `read as ${value}`);
    return value as T;
  }

  /**
   * Grams. A bare number is in the unit of its row or else its column; a can counts by the net weight that the file or
   * the refrigerant gives. A sentence in the cell is read as one.
   */
  mass(field: MassField, refrigerant: RefrigerantId | null): number | null {
    const cell = this.of(field);
    if (cell === "" || BLANK_WORDS.has(cell)) return null;
    const { can_net_g } = this.#context;
    const can = can_net_g ?? priceParameters.can_net_g.default[refrigerant ?? "R-134a"];
    const column = this.mapping.columns[field]!;
    const number = this.#pointed(cell, this.mapping.points[column]);
    const bare = /^[\d.,]+$/.test(number);
    const unit = (bare ? this.#unitOfRow(field) : null) ?? this.mapping.units[column];
    if (bare && unit === undefined && this.mapping.columns.amount_unit !== undefined)
      return this.refuse(field, "No unit stands beside it.");
    const typed = bare && unit !== undefined ? `${number} ${unit}` : number;
    const parsed = parseMass(typed, { system: "metric", can_net_g: can });
    if (!parsed.ok) return this.#massInWords(field, can) ?? this.refuse(field, notAnAmount(cell) ?? parsed.message);
    if (parsed.cans !== undefined)
      this.mend(field, `read as ${formatMass(parsed.grams, "metric")}, a can of ${formatMass(can, "metric")}`);
    else if (number !== cell) this.mend(field, `read as ${number}, as you said`);
    return parsed.grams;
  }

  /** 1.250 as the person said that it is meant. */
  #pointed(cell: string, points: Points | undefined): string {
    if (points === undefined) return cell;
    const [sign] = /[.,](?=\d{3}(\D|$))/.exec(cell) ?? [];
    if (sign === undefined || !/^[1-9]\d{0,2}([.,]\d{3})+( ?[a-z]{1,6})?$/i.test(cell)) return cell;
    return points === "thousands" ? cell.replaceAll(sign, "") : cell.replace(",", ".");
  }

  #unitOfRow(field: MassField): ColumnUnit | null {
    if (field === "nameplate" || this.mapping.columns.amount_unit === undefined) return null;
    return unitOfWord(this.of("amount_unit"));
  }

  /** "recharged 1.2 lb" in a column of amounts. */
  #massInWords(field: MassField, can_net_g: number): number | null {
    if (field === "nameplate") return null;
    const read = readWork(`${field} ${this.of(field)}`, can_net_g);
    const grams = field === "added" ? read.added_g : read.recovered_g;
    if (read.unread !== null || grams === null) return null;
    this.sentence_of_amount = read;
    this.readFrom(field, read.said.join(", "));
    return grams;
  }
}

/** The message for a cell that is clearly no amount; null for a mistyped amount. */
function notAnAmount(cell: string): string | null {
  return /^\(.*\)$|^#/.test(cell) ? "Not an amount. Write it like 340 g or 12 oz." : null;
}

/** What the column of a fault or mend is called. */
export function fieldLabel(field: FleetField | null): string {
  return field === null ? "Row" : fleetFields[field].label;
}

/** A longer text is not the number of a work order. */
const MAX_ORDER_CHARS = 60;

const words_of = new Map<object, ReadonlyMap<string, string>>();

function wordsOf(table: Readonly<Record<string, readonly string[]>>): ReadonlyMap<string, string> {
  let words = words_of.get(table);
  if (words === undefined) {
    words = new Map(Object.entries(table).flatMap(([value, names]) => names.map((name) => [name, value] as const)));
    words_of.set(table, words);
  }
  return words;
}
