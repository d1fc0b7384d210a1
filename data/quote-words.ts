import type { LocationId } from "../src/core/question/contract.ts";
import type { LineKind } from "../src/core/quotes/quote.ts";
import { CUSTOMER_WORDS, type CustomerWord } from "./customer-words.ts";

/**
 * Words that a new quote begins with, in the language of the shop's own pages; a shop changes them to its own. What
 * stays as it is here goes out in the customer's language.
 */

const said = (key: CustomerWord) => CUSTOMER_WORDS[key].en;

export const LINE_KIND_NAMES: Readonly<Record<LineKind, string>> = {
  labor: said("kind.labor"),
  parts: said("kind.parts"),
  refrigerant: said("kind.refrigerant"),
  service: said("kind.service"),
  test: said("kind.test"),
  supplies: said("kind.supplies"),
  credit: said("kind.credit"),
};

interface PlaceWords {
  /** As a heading. */
  repair: string;
  /** What is done, on the labor line. */
  labor: string;
  /** What goes in, on the parts line. */
  parts: string;
}

export const PLACE_WORDS: Readonly<Record<LocationId, PlaceWords>> = {
  "service-port": {
    repair: said("repair.service-port"),
    labor: said("labor.service-port"),
    parts: said("parts.service-port"),
  },
  joint: { repair: said("repair.joint"), labor: said("labor.joint"), parts: said("parts.joint") },
  hose: { repair: said("repair.hose"), labor: said("repair.hose"), parts: said("parts.hose") },
  condenser: { repair: said("repair.condenser"), labor: said("repair.condenser"), parts: said("parts.condenser") },
  evaporator: { repair: said("repair.evaporator"), labor: said("labor.evaporator"), parts: said("parts.evaporator") },
  compressor: { repair: said("repair.compressor"), labor: said("repair.compressor"), parts: said("parts.compressor") },
};

export const LINE_WORDS = {
  recover: said("line.recover"),
  evacuate: said("line.evacuate"),
  service_extra: said("line.service-extra"),
  charge: said("line.charge"),
  refrigerant_full: said("line.refrigerant-full"),
  refrigerant_missing: said("line.refrigerant-missing"),
  refrigerant_returned: said("line.refrigerant-returned"),
  dye: said("line.dye"),
  dye_inspection: said("line.dye-inspection"),
  electronic: said("line.electronic"),
  supplies: said("line.supplies"),
  diagnosis: said("line.diagnosis"),
  minimum: said("line.minimum"),
} as const;

interface OptionWords {
  title: string;
  words: string;
  not_covered: string;
}

const optionWords = (id: "recharge" | "electronic" | "dye" | "found" | "diagnosis"): OptionWords => ({
  title: said(`option.${id}.title`),
  words: said(`option.${id}.words`),
  not_covered: said(`option.${id}.not-covered`),
});

/** `{repair}` stands for what is repaired. */
export const OPTION_WORDS = {
  recharge: optionWords("recharge"),
  electronic: optionWords("electronic"),
  dye: optionWords("dye"),
  repair: { title: "{repair}", words: said("option.repair.words"), not_covered: said("option.repair.not-covered") },
  port: { title: "{repair}", words: said("option.port.words"), not_covered: said("option.repair.not-covered") },
  found: optionWords("found"),
  diagnosis: optionWords("diagnosis"),
  own: { title: said("option.own.title"), words: "", not_covered: "" },
} as const satisfies Record<string, OptionWords>;
