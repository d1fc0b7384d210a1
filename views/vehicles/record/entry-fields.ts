import { LOCATION_IDS } from "../../../src/core/question/contract.ts";
import { type Choice, choicesOf } from "../../parts/field.tsx";
import { COOLED_CHOICES } from "../../words/cooled.ts";
import { PLACE_NAMES } from "../../words/places.ts";

/** How fields were read, beside each; null where there is nothing to say. */
export interface ReadBack {
  when: string | null;
  added: string | null;
  recovered: string | null;
}

/** An entry of the charge log as it was typed. */
export interface EntryFields {
  /** What was done: decides which of the other fields are asked. Empty: all of them count. */
  what: string;
  when: string;
  cooling: string;
  recovered: string;
  repair: string;
  added: string;
  /** Weight of the cans before and after, by kitchen scale: both given, their difference is what was added. */
  can_before: string;
  can_after: string;
  added_by: string;
  finish: string;
  /** Empty, or that dye was added. */
  dye: string;
  /** How it cooled afterwards. */
  after: string;
  cans: string;
  deposit: string;
  return_by: string;
  note: string;
}

export const COOLING_CHOICES: readonly Choice[] = COOLED_CHOICES;

export const WHAT = ["looked", "topped-off", "recharged", "repaired"] as const;
export type What = (typeof WHAT)[number];

export const WHAT_CHOICES: readonly (Choice & { value: What })[] = choicesOf({
  looked: "Just checked how it cools",
  "topped-off": "Topped off",
  recharged: "Shop recharge: emptied and filled by weight",
  repaired: "Repair",
});

export const REPAIR_CHOICES: readonly Choice[] = [
  { value: "", label: "Choose a location" },
  ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
];

export const ADDED_BY_CHOICES: readonly Choice[] = choicesOf({ cans: "Cans", scale: "A scale" });

export const FINISH_CHOICES: readonly Choice[] = choicesOf({
  "": "Not filled, or don't know",
  unknown: "By feel",
  "low-side": "Low-side gauge",
  gauges: "Manifold gauges",
  weighed: "By weight (evacuated, then charged full)",
});
