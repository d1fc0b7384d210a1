import {
  type ColumnUnit,
  EVENT_FIELDS,
  FLEET_FIELDS,
  type FleetField,
  fleetFields,
  MASS_COLUMN_UNITS,
  type MassColumnUnit,
} from "../../../../data/fleet-format.ts";

import { distanceUnitOf } from "../../../core/quantities/distance.ts";

/** What the words of a header mean. */

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

const UNIT_WORDS: Readonly<Record<string, MassColumnUnit>> = {
  ...Object.fromEntries(MASS_COLUMN_UNITS.map((unit) => [unit, unit])),
  gram: "g",
  grams: "g",
  gr: "g",
  ounce: "oz",
  ounces: "oz",
  lbs: "lb",
  pound: "lb",
  pounds: "lb",
  kilo: "kg",
  kilos: "kg",
};

/** The unit that a cell or the last word of a header names; null for none. */
export function unitOfWord(word: string): MassColumnUnit | null {
  return UNIT_WORDS[plainHeader(word)] ?? null;
}

/** The unit that a header ends with: `Added (oz)`, `Odometer km`; null where it names none. */
export function unitOfHeader(header: string): ColumnUnit | null {
  return unitNamed(plainHeader(header).split(" ").at(-1) ?? "");
}

function unitNamed(word: string): ColumnUnit | null {
  return UNIT_WORDS[word] ?? distanceUnitOf(word);
}

export interface MeantField {
  field: FleetField;
  /** The number in the header of a repeated event: 2 for `Charge 2 date`; null without one. */
  set: number | null;
}

const FIELD_OF_HEADER: ReadonlyMap<string, FleetField> = new Map(
  FLEET_FIELDS.flatMap((field) => fleetFields[field].headers.map((header) => [header, field] as const)),
);
/** Words that mean the amount only where charges are numbered: `charge 2` beside `charge 2 date`. */
const AMOUNTS_OF_SETS = new Set(["charge", "recharge", "topoff", "top off", "fill", "service"]);

/** A longer header is a sentence; a number in it does not number a set of columns. */
const MAX_NUMBERED_CHARS = 100;

/** What a header means by itself; null for what it does not say. */
export function fieldOfHeader(header: string): MeantField | null {
  const words = plainHeader(header);
  const field = fieldOfWords(words);
  if (field !== null) return { field, set: null };
  if (words.length > MAX_NUMBERED_CHARS) return null;
  const numbered = /^(.*?) ?\b(\d{1,2})(?:st|nd|rd|th)?\b ?(.*)$/.exec(words.replace(/([a-z])(\d{1,2})$/, "$1 $2"));
  if (numbered === null) return null;
  const [, before, number, after] = numbered;
  const rest = `${before} ${after}`.trim();
  const of_set = AMOUNTS_OF_SETS.has(withoutUnit(rest))
    ? "added"
    : (fieldOfWords(rest) ?? fieldOfWords(withoutEvent(rest)));
  if (of_set === null || !(EVENT_FIELDS as readonly FleetField[]).includes(of_set)) return null;
  return { field: of_set, set: Number(number) };
}

function fieldOfWords(words: string): FleetField | null {
  return FIELD_OF_HEADER.get(words) ?? FIELD_OF_HEADER.get(withoutUnit(words)) ?? null;
}

/** `charge date` is `date`. */
function withoutEvent(words: string): string {
  return words.replace(/^(charge|recharge|topoff|top off|fill|service|visit) /, "");
}

function withoutUnit(words: string): string {
  const at = words.lastIndexOf(" ");
  return at > 0 && unitNamed(words.slice(at + 1)) !== null ? words.slice(0, at).replace(/ in$/, "") : words;
}
