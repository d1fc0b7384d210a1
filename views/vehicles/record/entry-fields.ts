import { LOCATION_IDS } from "../../../src/core/question/contract.ts";
import type { Choice } from "../../parts/field.tsx";
import { COOLED_CHOICES } from "../../start/quick-fields.ts";
import { PLACE_NAMES } from "../../words/places.ts";

/** An entry of the charge log as it was typed. */
export interface EntryFields {
  when: string;
  cooling: string;
  recovered: string;
  repair: string;
  added: string;
  added_by: string;
  finish: string;
  /** Empty, or that dye went in. */
  dye: string;
  /** How it cooled when all was done. */
  after: string;
  cans: string;
  deposit: string;
  return_by: string;
  note: string;
}

export const COOLING_CHOICES: readonly Choice[] = COOLED_CHOICES;

export const REPAIR_CHOICES: readonly Choice[] = [
  { value: "", label: "None" },
  ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
];

export const ADDED_BY_CHOICES: readonly Choice[] = [
  { value: "cans", label: "Cans" },
  { value: "scale", label: "A scale" },
];

export const FINISH_CHOICES: readonly Choice[] = [
  { value: "", label: "Not filled, or not said" },
  { value: "unknown", label: "Nothing: by feel, or nobody knows" },
  { value: "low-side", label: "A low-side gauge" },
  { value: "gauges", label: "A two-gauge set" },
  { value: "weighed", label: "Weight: emptied, then charged full" },
];
