import type { LocationId } from "../src/core/question/contract.ts";
import type { LineKind } from "../src/core/quotes/quote.ts";

/** Words that a new quote begins with; a shop changes them to its own. `{repair}` stands for what is repaired. */

export const LINE_KIND_NAMES: Readonly<Record<LineKind, string>> = {
  labor: "Labor",
  parts: "Parts",
  refrigerant: "Refrigerant",
  service: "Service",
  test: "Leak test",
  supplies: "Supplies",
  credit: "Credit",
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
    repair: "Repair the service ports",
    labor: "Replace the valve cores and caps of the service ports",
    parts: "Valve cores and sealing caps",
  },
  joint: {
    repair: "Reseal the leaking joint",
    labor: "Open the leaking joint and renew its O-ring",
    parts: "O-rings and oil",
  },
  hose: {
    repair: "Replace the leaking hose",
    labor: "Replace the leaking hose",
    parts: "Hose and O-rings",
  },
  condenser: {
    repair: "Replace the condenser",
    labor: "Replace the condenser",
    parts: "Condenser, drier, O-rings and oil",
  },
  evaporator: {
    repair: "Replace the evaporator",
    labor: "Open the dash and replace the evaporator",
    parts: "Evaporator, expansion valve, O-rings and oil",
  },
  compressor: {
    repair: "Replace the compressor",
    labor: "Replace the compressor",
    parts: "Compressor, drier, O-rings and oil",
  },
};

export const LINE_WORDS = {
  recover: "Recover the refrigerant",
  evacuate: "Evacuate, and check that it holds the vacuum",
  service_extra: "Machine for",
  charge: "Charge by weight",
  refrigerant_full: "full charge by weight",
  refrigerant_missing: "what is missing",
  dye: "Dye with the charge",
  dye_inspection: "Look for the dye, in about five weeks",
  electronic: "Search for the leak with a detector",
  supplies: "Shop supplies",
  diagnosis: "Diagnosis",
  minimum: "Minimum charge",
} as const;

interface OptionWords {
  title: string;
  words: string;
  not_covered: string;
}

export const OPTION_WORDS = {
  recharge: {
    title: "Recharge now",
    words:
      "We recover what is left, check that the system holds a vacuum, and charge it full by weight. It will cool well again. The leak is still there, so it will get low again.",
    not_covered: "Finding and repairing the leak.",
  },
  electronic: {
    title: "Find the leak first",
    words:
      "We search the whole system with a leak detector. Then you know what the repair would cost before you decide. Nothing is repaired or recharged yet.",
    not_covered: "The repair and the recharge.",
  },
  dye: {
    title: "Find the leak with dye",
    words:
      "We put dye in with the refrigerant. After about five weeks we look with a lamp where it has come out. Then you know what the repair would cost before you decide.",
    not_covered: "The repair.",
  },
  repair: {
    title: "{repair}",
    words:
      "We take out the refrigerant, repair this place, check that the system holds a vacuum, and charge it full by weight.",
    not_covered: "A leak at another place.",
  },
  port: {
    title: "{repair}",
    words: "We replace the valve cores with the system under pressure, and add by weight what is missing.",
    not_covered: "A leak at another place.",
  },
  found: {
    title: "Find the leak and repair it",
    words:
      "We find the leak, repair it, and charge the system full by weight, in one visit. What it costs depends on where it leaks; the places and their totals are listed below. We ask you before we begin.",
    not_covered: "A second leak.",
  },
  diagnosis: {
    title: "Find out what is wrong",
    words:
      "It may not be low on refrigerant. We take gauge readings, check the compressor, its clutch and drive, the fans, the condenser and the expansion valve, and tell you what it is and what putting it right would cost.",
    not_covered: "Putting it right.",
  },
  own: {
    title: "Another way",
    words: "",
    not_covered: "",
  },
} as const satisfies Record<string, OptionWords>;
