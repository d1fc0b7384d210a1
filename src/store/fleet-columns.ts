import type { AuditYear } from "../core/fleet/audit.ts";
import type { AgedVehicle, FleetFigures, FleetVehicle } from "../core/fleet/row.ts";
import { OPTION_IDS, REFRIGERANTS } from "../core/question/contract.ts";
import { type Columns, flag, json, nullable, number, oneOf, text } from "./columns.ts";

/** The columns of a vehicle that the fleet's pages show it with. */
export const FLEET_VEHICLE: Columns<FleetVehicle> = {
  id: text,
  label: text,
  refrigerant: oneOf(REFRIGERANTS),
  nameplate_g: number,
  fleet_group: nullable(text),
  depot: nullable(text),
};

/** The same with what tells its age. */
export const AGED_VEHICLE: Columns<AgedVehicle> = {
  ...FLEET_VEHICLE,
  model_year: nullable(number),
  odometer: nullable(json()),
};

/** Columns of `fleet_answers` that hold what was computed. */
export const FIGURES: Columns<FleetFigures> = {
  leak_g_per_year: number,
  leak_share: number,
  low_now: flag,
  no_entries: flag,
  charge_share: number,
  next_low: nullable(text),
  verdict: nullable(oneOf([...OPTION_IDS, "check-first"])),
  watch_date: nullable(text),
  sure: nullable(number),
  cost_as_is: number,
  cost_best: number,
  release_as_is_g: number,
  release_best_g: number,
  co2e_as_is_kg: number,
  co2e_best_kg: number,
  own_share: number,
};

/** Columns of `fleet_audit`. */
export const AUDIT: Columns<AuditYear> = {
  year: number,
  added_g: number,
  first_charge_g: number,
  recovered_g: number,
  lost_g: number,
  lost_sd_g: number,
  lost_per_ln_g: number,
  span_years: number,
  annualizing_percent: nullable(number),
  rolling_percent: nullable(number),
  over_limit_on: nullable(text),
  chronic_on: nullable(text),
};
