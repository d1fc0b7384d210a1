import type { RefrigerantId } from "../question/contract.ts";
import type { LeakPrior } from "../question/question.ts";
import type { VehicleInput } from "../question/record.ts";
import type { FleetAnswer } from "./answer.ts";
import type { AuditYear } from "./audit.ts";

/** Shapes that the fleet's store and pages share: a row for each vehicle, sums, groups, and the progress of a run. */

export interface FleetVehicle {
  id: string;
  label: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  fleet_group: string | null;
  depot: string | null;
}

/** A vehicle with what tells its age. */
export interface AgedVehicle extends FleetVehicle, Pick<VehicleInput, "model_year" | "odometer"> {}

/** Whether any vehicle in use has them: else the table has no such columns. */
export interface AgesKnown {
  model_year: boolean;
  odometer: boolean;
}

/** A row of the table; `reckoned` null until it is computed. */
export interface FleetRow extends AgedVehicle {
  reckoned: ReckonedRow | null;
}

export interface ReckonedRow extends FleetFigures {
  as_of: string;
  answer: Omit<FleetAnswer, "audit">;
}

/** The watch date of an answer while it lies ahead: one that has passed asks for nothing. */
export function watchDateAhead({ watch_date, as_of }: Pick<ReckonedRow, "watch_date" | "as_of">): string | null {
  return watch_date !== null && watch_date > as_of ? watch_date : null;
}

/** The leak rate of a fleet's answer, in grams a year. */
export function leakOf_g({ leak_fraction }: Pick<FleetAnswer, "leak_fraction">, nameplate_g: number) {
  return {
    median: leak_fraction.median * nameplate_g,
    p05: leak_fraction.p05 * nameplate_g,
    p95: leak_fraction.p95 * nameplate_g,
  };
}

/** The columns of an answer that lists use. A year's money and grams; `best` is with the answer. */
export interface FleetFigures {
  leak_g_per_year: number;
  /** Of the nameplate charge, a year. */
  leak_share: number;
  low_now: boolean;
  /** Whether nothing is in its log. */
  no_entries: boolean;
  charge_share: number;
  next_low: string | null;
  verdict: FleetAnswer["verdict"]["option"];
  watch_date: string | null;
  sure: number | null;
  cost_as_is: number;
  cost_best: number;
  release_as_is_g: number;
  release_best_g: number;
  co2e_as_is_kg: number;
  co2e_best_kg: number;
  own_share: number;
}

/** Figures that can be summed over vehicles. */
export const SUMMED = [
  "cost_as_is",
  "cost_best",
  "release_as_is_g",
  "release_best_g",
  "co2e_as_is_kg",
  "co2e_best_kg",
] as const satisfies readonly (keyof FleetFigures)[];

export interface FleetTotals extends Pick<FleetFigures, (typeof SUMMED)[number]> {
  vehicles: number;
  reckoned: number;
  /** Of those to repair, how many cost no more in all than topping off for ever. */
  repairs_that_pay: number;
  by_verdict: { verdict: string; vehicles: number }[];
}

/** A year of a vehicle; `mean_sd`: how well the mean leak of its group is known. */
export type AuditRow = FleetVehicle & AuditYear & { mean_sd: number };

/** The progress of a fleet run. */
export interface FleetRun {
  id: string;
  state: "logs" | "cohorts" | "answers" | "done" | "cancelled";
  as_of: string;
  /** Answers of this day and later still hold. */
  fresh_from: string;
  logs: { all: number; left: number };
  answers: { all: number; left: number };
  started_at: string;
  ended_at: string | null;
}

/** How the answer for a vehicle was informed by its group. */
export interface GroupSays {
  fleet_group: string;
  /** Vehicles of the group with an informative log. */
  vehicles: number;
  as_of: string;
  own_share: number;
  verdict: FleetAnswer["verdict"];
  low_now: boolean;
  no_entries: boolean;
}

/** A group of vehicles: as fitted, and as its answers use it. */
export interface Cohort extends LeakPrior {
  fleet_group: string;
  used: LeakPrior;
  /** Vehicles with an informative log. */
  vehicles: number;
  /** How well the mean is known: its sd. */
  mean_sd: number;
}

/** A repair that a person settled before the fleet's budget is spent. */
export interface RepairLock {
  repair: "must" | "must-not";
  /** Settled for this year alone; null: for every year. */
  year: number | null;
}
