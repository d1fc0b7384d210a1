import type { Compressor, FeatureId, FindingId, Metering } from "../src/core/readings/readings-contract.ts";
import { WORKING } from "./parameters.ts";

/**
 * How gauge and vent readings are judged. Each quantity falls into a band; the table says how often each band is seen
 * under each finding. Bayes' rule multiplies the rows as if readings were independent once the finding is known
 * ("naive Bayes"), so no row is ever near zero: one misread gauge must not settle the matter.
 *
 * The numbers are working assumptions of ours, set so that the patterns of the trade, two pressure charts (a generic
 * trade chart and a maker's of 2010) and one army table's high side come out as their authors read them. The patterns
 * themselves are common practice. Charts and fault tables that set nothing here are the tests: `test/published` says of
 * each table which it is.
 */

const PRACTICE = "common practice, no source";

export interface FindingPrior {
  readonly share: number;
  readonly label: string;
  readonly why: string;
  readonly source: string;
}

const FIELD_STUDY =
  "MACS field service study 2016 (shop estimates): 53 % of poor-cooling complaints are low charge, 23.5 % a failed component; the split within is a " +
  WORKING;

const CONTAMINATED =
  "MACS field study 2016: 8.6 % of cars held contaminated refrigerant, about half of it air and half another refrigerant";

/** What is believed of a system that cools poorly before anything is read. */
export const findingPriors: Readonly<Record<FindingId, FindingPrior>> = {
  "low-charge": {
    share: 0.43,
    label: "Low charge",
    why: "The commonest cause of poor cooling; most of the 53 %.",
    source: FIELD_STUDY,
  },
  "nearly-empty": {
    share: 0.1,
    label: "Nearly empty",
    why: "The rest of the 53 %: no liquid left.",
    source: FIELD_STUDY,
  },
  overcharge: {
    share: 0.045,
    label: "Overcharge",
    why: "Systems that were topped off by pressure before.",
    source: WORKING,
  },
  air: {
    share: 0.04,
    label: "Air in the system",
    why: "Needs an opened system that was not evacuated, or unpurged hoses.",
    source: CONTAMINATED,
  },
  airflow: {
    share: 0.09,
    label: "Poor airflow over the condenser",
    why: "Part of the 23.5 %: fan, dirt, bent fins.",
    source: FIELD_STUDY,
  },
  "not-pumping": {
    share: 0.07,
    label: "Compressor not pumping",
    why: "Part of the 23.5 %: compressor, clutch or its control.",
    source: FIELD_STUDY,
  },
  restriction: {
    share: 0.055,
    label: "Restriction",
    why: "Part of the 23.5 %: expansion device, drier, ice.",
    source: FIELD_STUDY,
  },
  "valve-open": {
    share: 0.02,
    label: "Valve stuck open",
    why: "Part of the 23.5 %: expansion valve or its sensing bulb.",
    source: FIELD_STUDY,
  },
  "evaporator-airflow": {
    share: 0.025,
    label: "Poor airflow over the evaporator, or ice",
    why: "Clogged cabin filter, weak blower, ice on the coil.",
    source: WORKING,
  },
  mixed: {
    share: 0.04,
    label: "Wrong or mixed refrigerant",
    why: "Half of what was found contaminated held another refrigerant.",
    source: CONTAMINATED,
  },
  normal: {
    share: 0.085,
    label: "Reads normal",
    why: "The refrigerant side is sound; the trouble is in the air side, or there is none.",
    source: WORKING,
  },
};

export interface Band {
  readonly id: string;
  readonly label: string;
}

export interface FeatureRow {
  /** How often each band is seen under this finding, in the order of the bands; adds up to 1. */
  readonly shares: readonly number[];
  readonly why: string;
}

export interface Feature {
  readonly label: string;
  readonly bands: readonly Band[];
  readonly rows: Readonly<Record<FindingId, FeatureRow>>;
  readonly source: string;
}

const APART: readonly number[] = [0.005, 0.02, 0.975];
const ORDINARY_CONDENSER: FeatureRow = { shares: [0.85, 0.15], why: "Some dirt is on every older condenser." };
const NO_MATTER: FeatureRow = { shares: [0.5, 0.5], why: "The high side was not too high, so either may be seen." };

