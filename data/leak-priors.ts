import type { VehicleKind } from "../src/core/question/contract.ts";
import { prior } from "./model-constants.ts";

/**
 * What is believed of a leak before there is a log, by kind of vehicle: ln x is normal, x the loss a year as a share of
 * the nameplate charge. A group of vehicles starts from that of its kind.
 */
export interface KindPrior {
  label: string;
  /** Mean of ln x, and its standard deviation. */
  ln_x_mean: number;
  ln_x_sd: number;
  source: string;
  /** What the published mean was made of; null where there is none for this kind alone. */
  published: { g_per_year: number; charge_g: number } | null;
}

/** A log-normal's mean lies above its median by half its variance: the median that belongs to a published mean. */
const lnMedian = ({ g_per_year, charge_g }: { g_per_year: number; charge_g: number }): number =>
  Math.log(g_per_year / charge_g) - prior.ln_x_sd ** 2 / 2;

const HEAVY = { g_per_year: 257, charge_g: 1200 };
const BUS = { g_per_year: 1340, charge_g: 7700 };

const AS_IN_GENERAL = { ln_x_mean: prior.ln_x_mean, ln_x_sd: prior.ln_x_sd, published: null };

/** Null is for a vehicle of which nobody said what it is. */
export const leakPriors = {
  car: {
    label: "Car",
    ...AS_IN_GENERAL,
    source: "working assumption, for cars whose owners have a reason to ask",
  },
  van: {
    label: "Van",
    ...AS_IN_GENERAL,
    source: "working assumption: as a car, since no measurement of vans alone was found",
  },
  "heavy-vehicle": {
    label: "Heavy vehicle",
    ln_x_mean: lnMedian(HEAVY),
    ln_x_sd: prior.ln_x_sd,
    published: HEAVY,
    source:
      "257 g a year on average, log-normal, by a few gross emitters: ERG for the California Air Resources Board, 06-342, heavy-duty vehicles of all model years; a charge of 1.2 kg and the spread are working assumptions",
  },
  bus: {
    label: "Bus",
    ln_x_mean: lnMedian(BUS),
    ln_x_sd: prior.ln_x_sd,
    published: BUS,
    source:
      "about 1340 g a year on average: the same report, large transit buses; 7.7 kg, at which 1 kg a year is the 13 % of Schwarz 2007 (buses and coaches, for the European Commission); the spread is a working assumption",
  },
} as const satisfies Readonly<Record<VehicleKind, KindPrior>>;

/** What is believed of a vehicle of this kind; null: nobody said which. */
export function leakPriorOf(kind: VehicleKind | null): { ln_x_mean: number; ln_x_sd: number } {
  const { ln_x_mean, ln_x_sd } = kind === null ? prior : leakPriors[kind];
  return { ln_x_mean, ln_x_sd };
}
