import { PLACE_WORDS } from "../../data/quote-words.ts";
import { LOCATION_IDS } from "../../src/core/question/contract.ts";
import type { OptionWork } from "../../src/core/quotes/quote.ts";

export interface WorkChoice {
  value: string;
  label: string;
  work: OptionWork;
}

/** What an option that is added to a quote can be. */
export const WORK_CHOICES: readonly WorkChoice[] = [
  { value: "recharge", label: "Recharge now", work: { recharge: true, test: null, repair: null } },
  {
    value: "electronic",
    label: "Find the leak with a detector",
    work: { recharge: false, test: "electronic", repair: null },
  },
  { value: "dye", label: "Put dye in, look later", work: { recharge: false, test: "dye", repair: null } },
  {
    value: "recharge-electronic",
    label: "Recharge, and find the leak with a detector",
    work: { recharge: true, test: "electronic", repair: null },
  },
  {
    value: "recharge-dye",
    label: "Recharge with dye, look later",
    work: { recharge: true, test: "dye", repair: null },
  },
  ...LOCATION_IDS.map((id) => ({
    value: `repair-${id}`,
    label: PLACE_WORDS[id].repair,
    work: { recharge: false, test: null, repair: id } as const,
  })),
  {
    value: "found",
    label: "Find the leak and repair it",
    work: { recharge: false, test: "electronic", repair: "found" },
  },
  { value: "own", label: "Something else, priced by hand", work: { recharge: false, test: null, repair: null } },
];