export const features: Readonly<Record<FeatureId, Feature>> = {
  static: {
    label: "Static pressure over saturation pressure at ambient",
    bands: [
      { id: "none", label: "hardly any pressure" },
      { id: "vapor", label: "below saturation: no liquid left" },
      { id: "liquid", label: "at saturation: liquid is present, the amount cannot be told" },
      { id: "above", label: "above saturation: other gas, or the system is warmer than the air" },
    ],
    // Each row over that of nearly-empty rises from left to right: more static pressure never makes empty likelier.
    rows: {
      "low-charge": {
        shares: [0.002, 0.02, 0.936, 0.042],
        why: "Low still means liquid somewhere, and liquid means saturation pressure.",
      },
      "nearly-empty": {
        shares: [0.45, 0.5, 0.048, 0.002],
        why: "By definition: vapor alone stands below saturation.",
      },
      overcharge: { shares: [0.001, 0.005, 0.894, 0.1], why: "Saturation whatever the amount; often read warm." },
      air: { shares: [0.001, 0.015, 0.335, 0.649], why: "The air's pressure adds to saturation pressure." },
      airflow: { shares: [0.001, 0.005, 0.934, 0.06], why: "Charge is sound: saturation." },
      "not-pumping": { shares: [0.001, 0.005, 0.934, 0.06], why: "Charge is sound: saturation." },
      restriction: { shares: [0.001, 0.005, 0.934, 0.06], why: "Charge is sound: saturation." },
      "valve-open": { shares: [0.001, 0.005, 0.934, 0.06], why: "Charge is sound: saturation." },
      "evaporator-airflow": { shares: [0.001, 0.005, 0.934, 0.06], why: "Charge is sound: saturation." },
      mixed: { shares: [0.001, 0.05, 0.6, 0.349], why: "Another saturation curve." },
      normal: { shares: [0.001, 0.005, 0.944, 0.05], why: "Saturation; a little above when not fully soaked." },
    },
    source: `physics of a closed vessel; shares: ${WORKING}`,
  },
  low: {
    label: "Low side, running, as evaporating temperature",
    bands: [
      { id: "near-vacuum", label: "nearly a vacuum" },
      { id: "low", label: "lower than expected" },
      { id: "lower-end", label: "at the lower end, where charts contradict each other" },
      { id: "expected", label: "as expected" },
      { id: "high", label: "higher than expected" },
    ],
    rows: {
      "low-charge": {
        shares: [0.004, 0.613, 0.11, 0.263, 0.01],
        why: "A starved evaporator is pulled down; metering devices hide it for a while.",
      },
      "nearly-empty": {
        shares: [0.02, 0.6, 0.1, 0.17, 0.11],
        why: "Pulled down if the compressor runs; where it stands if the switch keeps it off.",
      },
      overcharge: {
        shares: [0.005, 0.01, 0.03, 0.415, 0.54],
        why: "Pushed up by the high side and a flooded evaporator.",
      },
      air: { shares: [0.005, 0.02, 0.05, 0.445, 0.48], why: "Pushed up by the high side." },
      airflow: { shares: [0.005, 0.02, 0.05, 0.455, 0.47], why: "Pushed up by the high side, worst at idle." },
      "not-pumping": { shares: [0.005, 0.02, 0.03, 0.185, 0.76], why: "Nothing draws the low side down." },
      restriction: { shares: [0.45, 0.42, 0.04, 0.07, 0.02], why: "The compressor draws against a blockage." },
      "valve-open": {
        shares: [0.003, 0.007, 0.01, 0.18, 0.8],
        why: "Liquid floods the evaporator and the suction side.",
      },
      "evaporator-airflow": {
        shares: [0.05, 0.58, 0.14, 0.22, 0.01],
        why: "Little heat comes in, so little evaporates.",
      },
      mixed: {
        shares: [0.01, 0.1, 0.1, 0.39, 0.4],
        why: "Another saturation curve: the gauge says another temperature than there is.",
      },
      normal: { shares: [0.003, 0.097, 0.2, 0.67, 0.03], why: "By definition; some charts lie lower." },
    },
    source: `patterns: trade training text and ${PRACTICE}; shares: ${WORKING}`,
  },
  high: {
    label: "High side, running, as condensing temperature over ambient",
    bands: [
      { id: "low", label: "lower than expected" },
      { id: "lower-end", label: "at the lower end, where charts contradict each other" },
      { id: "expected", label: "as expected" },
      { id: "high", label: "higher than expected" },
      { id: "very-high", label: "far higher than expected" },
    ],
    rows: {
      "low-charge": { shares: [0.85, 0.045, 0.09, 0.01, 0.005], why: "Little heat arrives at the condenser." },
      "nearly-empty": { shares: [0.965, 0.01, 0.02, 0.003, 0.002], why: "No heat arrives at the condenser." },
      overcharge: { shares: [0.005, 0.015, 0.19, 0.59, 0.2], why: "Liquid backs up and takes condenser surface away." },
      air: { shares: [0.005, 0.015, 0.24, 0.59, 0.15], why: "The pressure of the air adds to condensing pressure." },
      airflow: {
        shares: [0.005, 0.015, 0.13, 0.56, 0.29],
        why: "Heat cannot leave; can trip the high-pressure switch at idle.",
      },
      "not-pumping": { shares: [0.82, 0.12, 0.05, 0.007, 0.003], why: "Nothing is compressed." },
      restriction: {
        shares: [0.36, 0.13, 0.24, 0.2, 0.07],
        why: "High while the compressor has something to pump, normal or low once starved.",
      },
      "valve-open": { shares: [0.05, 0.07, 0.45, 0.36, 0.07], why: "Much refrigerant moves and brings its heat." },
      "evaporator-airflow": { shares: [0.4, 0.3, 0.285, 0.01, 0.005], why: "Little heat arrives at the condenser." },
      mixed: { shares: [0.05, 0.05, 0.3, 0.45, 0.15], why: "Most mixtures press more at the same temperature." },
      normal: { shares: [0.02, 0.2, 0.73, 0.045, 0.005], why: "By definition; some charts lie lower." },
    },
    source: `patterns: trade training text and ${PRACTICE}; shares: ${WORKING}`,
  },
  gap: {
    label: "Condensing minus evaporating temperature",
    bands: [
      { id: "equal", label: "both sides nearly equal" },
      { id: "tending", label: "both sides tending to equal" },
      { id: "apart", label: "well apart" },
    ],
    rows: {
      "low-charge": {
        shares: [0.02, 0.12, 0.86],
        why: "A gross undercharge can look like a compressor that does not pump.",
      },
      "nearly-empty": { shares: [0.45, 0.37, 0.18], why: "The low-pressure switch keeps the compressor off." },
      overcharge: { shares: APART, why: "The compressor pumps." },
      air: { shares: APART, why: "The compressor pumps." },
      airflow: { shares: APART, why: "The compressor pumps." },
      "not-pumping": { shares: [0.5, 0.36, 0.14], why: "Nothing keeps the sides apart." },
      restriction: { shares: APART, why: "The compressor pumps." },
      "valve-open": { shares: [0.02, 0.28, 0.7], why: "The low side stands high." },
      "evaporator-airflow": { shares: APART, why: "The compressor pumps." },
      mixed: { shares: APART, why: "The compressor pumps." },
      normal: { shares: APART, why: "The compressor pumps." },
    },
    source: `${PRACTICE}: both sides nearly equal while running, the compressor is not pumping; shares: ${WORKING}`,
  },
  balance: {
    label: "High side against a low side that is drawn down",
    bands: [
      { id: "falls", label: "the high side has fallen further" },
      { id: "together", label: "both have fallen alike" },
      { id: "holds", label: "the high side holds up" },
    ],
    rows: {
      "low-charge": {
        shares: [0.92, 0.06, 0.02],
        why: "Vapor reaches the condenser thin and leaves it with little heat.",
      },
      "nearly-empty": { shares: [0.97, 0.02, 0.01], why: "No heat arrives at the condenser." },
      overcharge: { shares: [0.03, 0.3, 0.67], why: "Liquid backs up in the condenser." },
      air: { shares: [0.03, 0.3, 0.67], why: "The pressure of the air adds." },
      airflow: { shares: [0.03, 0.3, 0.67], why: "Heat cannot leave." },
      "not-pumping": { shares: [0.6, 0.3, 0.1], why: "Nothing is compressed." },
      restriction: { shares: [0.25, 0.25, 0.5], why: "Liquid backs up before the restriction." },
      "valve-open": { shares: [0.3, 0.4, 0.3], why: "A drawn-down low side is no sign of it." },
      "evaporator-airflow": { shares: [0.2, 0.63, 0.17], why: "Less load on both sides." },
      mixed: { shares: [0.2, 0.45, 0.35], why: "Either." },
      normal: { shares: [0.1, 0.62, 0.28], why: "Less load on both sides." },
    },
    source: `heat rejected follows mass flow, mass flow follows suction density; shares: ${WORKING}`,
  },
  vent: {
    label: "Vent temperature",
    bands: [
      { id: "cold", label: "cold" },
      { id: "weak", label: "cool at best" },
      { id: "none", label: "hardly cooler than the air" },
    ],
    rows: {
      "low-charge": { shares: [0.03, 0.55, 0.42], why: "Low means here: it cools poorly, so cold air contradicts it." },
      "nearly-empty": { shares: [0.01, 0.09, 0.9], why: "Nothing to evaporate." },
      overcharge: { shares: [0.33, 0.5, 0.17], why: "Evaporates warmer." },
      air: { shares: [0.33, 0.5, 0.17], why: "Evaporates warmer." },
      airflow: { shares: [0.33, 0.47, 0.2], why: "Cold on the road, weak at idle." },
      "not-pumping": { shares: [0.03, 0.17, 0.8], why: "No refrigerant moves." },
      restriction: { shares: [0.1, 0.45, 0.45], why: "Little refrigerant moves." },
      "valve-open": { shares: [0.25, 0.5, 0.25], why: "Evaporates warmer." },
      "evaporator-airflow": { shares: [0.42, 0.38, 0.2], why: "Cold, but little of it; warm once iced over." },
      mixed: { shares: [0.25, 0.5, 0.25], why: "Another refrigerant, another capacity." },
      normal: {
        shares: [0.68, 0.17, 0.15],
        why: "Cold, unless the air side (blend door, filter, heater valve) spoils it.",
      },
    },
    source: `bands from a maker's vent table and the rule of thumb, both in the checks; shares: ${WORKING}`,
  },
  "vent-over-evaporating": {
    label: "Vent temperature minus evaporating temperature",
    bands: [
      { id: "under", label: "vent colder than the evaporator, which cannot be" },
      { id: "usual", label: "usual" },
      { id: "wide", label: "wide: the evaporator is starved" },
    ],
    rows: {
      "low-charge": { shares: [0.01, 0.64, 0.35], why: "Only the first rows of the evaporator hold liquid." },
      "nearly-empty": { shares: [0.01, 0.39, 0.6], why: "No liquid in the evaporator." },
      overcharge: { shares: [0.01, 0.94, 0.05], why: "The evaporator is full of liquid." },
      air: { shares: [0.01, 0.93, 0.06], why: "The evaporator works." },
      airflow: { shares: [0.01, 0.93, 0.06], why: "The evaporator works." },
      "not-pumping": { shares: [0.01, 0.92, 0.07], why: "Evaporator and air are both warm." },
      restriction: { shares: [0.01, 0.34, 0.65], why: "The evaporator starves." },
      "valve-open": { shares: [0.01, 0.95, 0.04], why: "The evaporator is full of liquid." },
      "evaporator-airflow": { shares: [0.01, 0.8, 0.19], why: "Slow air comes near the coil; ice keeps it away." },
      mixed: { shares: [0.05, 0.85, 0.1], why: "Calculated with the wrong curve." },
      normal: { shares: [0.01, 0.79, 0.2], why: "Some 5 to 20 K in both charts." },
    },
    source: WORKING,
  },
  clutch: {
    label: "Compressor clutch",
    bands: [
      { id: "steady", label: "stays on" },
      { id: "cycles-slowly", label: "on and off, slowly" },
      { id: "cycles-fast", label: "on and off every few seconds" },
      { id: "off", label: "does not come on" },
    ],
    rows: {
      "low-charge": {
        shares: [0.33, 0.17, 0.45, 0.05],
        why: "The low-pressure switch stops it, pressure recovers, and again.",
      },
      "nearly-empty": { shares: [0.06, 0.01, 0.1, 0.83], why: "The low-pressure switch keeps it off." },
      overcharge: { shares: [0.72, 0.1, 0.14, 0.04], why: "The high-pressure switch may stop it." },
      air: { shares: [0.74, 0.1, 0.12, 0.04], why: "The high-pressure switch may stop it." },
      airflow: { shares: [0.55, 0.1, 0.31, 0.04], why: "The high-pressure switch stops it, at idle above all." },
      "not-pumping": {
        shares: [0.58, 0.05, 0.05, 0.32],
        why: "Either it turns and does not pump, or it is not driven.",
      },
      restriction: { shares: [0.5, 0.12, 0.34, 0.04], why: "The low-pressure switch stops it." },
      "valve-open": { shares: [0.76, 0.12, 0.08, 0.04], why: "Nothing stops it." },
      "evaporator-airflow": { shares: [0.4, 0.38, 0.2, 0.02], why: "Freeze protection stops it." },
      mixed: { shares: [0.68, 0.12, 0.16, 0.04], why: "The high-pressure switch may stop it." },
      normal: {
        shares: [0.74, 0.2, 0.04, 0.02],
        why: "Slow cycling is how many systems hold the evaporator above freezing.",
      },
    },
    source: `${PRACTICE}: fast cycling is the low- or the high-pressure switch; shares: ${WORKING}`,
  },
  fan: {
    label: "Condenser fan",
    bands: [
      { id: "runs", label: "runs" },
      { id: "stopped", label: "does not run" },
    ],
    rows: {
      "low-charge": { shares: [0.95, 0.05], why: "No reason to stop." },
      "nearly-empty": { shares: [0.75, 0.25], why: "Many fans run only while the compressor does." },
      overcharge: { shares: [0.96, 0.04], why: "No reason to stop." },
      air: { shares: [0.96, 0.04], why: "No reason to stop." },
      airflow: { shares: [0.5, 0.5], why: "The fan, or the dirt." },
      "not-pumping": { shares: [0.88, 0.12], why: "Where the control is off, so is the fan." },
      restriction: { shares: [0.96, 0.04], why: "No reason to stop." },
      "valve-open": { shares: [0.96, 0.04], why: "No reason to stop." },
      "evaporator-airflow": { shares: [0.96, 0.04], why: "No reason to stop." },
      mixed: { shares: [0.96, 0.04], why: "No reason to stop." },
      normal: { shares: [0.97, 0.03], why: "No reason to stop." },
    },
    source: WORKING,
  },
  condenser: {
    label: "Condenser face",
    bands: [
      { id: "clean", label: "clean" },
      { id: "dirty", label: "dirty, blocked or bent" },
    ],
    rows: {
      "low-charge": ORDINARY_CONDENSER,
      "nearly-empty": ORDINARY_CONDENSER,
      overcharge: ORDINARY_CONDENSER,
      air: ORDINARY_CONDENSER,
      airflow: { shares: [0.4, 0.6], why: "The dirt, or the fan." },
      "not-pumping": ORDINARY_CONDENSER,
      restriction: ORDINARY_CONDENSER,
      "valve-open": ORDINARY_CONDENSER,
      "evaporator-airflow": ORDINARY_CONDENSER,
      mixed: ORDINARY_CONDENSER,
      normal: ORDINARY_CONDENSER,
    },
    source: WORKING,
  },
  "more-air": {
    label: "High side with more air over the condenser",
    bands: [
      { id: "drops", label: "falls to what is expected" },
      { id: "stays", label: "stays where it was" },
    ],
    rows: {
      "low-charge": NO_MATTER,
      "nearly-empty": NO_MATTER,
      overcharge: { shares: [0.45, 0.55], why: "Falls somewhat, stays high." },
      air: { shares: [0.4, 0.6], why: "Falls somewhat, stays high." },
      airflow: { shares: [0.9, 0.1], why: "High only at idle, drops with road speed." },
      "not-pumping": NO_MATTER,
      restriction: NO_MATTER,
      "valve-open": { shares: [0.5, 0.5], why: "Hardly depends on it." },
      "evaporator-airflow": NO_MATTER,
      mixed: { shares: [0.4, 0.6], why: "Falls somewhat, stays high." },
      normal: NO_MATTER,
    },
    source: `${PRACTICE}: high only at idle is fan or airflow; shares: ${WORKING}`,
  },
  superheat: {
    label: "Superheat: suction line minus evaporating temperature",
    bands: [
      { id: "none", label: "hardly any: liquid comes back" },
      { id: "usual", label: "usual" },
      { id: "high", label: "high: the evaporator is starved" },
    ],
    rows: {
      "low-charge": { shares: [0.02, 0.26, 0.72], why: "The last of the evaporator holds vapor only." },
      "nearly-empty": { shares: [0.01, 0.09, 0.9], why: "There is no liquid." },
      overcharge: { shares: [0.42, 0.53, 0.05], why: "The evaporator is full." },
      air: { shares: [0.15, 0.75, 0.1], why: "The evaporator works." },
      airflow: { shares: [0.15, 0.75, 0.1], why: "The evaporator works." },
      "not-pumping": { shares: [0.2, 0.6, 0.2], why: "Hardly anything moves." },
      restriction: { shares: [0.02, 0.13, 0.85], why: "Too little is let in." },
      "valve-open": { shares: [0.85, 0.13, 0.02], why: "Too much is let in." },
      "evaporator-airflow": { shares: [0.6, 0.35, 0.05], why: "Nothing to evaporate it: liquid comes back." },
      mixed: { shares: [0.25, 0.45, 0.3], why: "Calculated with the wrong curve." },
      normal: {
        shares: [0.06, 0.86, 0.08],
        why: "The valve holds some kelvin; an orifice tube with a full charge little.",
      },
    },
    source: `superheat of a metered evaporator: refrigeration texts, ${PRACTICE}; shares: ${WORKING}`,
  },
  subcooling: {
    label: "Subcooling: condensing temperature minus liquid line",
    bands: [
      { id: "none", label: "hardly any: vapor in the liquid line" },
      { id: "usual", label: "usual" },
      { id: "high", label: "high: liquid backs up" },
    ],
    rows: {
      "low-charge": { shares: [0.72, 0.26, 0.02], why: "Not enough liquid to fill the condenser outlet." },
      "nearly-empty": { shares: [0.85, 0.13, 0.02], why: "There is no liquid." },
      overcharge: { shares: [0.02, 0.28, 0.7], why: "Liquid backs up." },
      air: { shares: [0.03, 0.22, 0.75], why: "The gauge counts the air, the pipe does not." },
      airflow: { shares: [0.25, 0.65, 0.1], why: "Hot, but full." },
      "not-pumping": { shares: [0.4, 0.5, 0.1], why: "Hardly anything moves." },
      restriction: { shares: [0.06, 0.34, 0.6], why: "Liquid backs up before the restriction." },
      "valve-open": { shares: [0.4, 0.52, 0.08], why: "The evaporator holds what the condenser lacks." },
      "evaporator-airflow": { shares: [0.15, 0.65, 0.2], why: "The charge is right." },
      mixed: { shares: [0.2, 0.35, 0.45], why: "Calculated with the wrong curve." },
      normal: { shares: [0.08, 0.84, 0.08], why: "The charge is right." },
    },
    source: `subcooling of a condenser: refrigeration texts, ${PRACTICE}; shares: ${WORKING}`,
  },
  equalizing: {
    label: "Time to equal pressures after switching off",
    bands: [
      { id: "fast", label: "under two minutes" },
      { id: "slow", label: "two minutes or longer" },
    ],
    rows: {
      "low-charge": { shares: [0.3, 0.7], why: "Little to equalize." },
      "nearly-empty": { shares: [0.5, 0.5], why: "Nothing to equalize." },
      overcharge: { shares: [0.12, 0.88], why: "Through the metering device only." },
      air: { shares: [0.15, 0.85], why: "Through the metering device only." },
      airflow: { shares: [0.15, 0.85], why: "Through the metering device only." },
      "not-pumping": { shares: [0.8, 0.2], why: "A reed valve or gasket lets it back through the compressor." },
      restriction: { shares: [0.04, 0.96], why: "The way is blocked." },
      "valve-open": { shares: [0.5, 0.5], why: "The valve is wide open." },
      "evaporator-airflow": { shares: [0.15, 0.85], why: "Through the metering device only." },
      mixed: { shares: [0.2, 0.8], why: "Through the metering device only." },
      normal: { shares: [0.2, 0.8], why: "Through the metering device only; an orifice tube is quicker." },
    },
    source: `US Army TM 9-2320-387-24-2, table 14-3: high low side and low high side, equal in under two minutes, is a reed valve or head gasket; shares: ${WORKING}`,
  },
  "sight-glass": {
    label: "Sight glass at a steady speed",
    bands: [
      { id: "clear", label: "clear" },
      { id: "bubbles", label: "bubbles go by" },
    ],
    rows: {
      "low-charge": { shares: [0.12, 0.88], why: "Vapor in the liquid line." },
      "nearly-empty": { shares: [0.8, 0.2], why: "Clear because empty, or oil streaks." },
      overcharge: { shares: [0.96, 0.04], why: "Full of liquid." },
      air: { shares: [0.35, 0.65], why: "Gas that does not condense goes by." },
      airflow: { shares: [0.6, 0.4], why: "Hot liquid flashes." },
      "not-pumping": { shares: [0.6, 0.4], why: "Either." },
      restriction: { shares: [0.6, 0.4], why: "Either, by where it is." },
      "valve-open": { shares: [0.75, 0.25], why: "Either." },
      "evaporator-airflow": { shares: [0.9, 0.1], why: "Liquid stands." },
      mixed: { shares: [0.4, 0.6], why: "A mixture boils over a range of temperatures." },
      normal: { shares: [0.85, 0.15], why: "Liquid stands; a few bubbles come with a change of load." },
    },
    source: `patterns: a maker's 2004 fault table and US Army TM 9-2320-387-24-2, 14-5; shares: ${WORKING}`,
  },
};

