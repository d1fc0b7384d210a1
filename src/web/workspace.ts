import type { PlaceId } from "../../data/rules.ts";
import type { Manner } from "../../views/fleet/shown.ts";
import type { Sayer } from "../../views/readings/said-readings.ts";
import type { UnitSystem } from "../core/quantities/units.ts";
import { isPlace } from "../core/rules/rules.ts";
import type { Workspace } from "../store/workspaces.ts";
import { calendarDay } from "./edge/calendar-day.ts";

/** Which units the workspace thinks in. */
export function unitsOf({ mass_unit }: Pick<Workspace, "mass_unit">): UnitSystem {
  return mass_unit === "g" ? "metric" : "us";
}

/** How the gauges and thermometers of the workspace read. */
export function gaugesOf({ temperature_unit, pressure_unit }: Workspace): Sayer {
  return { units: temperature_unit === "C" ? "metric" : "us", gauge: pressure_unit };
}

/** Money and units as the workspace has them. */
export function mannerOf(workspace: Workspace): Manner {
  return { units: unitsOf(workspace), currency: workspace.currency };
}

/** A place whose rules we know; elsewhere, where nobody said one. */
export function placeOf(said: string | null): PlaceId {
  return said !== null && isPlace(said) ? said : "elsewhere";
}

/** The calendar day where the workspace is, `YYYY-MM-DD`. */
export function todayIn({ time_zone }: Pick<Workspace, "time_zone">, now: Date): string {
  return calendarDay(now, time_zone);
}
