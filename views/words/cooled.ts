import { COOLING, type Cooling } from "../../src/core/question/contract.ts";
import { capitalized } from "./in-sentence.ts";

/** How it cooled, as a word after "cooled". */
export const COOLED_WORDS: Readonly<Record<Cooling, string>> = {
  ok: "well",
  weak: "poorly",
  "short-cycling": "short-cycling",
  empty: "no pressure left",
};

/** How it cooled, as an answer that stands alone. */
export function cooledAnswer(cooling: Cooling): string {
  return capitalized(COOLED_WORDS[cooling]);
}

/** The answers to "How did it cool?", for a form. */
export const COOLED_CHOICES: readonly { value: string; label: string }[] = [
  { value: "", label: "Don't know" },
  ...COOLING.map((value) => ({
    value,
    label: cooledAnswer(value) + (value === "short-cycling" ? " (on and off every few seconds)" : ""),
  })),
];