/**
 * Where the bands lie. Pressures are judged as saturation temperatures, so the same lines serve every refrigerant.
 * `reading_sd` is how far a careful reading may be off: near a line, a reading counts partly on either side of it.
 */
export const bandLines = {
  /** Static over saturation pressure, both absolute. 0.04 is ambient known to 1.5 K. */
  static: { lines: [0.3, 0.85, 1.1], reading_sd: 0.04 },
  /** Expected evaporating temperature, °C; see `expectedRunning`. */
  low: { near_vacuum_c: -18, reading_sd: 1.5 },
  /** The second line above the expected condensing temperature, K. */
  high: { very_high_over_k: 12, reading_sd: 1.5 },
  /** Condensing minus evaporating, K: all charts stay above 34. */
  gap: { lines: [8, 25], reading_sd: 2 },
  /**
   * Shares of the usual, see `balance`; usual are a maker's 2006 table's 19 to 22 K over ambient and mid evaporator
   * range.
   */
  balance: {
    lines: [-0.2, 0.25],
    reading_sd: 0.05,
    usual_over_ambient_k: 22,
    lifts_per_k: 0.2,
    lifts_above_c: 25,
    usual_evaporating_c: 2,
    /** A low side above this, °C, is not drawn down by the compressor. */
    asked_below_c: -3,
  },
  /**
   * How far vent air may be above the coldest expected and still count as some cooling; within `none_within_k` of
   * ambient it is none.
   */
  vent: { none_within_k: 3, reading_sd: 1.5 },
  "vent-over-evaporating": { lines: [-3, 22], reading_sd: 2 },
  superheat: { lines: [2, 16], reading_sd: 2 },
  subcooling: { lines: [2, 15], reading_sd: 2 },
  /** Seconds. */
  equalizing: { lines: [120], reading_sd: 15 },
} as const;

