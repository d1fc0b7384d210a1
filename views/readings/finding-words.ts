import type { FindingId } from "../../src/core/readings/contract.ts";

export interface FindingWords {
  /** As a heading. */
  name: string;
  /** After "most likely", and in lists. */
  as: string;
  /** What it means for the one with the gauges. */
  means: string;
  /** What to check or do next. */
  check: string;
}

export const FINDING_WORDS: Readonly<Record<FindingId, FindingWords>> = {
  "low-charge": {
    name: "Low charge",
    as: "it is low on charge",
    means: "Liquid is still there, too little for the evaporator.",
    check: "Work out how much is missing from the charge log before anything is added, and add by weight.",
  },
  "nearly-empty": {
    name: "Nearly empty",
    as: "it is nearly empty",
    means: "No liquid is left. What is in there is vapor, and perhaps air.",
    check: "Do not fill on top of it: have the leak found, the system evacuated, and charged by weight.",
  },
  overcharge: {
    name: "Overcharge",
    as: "it is overcharged",
    means: "Too much refrigerant: liquid backs up into the condenser.",
    check:
      "Add nothing. Have a shop recover the charge, weigh it, and charge to the nameplate. Never let it out yourself.",
  },
  air: {
    name: "Air in the system",
    as: "there is air in it",
    means: "Air does not condense; its pressure comes on top.",
    check: "Have a shop recover the charge, evacuate, and charge by weight. Purge hoses before every top-off.",
  },
  airflow: {
    name: "Poor airflow over the condenser",
    as: "too little air moves over the condenser",
    means: "The heat cannot get out at the front, at idle above all.",
    check:
      "Look at the fan (does it start with the air conditioning?), at dirt, leaves and bent fins, at missing air guides. Engine off before a hand goes near a fan: it starts by itself.",
  },
  "not-pumping": {
    name: "Compressor not pumping",
    as: "the compressor is not pumping",
    means: "The sides stay equal, or nearly: it is not driven, not switched on, or worn.",
    check:
      "See whether the clutch engages and turns; then fuse, relay, switches and control. Never bridge the low-pressure switch. A noisy compressor sheds metal: have it looked at before it ruins the rest.",
  },
  restriction: {
    name: "Restriction",
    as: "something blocks the flow",
    means: "The compressor sucks against a closed door: expansion device, drier, ice from moisture, a crushed pipe.",
    check:
      "Feel for a sudden change of cold along the pipe, not with bare hands on frost. It is a repair with recovery: a shop.",
  },
  normal: {
    name: "Reads normal",
    as: "the refrigerant side is sound",
    means: "Pressures and temperatures are those of a well-charged system.",
    check: "If it still cools weakly: cabin filter, blend door, heater valve, fan speed, air drawn in from outside.",
  },
};
