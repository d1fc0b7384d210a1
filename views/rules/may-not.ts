import type { OptionId, Service } from "../../src/core/question/contract.ts";

/** Whom a rule binds, as the one who does it. */
export const WHO: Readonly<Record<Service, string>> = { diy: "You (your own vehicle)", shop: "A shop" };

/** What a bar forbids, as a verb after "may not". */
export const MAY_NOT: Readonly<Record<OptionId, string>> = {
  repair: "repair it",
  "dye-test": "do a dye test that starts with a top-off",
  "electronic-test": "do an electronic test",
  "top-off": "top it off",
  "live-without": "leave it as it is",
};