/** How much a feature counts, 0 to 1, where the equipment itself hides it; 1 where nothing is listed. */
export const equipmentCounts: {
  readonly metering: Readonly<Record<Metering, Partial<Record<FeatureId, number>>>>;
  readonly compressor: Readonly<Record<Compressor, Partial<Record<FeatureId, number>>>>;
  readonly source: string;
} = {
  metering: {
    // A valve holds its superheat until it is wide open.
    valve: { superheat: 0.8 },
    // No receiver before it, so no sight glass, and it equalizes the sides by itself.
    "orifice-tube": { "sight-glass": 0, equalizing: 0.3 },
  },
  compressor: {
    fixed: {},
    // The stroke gives way to hold the low side; the clutch, if there is one, stays on.
    variable: { low: 0.75, clutch: 0.3 },
    // Speed gives way to hold the low side; no clutch.
    electric: { low: 0.75, clutch: 0 },
  },
  source: `${PRACTICE}; shares: ${WORKING}`,
};

/** By how much the printed charts disagree on the high side, kPa: 130 psi. */
export const CHARTS_DISAGREE_KPA = 896;

/**
 * A well-charged running system, from what each heat exchanger can do. Lines are drawn to hold the charts, which
 * contradict each other by up to 20 psi on the low and 130 psi on the high side.
 */
