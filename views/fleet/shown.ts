import type { RefrigerantId } from "../../src/core/contract.ts";
import type { FleetAnswer, FleetOption } from "../../src/core/fleet-answer.ts";
import type { AuditYear } from "../../src/core/fleet-audit.ts";
import { formatMoney } from "../../src/core/format.ts";
import type { UnitSystem } from "../../src/core/units.ts";
import { estimated, saidCo2e } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";

/** What the fleet pages are given to show. */

export interface FleetVehicle {
  id: string;
  label: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  fleet_group: string | null;
  depot: string | null;
}

export interface ReckonedRow {
  as_of: string;
  leak_g_per_year: number;
  charge_share: number;
  next_low: string | null;
  verdict: FleetAnswer["verdict"]["option"];
  sure: number | null;
  cost_as_is: number;
  cost_best: number;
  release_as_is_g: number;
  release_best_g: number;
  co2e_as_is_kg: number;
  co2e_best_kg: number;
  own_share: number;
  answer: Omit<FleetAnswer, "audit">;
}

export interface FleetRow extends FleetVehicle {
  reckoned: ReckonedRow | null;
}

export interface FleetTotals {
  vehicles: number;
  reckoned: number;
  cost_as_is: number;
  cost_best: number;
  release_as_is_g: number;
  release_best_g: number;
  co2e_as_is_kg: number;
  co2e_best_kg: number;
  by_verdict: readonly { verdict: string; vehicles: number }[];
}

export interface ShownCohort {
  fleet_group: string;
  ln_x_mean: number;
  ln_x_sd: number;
  vehicles: number;
  used: { ln_x_mean: number; ln_x_sd: number };
}

export interface ShownRun {
  state: "logs" | "cohorts" | "answers" | "done" | "cancelled";
  as_of: string;
  logs: { all: number; left: number };
  answers: { all: number; left: number };
}

export type AuditRow = FleetVehicle & AuditYear;

/** How a workspace wants things said. */
export interface Manner {
  units: UnitSystem;
  currency: string;
}

/** An estimate of money: `$390`. */
export function saidSum(amount: number, { currency }: Manner): string {
  return formatMoney(estimated(amount), currency);
}

/** Many vehicles' money together: three figures of it. */
export function saidTotal(amount: number, { currency }: Manner): string {
  return formatMoney(Number(amount.toPrecision(3)), currency);
}

/** Many vehicles' CO₂e together: in tonnes from one tonne up. */
export function saidTotalCo2e(kg: number): string {
  return Math.abs(kg) < 1000 ? saidCo2e(kg) : `${Number((kg / 1000).toPrecision(2)).toLocaleString("en-US")}\u00a0t`;
}

/** CO₂e that a choice avoids; what it adds has a minus. */
export function saidAvoided(kg: number): string {
  if (Math.abs(kg) < 0.5) return saidCo2e(0);
  return `${kg < 0 ? "−" : ""}${saidCo2e(Math.abs(kg))}`;
}

export function saidNumber(count: number): string {
  return count.toLocaleString("en-US");
}

/** `1 vehicle`, `10,000 vehicles`. */
export function vehicles(count: number): string {
  return `${saidNumber(count)} ${count === 1 ? "vehicle" : "vehicles"}`;
}

/** A verdict in a few words. */
export function verdictWords(verdict: string | null, guard: string | null = null): string {
  if (verdict === null || verdict === "none") return "Nothing is open: ask a shop";
  if (verdict === "check-first") return "Check first";
  if (verdict === "repair" && guard === "floor") return "Repair it, do not top off";
  return OPTION_NAMES[verdict as FleetOption["id"]].name;
}

export function vehiclePath(id: string): string {
  return `/vehicles/${id}`;
}
