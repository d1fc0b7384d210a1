import { CLIMATES } from "../../data/climates.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import { LOCATION_IDS, type LocationId, REFRIGERANTS } from "../../src/core/question/contract.ts";
import { type Choice, type ChoiceGroup, choicesOf } from "../parts/field.tsx";
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
  /** A refrigerant, or `UNSURE`. */
  refrigerant: string;
  /** Whether the compressor is driven by high voltage (hybrid or electric): `yes`, `no`, or empty for not sure. */
  electric: string;
  /** A mass, or words for not knowing it. */
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
  /** Whether these are the sample's entries, or came from them: the page says so until the sample is left. */
  example: boolean;
}

/** In place of a refrigerant. */
export const UNSURE = "unsure";

/** What the button for an unknown nameplate charge writes. */
export const NAMEPLATE_UNKNOWN = "don't know";

export const REFRIGERANT_CHOICES: readonly Choice[] = [
  { value: UNSURE, label: "Not sure" },
  ...REFRIGERANTS.map((id) => ({ value: id, label: id })),
];

export const ELECTRIC_CHOICES: readonly Choice[] = choicesOf({ "": "Not sure", no: "No", yes: "Yes" });

export const BLANK_LINE: LogLineFields = { when: "", did: "cans", amount: "", cooled: "" };

/** A line that says nothing is passed over. */
export function isBlank(line: LogLineFields): boolean {
  return line.when.trim() === "" && line.amount.trim() === "" && line.cooled === "";
}

/** What can have been done on a line of the log; `repair-` with a place is a repair there. */
export type Did =
  | "cans"
  | "cans-low-side"
  | "cans-gauges"
  | "scale"
  | "weighed"
  | "recovered"
  | "looked"
  | `repair-${LocationId}`;

export const DID_CHOICES: readonly ChoiceGroup[] = [
  {
    group: "Topped off",
    choices: [
      { value: "cans", label: "Cans added" },
      { value: "cans-low-side", label: "Cans, with a low-side gauge" },
      { value: "cans-gauges", label: "Cans, with manifold gauges" },
      { value: "scale", label: "Weighed on a scale" },
    ] satisfies { value: Did; label: string }[],
  },
  {
    group: "Recharged by a shop",
    choices: [
      { value: "weighed", label: "Recharged full by weight, or new" },
      { value: "recovered", label: "Recovered, then recharged full" },
    ] satisfies { value: Did; label: string }[],
  },
  {
    group: "Repaired, then recharged",
    choices: LOCATION_IDS.map((id) => ({
      value: `repair-${id}` satisfies Did,
      label: `Repair: ${PLACE_NAMES[id].name}`,
    })),
  },
  { group: "Nothing added", choices: [{ value: "looked" satisfies Did, label: "Checked only" }] },
];

export const CLIMATE_CHOICES: readonly Choice[] = [
  { value: "", label: "Don't know (every month counts the same)" },
  ...CLIMATES.map(({ id, name }) => ({ value: id, label: name })),
];

export const SERVICE_CHOICES: readonly Choice[] = choicesOf({ diy: "I do, from cans", shop: "A shop" });

export const UNIT_CHOICES: readonly Choice[] = choicesOf({ us: "oz, lb", metric: "g, kg" });

export const PLACE_CHOICES: readonly Choice[] = [
  { value: "", label: "Don't know" },
  ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
];

const FLOORS_MONTHS = [0, 3, 6, 9, 12];

/** Spells that a full charge must last, with the one that is set among them. */
export function floorChoices(set: string): Choice[] {
  const own = Number(set);
  const months = FLOORS_MONTHS.includes(own) || !(own >= 0) ? FLOORS_MONTHS : [...FLOORS_MONTHS, own];
  return months
    .toSorted((a, b) => a - b)
    .map((value) => ({ value: String(value), label: value === 0 ? "No minimum" : `${value} months` }));
}

/** Ids of the inputs of line `i`, as an error summary links to them. */
export function lineFieldId(part: keyof LogLineFields, i: number): string {
  return `${part}-${i + 1}`;
}
