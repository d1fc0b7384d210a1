import { LEAK_TESTS } from "../../../data/tests.ts";
import { LOCATION_IDS, TESTS, type TestId } from "../../../src/core/question/contract.ts";
import { type Choice, choicesOf } from "../../parts/field.tsx";
import { PLACE_NAMES } from "../../words/places.ts";

/** A finding as it was typed. */
export interface FindingFields {
  when: string;
  test: string;
  location: string;
  result: string;
  note: string;
}

/** The free one first. */
const TEST_ORDER: readonly TestId[] = ["visual", ...TESTS.filter((id) => id !== "visual")];

export const TEST_CHOICES: readonly Choice[] = TEST_ORDER.map((id) => ({ value: id, label: LEAK_TESTS[id].name }));

export const FOUND_CHOICES: readonly Choice[] = [
  { value: "", label: "Choose a place" },
  ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
  { value: "anywhere", label: "Looked everywhere, nothing seen" },
];

export const RESULT_CHOICES: readonly Choice[] = choicesOf({ leak: "A leak", clean: "Clean" });