export const expectedRegion = {
  evaporating: {
    /**
     * Freeze protection stops the compressor below about this, °C, at any ambient. A thermostat opens with the coil at
     * −1 to 2 °C (US Army TM 9-2320-303-24-2, WP 0227), and a coil is 2 to 6 K warmer than the refrigerant in it (a
     * maker's 2006 table, evaporator range −7 to 7 °C).
     */
    floor_c: -7,
    /** At idle, and in the charts taken at idle, the load of a hot day lifts it. */
    idle_below_rpm: 1000,
    idle_floor_c: -4,
    idle_lifts_per_k: 0.45,
    idle_lifts_above_c: 24,
    /** It must stay this much below ambient to cool the air by some 10 K. */
    under_ambient_k: 11.5,
    /** Warmer than this no vent air feels cold, °C. */
    ceiling_c: 16,
    source: `a maker's 2006 table and US Army TM 9-2320-303-24-2 for the floor; the rest ${WORKING}, holding a generic trade chart and a maker's 2010 chart`,
  },
  condensing_over_ambient: {
    /** 2.4 K below the lowest in print, the high side of US Army TM 5-3805-291-23-1, table 1: thermometers err. */
    from_k: 11,
    /** The other charts begin here: heat leaves a condenser in proportion to its temperature over the air. */
    lower_end_to_k: 17,
    lower_end_lifts_per_k: 0.2,
    lower_end_lifts_above_c: 25,
    to_k: 30.5,
    to_lifts_per_k: 0.55,
    to_lifts_above_c: 18,
    to_at_most_k: 39.5,
    source: `US Army TM 5-3805-291-23-1, table 1, high side, for the lower line; the rest ${WORKING}, holding a generic trade chart and a maker's 2010 chart`,
  },
  vent: {
    /** Cold vent air is at least this much below ambient, humid air (65 %) or unknown. */
    under_ambient_k: 8,
    /** Drier air cools further: per percent of relative humidity below `humid_percent`, not below 30 %. */
    further_per_percent_k: 0.15,
    humid_percent: 65,
    dry_percent: 30,
    source: `${WORKING}, holding a maker's vent table by humidity`,
  },
} as const;

