import type { FindingId } from "../../src/core/readings/readings-contract.ts";

export interface FindingWords {
  /** As a heading. */
  name: string;
  /** After "most likely", and in lists. */
  as: string;
  /** As a noun in a list. */
  noun: string;
  /** What it means for the one with the gauges. */
  means: string;
  /** What to check or do next. */
  check: string;
}

export const FINDING_WORDS: Readonly<Record<FindingId, FindingWords>> = {
  "low-charge": {
    name: "Low charge",
    as: "it is low on refrigerant",
    noun: "low charge",
    means: "Some liquid is left, but too little for the evaporator.",
    check: "Before you add any, calculate from the charge log how much is missing. Add by weight.",
  },
  "nearly-empty": {
    name: "Nearly empty",
    as: "it is nearly empty",
    noun: "a nearly empty system",
    means: "No liquid is left, only vapor and perhaps air.",
    check: "Don't top it off. Have the leak found, the system evacuated, and charged by weight.",
  },
  overcharge: {
    name: "Overcharge",
    as: "it is overcharged",
    noun: "an overcharge",
    means: "Too much refrigerant: liquid backs up into the condenser.",
    check:
      "Don't add any. Have a shop recover the charge, weigh it, and charge to the nameplate. Never vent it yourself.",
  },
  air: {
    name: "Air in the system",
    as: "there is air in it",
    noun: "air in the system",
    means: "Air does not condense, so its pressure adds to the refrigerant's.",
    check:
      "Have a shop test the gas with an identifier first, then recover, evacuate, and charge by weight. Purge hoses before every top-off.",
  },
  airflow: {
    name: "Poor airflow over the condenser",
    as: "too little air moves over the condenser",
    noun: "poor airflow over the condenser",
    means: "Heat cannot leave at the front, worst at idle.",
    check:
      "Check that the fan starts with the air conditioning; look for dirt, leaves, bent fins and missing air guides. Turn the engine off and pull the fan fuse before you reach near the fan. It can start by itself, even with the engine off.",
  },
  "not-pumping": {
    name: "Compressor not pumping",
    as: "the compressor is not pumping",
    noun: "a compressor that doesn't pump",
    means: "Both pressures stay about equal: the compressor is not turning, not switched on, or worn out.",
    check:
      "See whether the clutch engages and turns. Then check fuse, relay, switches and control. Never bridge the low-pressure switch. A noisy compressor sheds metal: have it looked at before it ruins the rest.",
  },
  restriction: {
    name: "Restriction",
    as: "something blocks the flow",
    noun: "a restriction",
    means: "Something blocks the flow: the expansion valve or orifice tube, the drier, ice, or a crushed line.",
    check:
      "Look for a sudden change from warm to cold along the line, or frost on the drier. Don't touch frost with bare hands. The repair needs recovery: a shop.",
  },
  "valve-open": {
    name: "Expansion valve stuck open",
    as: "the expansion valve is stuck open",
    noun: "a valve stuck open",
    means: "Too much liquid goes through the evaporator and comes back to the compressor.",
    check:
      "See whether the valve's sensing bulb touches the suction line and is insulated. A new valve needs recovery: a shop.",
  },
  "evaporator-airflow": {
    name: "Poor airflow over the evaporator, or ice",
    as: "too little air moves over the evaporator, or it is iced",
    noun: "an iced or starved-of-air evaporator",
    means: "Little heat reaches the evaporator, so both pressures drop although the charge is right.",
    check:
      "Check the cabin filter and all blower speeds. If it blows less and less air, switch the air conditioning off, let the ice melt with the fan on, and look at the freeze control.",
  },
  mixed: {
    name: "Wrong or mixed refrigerant",
    as: "it holds the wrong refrigerant, or a mixture",
    noun: "wrong or mixed refrigerant",
    means: "Another refrigerant presses differently at the same temperature, so no gauge reading fits.",
    check:
      "Add nothing and connect no recovery machine: it would spread. Have a shop test the gas with an identifier, then recover it into a cylinder of its own. A hydrocarbon can burn: no flame or spark.",
  },
  normal: {
    name: "Reads normal",
    as: "the refrigerant side is fine",
    noun: "a normal system",
    means: "Pressures and temperatures are those of a well-charged system.",
    check: "If it still cools poorly: check cabin filter, blend door, heater valve, fan speed and recirculation.",
  },
};
