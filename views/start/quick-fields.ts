import { CLIMATES } from "../../data/climates.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import { LOCATION_IDS, type LocationId } from "../../src/core/question/contract.ts";
import type { Choice, ChoiceGroup } from "../parts/field.tsx";
import { PLACE_NAMES } from "../words/places.ts";

/** A line of the charge log as it was typed. */
export interface LogLineFields {
  when: string;
  did: string;
  amount: string;
  cooled: string;
}

/** What is supposed beside the answer, as it was typed. */
export interface WhatIfFields {
  keep: string;
  service: string;
  place: string;
  quote: string;
  carbon: string;
  floor: string;
}

/** The quick question as it was typed; every text comes back as it was. */
export interface QuickFields extends WhatIfFields {
  as_of: string;
  units: UnitSystem;
  refrigerant: string;
  nameplate: string;
  climate: string;
  /** Where the vehicle is, for its local rules. */
  where: string;
  lines: readonly LogLineFields[];
  /** How it cools on the day of the question. */
  today: string;
  tools: boolean;
  /** What readings said, and what they found; empty where none were taken. */
  says: string;
  found: string;
  /** What the vehicle is to be called when it is kept. */
  label: string;
}

export const BLANK_LINE: LogLineFields = { when: "", did: "cans", amount: "", cooled: "" };

/** A line that says nothing is passed over. */
export function isBlank(line: LogLineFields): boolean {
  return line.when.trim() === "" && line.amount.trim() === "" && line.cooled === "";
}

/** What can have been done on a line of the log; `repair-` with a place is a repair there. */
export type Deed =
  | "cans"
  | "cans-low-side"
  | "cans-gauges"
  | "scale"
  | "weighed"
  | "recovered"
  | "looked"
  | `repair-${LocationId}`;

export const DEED_CHOICES: readonly ChoiceGroup[] = [
  {
    group: "Topped off",
    choices: [
      { value: "cans", label: "Topped off from cans" },
      { value: "cans-low-side", label: "Cans, by a low-side gauge" },
      { value: "cans-gauges", label: "Cans, by a two-gauge set" },
      { value: "scale", label: "Topped off by scale" },
    ] satisfies { value: Deed; label: string }[],
  },
  {
    group: "Charged full by weight",
    choices: [
      { value: "weighed", label: "Charged full, or new" },
      { value: "recovered", label: "Amount recovered, then full" },
    ] satisfies { value: Deed; label: string }[],
  },
  {
    group: "Repaired, then charged full",
    choices: LOCATION_IDS.map((id) => ({
      value: `repair-${id}` satisfies Deed,
      label: `Repair: ${PLACE_NAMES[id].name}`,
    })),
  },
  { group: "Nothing added", choices: [{ value: "looked" satisfies Deed, label: "Only looked" }] },
];

export const COOLED_CHOICES: readonly Choice[] = [
  { value: "", label: "Not known" },
  { value: "ok", label: "Well" },
  { value: "weak", label: "Weakly" },
  { value: "short-cycling", label: "Rapid on and off" },
  { value: "empty", label: "No pressure left" },
];

export const CLIMATE_CHOICES: readonly Choice[] = [
  { value: "", label: "Not known: count all months alike" },
  ...CLIMATES.map(({ id, name }) => ({ value: id, label: name })),
];

export const SERVICE_CHOICES: readonly Choice[] = [
  { value: "diy", label: "I do, from cans" },
  { value: "shop", label: "A shop" },
];

export const UNIT_CHOICES: readonly Choice[] = [
  { value: "us", label: "oz, lb" },
  { value: "metric", label: "g, kg" },
];

export const PLACE_CHOICES: readonly Choice[] = [
  { value: "", label: "Not known" },
  ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
];

const FLOORS_MONTHS = [0, 3, 6, 9, 12];

/** Spells that a full charge must last, with the one that is set among them. */
export function floorChoices(set: string): Choice[] {
  const own = Number(set);
  const months = FLOORS_MONTHS.includes(own) || !(own >= 0) ? FLOORS_MONTHS : [...FLOORS_MONTHS, own];
  return months
    .toSorted((a, b) => a - b)
    .map((value) => ({ value: String(value), label: value === 0 ? "No limit" : `${value} months` }));
}

/** Ids of the inputs of line `i`, as an error summary links to them. */
export function lineFieldId(part: keyof LogLineFields, i: number): string {
  return `${part}-${i + 1}`;
}
