import { cellWords, type FleetField, fleetFields, type MassField } from "../../../../data/fleet-format.ts";
import { priceParameters, requestBounds } from "../../../../data/parameters.ts";
import { formatMass } from "../../../core/quantities/format.ts";
import { parseMass } from "../../../core/quantities/parse-mass.ts";
import type { RefrigerantId } from "../../../core/question/contract.ts";
import { type ChargeEntryInput, MAX_LABEL_CHARS, MAX_REMARK_CHARS } from "../../../core/question/record.ts";
import type { CsvRow } from "./csv-rows.ts";
import { readDate } from "./date-column.ts";
import { type Mapping, plainHeader } from "./mapping.ts";

/** One row of a file, read: what it says of its vehicle and of one charge event, and what had to be mended or refused. */

/** A cell that cannot be taken. `field` null: the row as a whole. */
export interface CellFault {
  field: FleetField | null;
  cell: string;
  why: string;
}

/** A cell that was read after all, and how. */
export interface Mend {
  field: FleetField;
  cell: string;
  how: string;
}

/** What rows say of a vehicle; null where they say nothing. */
export interface VehicleParticulars {
  refrigerant: RefrigerantId | null;
  nameplate_g: number | null;
  fleet_group: string | null;
  depot: string | null;
  electric_compressor: boolean | null;
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
  /** What a can holds where the vehicle's refrigerant is not said; null: by refrigerant. */
  can_net_g: number | null;
}

/** A cell that our own export guarded from being run as a formula: the apostrophe is no part of it. */
const GUARDED = /^'(?=\s*[=+\-@\t\r\n＝＋－＠])/u;

/** Reads one row. Everything that is wrong with it is told at once; a row with a fault is refused whole. */
export function readRow({ row, cells, fault }: CsvRow, { mapping, today, can_net_g }: RowContext): ReadRow {
  const mends: Mend[] = [];
  const faults: CellFault[] = [];
  const cellOf = (field: FleetField): string => {
    const at = mapping.columns[field];
    return at === undefined ? "" : (cells[at] ?? "").trim().replace(GUARDED, "");
  };
  const refuse = (field: FleetField, why: string) => faults.push({ field, cell: cellOf(field), why });
  const mend = (field: FleetField, how: string) => mends.push({ field, cell: cellOf(field), how });

  const text = (field: FleetField, most: number): string | null => {
    const cell = cellOf(field);
    if (cell === "") return null;
    if ([...cell].length <= most) return cell;
    refuse(field, `Longer than ${most} characters.`);
    return null;
  };
  const word = <T extends string>(field: FleetField, table: Readonly<Record<T, readonly string[]>>): T | null => {
    const cell = cellOf(field);
    if (cell === "") return null;
    const value = wordsOf(table).get(plainHeader(cell));
    if (value === undefined) {
      refuse(field, `Not one of ${Object.keys(table).join(", ")}.`);
      return null;
    }
    if (cell !== value) mend(field, `read as ${value}`);
    return value as T;
  };

  const vehicle = text("vehicle", MAX_LABEL_CHARS) ?? "";
  if (vehicle === "" && faults.length === 0)
    refuse("vehicle", "Empty: the row does not say which vehicle it is about.");
  const refrigerant = word("refrigerant", cellWords.refrigerant);
  const can = can_net_g ?? priceParameters.can_net_g.default[refrigerant ?? "R-134a"];
  const mass = (field: MassField): number | null => {
    const cell = cellOf(field);
    if (cell === "") return null;
    const unit = mapping.units[field];
    const bare = /^[\d.,]+$/.test(cell);
    const parsed = parseMass(bare && unit !== undefined ? `${cell} ${unit}` : cell, {
      system: "metric",
      can_net_g: can,
    });
    if (!parsed.ok) {
      refuse(field, parsed.message);
      return null;
    }
    if (parsed.cans !== undefined)
      mend(field, `read as ${formatMass(parsed.grams, "metric")}, a can of ${formatMass(can, "metric")}`);
    return parsed.grams;
  };

  const nameplate_g = mass("nameplate");
  const { min, max } = requestBounds.nameplate_g;
  if (nameplate_g !== null && !(nameplate_g >= min && nameplate_g <= max)) {
    refuse("nameplate", `Not between ${min} g and ${max / 1000} kg: is the unit right?`);
  }
  const electric = word("electric", cellWords.yes_no);
  const particulars: VehicleParticulars = {
    refrigerant,
    nameplate_g,
    fleet_group: text("group", MAX_LABEL_CHARS),
    depot: text("depot", MAX_LABEL_CHARS),
    electric_compressor: electric === null ? null : electric === "yes",
  };

  const event = {
    cooling: word("cooling", cellWords.cooling),
    recovered_g: mass("recovered"),
    added_g: mass("added"),
    added_by: word("added_by", cellWords.added_by),
    finish: word("finish", cellWords.finish),
    repair: word("repair", cellWords.repair),
    dye: word("dye", cellWords.yes_no) === "yes" ? ("added" as const) : null,
  };
  const note = text("note", MAX_REMARK_CHARS);
  const said = [event.cooling, event.recovered_g, event.added_g, event.finish, event.repair, event.dye, note].some(
    (value) => value !== null,
  );
  const date_cell = cellOf("date");
  let date: string | null = null;
  if (date_cell !== "") {
    const read = readDate(date_cell, mapping.date_order, today);
    if (!read.ok) refuse("date", read.message);
    else if (read.iso < requestBounds.log.first_date) refuse("date", `Before ${requestBounds.log.first_date}.`);
    else {
      date = read.iso;
      for (const how of read.mends) mend("date", how);
    }
  } else if (said) refuse("date", "Empty: when was this?");
  if (date !== null && !said && faults.length === 0) {
    mend("date", "nothing beside it was seen or done, so no event was made of it");
  }
  if (fault !== null) faults.unshift({ field: null, cell: cells.join(" ").slice(0, 200), why: fault });
  return { row, vehicle, particulars, entry: date !== null && said ? { date, ...event, note } : null, mends, faults };
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
