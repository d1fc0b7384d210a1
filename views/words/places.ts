import type { LocationId, OptionId } from "../../src/core/question/contract.ts";

/** A location where it may leak, as it stands alone and inside a sentence ("at …"). */
export const PLACE_NAMES: Readonly<Record<LocationId, { name: string; at: string }>> = {
  "service-port": { name: "Service port", at: "a service port" },
  joint: { name: "Joint (O-ring)", at: "a joint" },
  hose: { name: "Hose", at: "a hose" },
  condenser: { name: "Condenser", at: "the condenser" },
  evaporator: { name: "Evaporator", at: "the evaporator" },
  compressor: { name: "Compressor", at: "the compressor" },
};

/** What can be done, as a heading and as a verb inside a sentence. */
export const OPTION_NAMES: Readonly<Record<OptionId, { name: string; doing: string }>> = {
  repair: { name: "Repair it", doing: "repairing it" },
  "dye-test": { name: "Dye test first", doing: "a dye test first" },
  "electronic-test": { name: "Electronic leak test first", doing: "an electronic leak test first" },
  "top-off": { name: "Top it off", doing: "topping it off" },
  "live-without": { name: "Go without it", doing: "going without it" },
};
