import type { AuditYear } from "../core/fleet/audit.ts";
import type { FleetFigures } from "../core/fleet/row.ts";

/** Columns of `fleet_answers` and `fleet_audit` that hold what was computed, by the names that it has there. */

export const FIGURES = [
  "leak_g_per_year",
  "charge_share",
  "next_low",
  "verdict",
  "sure",
  "cost_as_is",
  "cost_best",
  "release_as_is_g",
  "release_best_g",
  "co2e_as_is_kg",
  "co2e_best_kg",
  "own_share",
] as const satisfies readonly (keyof FleetFigures)[];

export const AUDIT = [
  "year",
  "added_g",
  "recovered_g",
  "lost_g",
  "lost_sd_g",
  "span_years",
  "annualizing_percent",
  "rolling_percent",
] as const satisfies readonly (keyof AuditYear)[];