/** Running readings of a mild day say little: they count fully from the first, not at all below the second, °C. */
export const coldDay = { counts_from_c: 15, counts_nothing_below_c: 8, source: WORKING } as const;

/** Inner volume of a system per gram of nameplate charge, mL. */
export const systemVolume = { ml_per_g: 2.6, from_ml_per_g: 1.8, to_ml_per_g: 3.4, source: WORKING } as const;

/**
 * When readings may say that charge is low, or is not: the joint probability of low charge and nearly empty, and for
 * low at least so many readings, independent of each other, that point to it.
 */
export const saysLines = { low_from: 0.7, low_signs: 2, not_low_to: 0.15, source: WORKING } as const;

/** Below this ratio of likelihoods, either way, a reading is not worth naming as speaking for or against. */
export const EVIDENCE_WORTH_NAMING = 1.5;

/** An expected gain below this many bits is not worth another reading. */
export const GAIN_WORTH_READING_BITS = 0.02;

/** Readings of a vehicle count for its answer this many days: a slow leak hardly moves a charge in that time. */
export const READINGS_COUNT_DAYS = 14;

/** What each typed reading may be. Between these ambient temperatures readings can be judged at all. */
export const readingBounds = {
  ambient_c: { min: -30, max: 50, unit: "°C" },
  humidity_percent: { min: 0, max: 100, unit: "% relative humidity" },
  static_kpa: { min: 0, max: 6000, unit: "kPa absolute" },
  low_kpa: { min: 0, max: 6000, unit: "kPa absolute" },
  high_kpa: { min: 0, max: 6000, unit: "kPa absolute" },
  engine_rpm: { min: 0, max: 10_000, unit: "rpm" },
  vent_c: { min: -30, max: 80, unit: "°C" },
  nameplate_g: { min: 100, max: 20_000, unit: "g" },
  system_volume_ml: { min: 1, max: 1_000_000, unit: "mL" },
  altitude_m: { min: -500, max: 5000, unit: "m above the sea" },
  suction_line_c: { min: -40, max: 80, unit: "°C" },
  liquid_line_c: { min: -40, max: 100, unit: "°C" },
  equalizing_s: { min: 0, max: 3600, unit: "s" },
} as const;
