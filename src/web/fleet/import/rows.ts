import { cellWords, type FleetField, fleetFields, type MassField } from "../../../../data/fleet-format.ts";
import { priceParameters, requestBounds } from "../../../../data/parameters.ts";
import { formatMass } from "../../../core/quantities/format.ts";
import { parseMass } from "../../../core/quantities/parse-mass.ts";
import type { RefrigerantId, VehicleKind } from "../../../core/question/contract.ts";
import { type ChargeEntryInput, MAX_LABEL_CHARS, MAX_REMARK_CHARS } from "../../../core/question/record.ts";
import type { CsvRow } from "./csv-rows.ts";
import { readDate } from "./date-column.ts";
import { type Mapping, plainHeader } from "./mapping.ts";

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
}

export interface ReadRow {
  row: number;
  vehicle: string;
  particulars: VehicleParticulars;
  /** Null for a row without an event. */
  entry: ChargeEntryInput | null;
  mends: Mend[];
  faults: CellFault[];
}

export interface RowContext {
  mapping: Mapping;
  /** The last day that an event can have, `YYYY-MM-DD`. */
  today: string;
  /** A can's net weight for a vehicle whose refrigerant is unknown; null: by refrigerant. */
  can_net_g: number | null;
}

/** Reads one row and reports all of its faults at once; a row with a fault is rejected whole. */
export function readRow(csv: CsvRow, context: RowContext): ReadRow {
  const cells = new RowCells(csv, context);
  const vehicle = cells.text("vehicle", MAX_LABEL_CHARS) ?? "";
  if (vehicle === "" && cells.faults.length === 0) cells.refuse("vehicle", "Add the vehicle's name.");
  const particulars = readParticulars(cells);
  const entry = readEntry(cells, context, particulars.refrigerant);
  if (csv.fault !== null)
    cells.faults.unshift({ field: null, cell: csv.cells.join(" ").slice(0, 200), why: csv.fault });
  return { row: csv.row, vehicle, particulars, entry, mends: cells.mends, faults: cells.faults };
}

function readParticulars(cells: RowCells): VehicleParticulars {
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

/** The event of a row; null without one, or where it is rejected. */
function readEntry(
  cells: RowCells,
  { mapping, today }: RowContext,
  refrigerant: RefrigerantId | null,
): ChargeEntryInput | null {
  const event = {
    cooling: cells.word("cooling", cellWords.cooling),
    recovered_g: cells.mass("recovered", refrigerant),
    added_g: cells.mass("added", refrigerant),
    added_by: cells.word("added_by", cellWords.added_by),
    finish: cells.word("finish", cellWords.finish),
    repair: cells.word("repair", cellWords.repair),
    dye: cells.word("dye", cellWords.yes_no) === "yes" ? ("added" as const) : null,
  };
  const note = cells.text("note", MAX_REMARK_CHARS);
  const { added_by, ...seen_or_done } = event;
  const said = [...Object.values(seen_or_done), note].some((value) => value !== null);
  const date = readDay(cells, mapping, today);
  if (cells.of("date") === "" && said) cells.refuse("date", "Add the date.");
  if (date !== null && !said && cells.faults.length === 0)
    cells.mend("date", "nothing beside it was seen or done, so no event was made of it");
  return date !== null && said ? { date, ...event, note } : null;
}

function readDay(cells: RowCells, { date_order }: Mapping, today: string): string | null {
  const cell = cells.of("date");
  if (cell === "") return null;
  const read = readDate(cell, date_order, today);
  if (!read.ok) return cells.refuse("date", read.message);
  if (read.iso < requestBounds.log.first_date) return cells.refuse("date", `Before ${requestBounds.log.first_date}.`);
  for (const how of read.mends) cells.mend("date", how);
  return read.iso;
}

/** A cell without the apostrophe with which our own export keeps it from running as a formula. */
const GUARDED = /^'(?=\s*[=+\-@\t\r\n＝＋－＠])/u;

/** Reads the cells of a row by field, and collects corrections and rejections. */
class RowCells {
  readonly mends: Mend[] = [];
  readonly faults: CellFault[] = [];
  readonly #row: CsvRow;
  readonly #context: RowContext;

  constructor(row: CsvRow, context: RowContext) {
    this.#row = row;
    this.#context = context;
  }

  /** The trimmed text of the cell; empty where the column is missing. */
  of(field: FleetField): string {
    const at = this.#context.mapping.columns[field];
    return at === undefined ? "" : (this.#row.cells[at] ?? "").trim().replace(GUARDED, "");
  }

  refuse(field: FleetField, why: string): null {
    this.faults.push({ field, cell: this.of(field), why });
    return null;
  }

  mend(field: FleetField, how: string): void {
    this.mends.push({ field, cell: this.of(field), how });
  }

  text(field: FleetField, most: number): string | null {
    const cell = this.of(field);
    if (cell === "") return null;
    return [...cell].length <= most ? cell : this.refuse(field, `Longer than ${most} characters.`);
  }

  word<T extends string>(field: FleetField, table: Readonly<Record<T, readonly string[]>>): T | null {
    const cell = this.of(field);
    if (cell === "") return null;
    const value = wordsOf(table).get(plainHeader(cell));
    if (value === undefined) return this.refuse(field, `Not one of ${Object.keys(table).join(", ")}.`);
    if (cell !== value) this.mend(field, `read as ${value}`);
    return value as T;
  }

  /**
   * Grams. A bare number is in the unit of its column; a can counts by the net weight that the file or the refrigerant
   * gives.
   */
  mass(field: MassField, refrigerant: RefrigerantId | null): number | null {
    const cell = this.of(field);
    if (cell === "") return null;
    const { mapping, can_net_g } = this.#context;
    const can = can_net_g ?? priceParameters.can_net_g.default[refrigerant ?? "R-134a"];
    const unit = mapping.units[field];
    const bare = /^[\d.,]+$/.test(cell);
    const typed = bare && unit !== undefined ? `${cell} ${unit}` : cell;
    const parsed = parseMass(typed, { system: "metric", can_net_g: can });
    if (!parsed.ok) return this.refuse(field, parsed.message);
    if (parsed.cans !== undefined)
      this.mend(field, `read as ${formatMass(parsed.grams, "metric")}, a can of ${formatMass(can, "metric")}`);
    return parsed.grams;
  }
}

/** What the column of a fault or mend is called. */
export function fieldLabel(field: FleetField | null): string {
  return field === null ? "Row" : fleetFields[field].label;
}

const words_of = new Map<object, ReadonlyMap<string, string>>();

function wordsOf(table: Readonly<Record<string, readonly string[]>>): ReadonlyMap<string, string> {
  let words = words_of.get(table);
  if (words === undefined) {
    words = new Map(Object.entries(table).flatMap(([value, names]) => names.map((name) => [name, value] as const)));
    words_of.set(table, words);
  }
  return words;
}
