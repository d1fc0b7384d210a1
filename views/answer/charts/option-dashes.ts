import type { OptionId } from "../../../src/core/question/contract.ts";

/** The line of each option, the same in every chart and key, so that none is told by colour alone. */
export const OPTION_DASHES: Readonly<Record<OptionId, readonly number[]>> = {
  repair: [],
  "dye-test": [2, 4],
  "electronic-test": [8, 3, 2, 3],
  "top-off": [10, 4],
  "live-without": [1, 7],
};

/** What a line is called at its end, where there is little room. */
export const OPTION_SHORT: Readonly<Record<OptionId, string>> = {
  repair: "repair",
  "dye-test": "dye test",
  "electronic-test": "electronic test",
  "top-off": "top off",
  "live-without": "go without",
};
