import { fills, recovery } from "../../../data/model-constants.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { Cooling, Finish, LocationId, LogEntry } from "../question/contract.ts";
import { DAYS_PER_YEAR } from "./leak-clock.ts";

/**
 * The charge log (MODEL §2): what each entry says about the charge, in grams and years from the assessment date.
 */

/** The charge was set to a known spread: evacuated and charged by weight, or filled by an amount not on record. */
export interface SetFill {
  kind: "weighed" | "level";
  mean_g: number;
  sd_g: number;
}

/** A known amount went in; `reading` says how the level afterwards was judged, null for a fill of unknown finish. */
export interface AmountFill {
  kind: "amount";
  into_g: number;
  sd_g: number;
  reading: { mean_g: number; sd_g: number } | null;
}

export type Fill = SetFill | AmountFill;

/** One visit, as input of the filter. */
export interface Visit {
  /** Years from the assessment date; not positive. */
  t: number;
  cooling: Cooling | null;
  /** The recovery machine's reading in grams, with the standard deviation of its scale. */
  recovered: { reading_g: number; sd_g: number } | null;
  fill: Fill | null;
  repair: LocationId | null;
}

/** The fill of one entry, or null: the first that fits of weighed, amount and level. */
export function fillOf(entry: LogEntry, nameplate_g: number, heel: number): Fill | null {
  const finish = entry.finish ?? null;
  const added_g = entry.added_g ?? null;
  if (finish === "weighed") return setFill("weighed", nameplate_g);
  if (added_g !== null && (added_g > 0 || finish !== null)) {
    const by_cans = (entry.added_by ?? "cans") === "cans";
    const noise = by_cans ? fills.cans : fills.scale;
    return {
      kind: "amount",
      into_g: added_g * (1 - (by_cans ? heel : 0)),
      sd_g: added_g > 0 ? noise.sd_g + noise.sd_share * added_g : 0,
      reading: finish === "gauges" || finish === "low-side" ? spreadOf(finish, nameplate_g) : null,
    };
  }
  if (finish === null) return null;
  return setFill(finish, nameplate_g);
}

function setFill(finish: Finish, nameplate_g: number): SetFill {
  return { kind: finish === "weighed" ? "weighed" : "level", ...spreadOf(finish, nameplate_g) };
}

function spreadOf(finish: Finish, nameplate_g: number): { mean_g: number; sd_g: number } {
  if (finish === "weighed") {
    return { mean_g: nameplate_g, sd_g: Math.max(fills.weighed.sd_least_g, fills.weighed.sd * nameplate_g) };
  }
  return { mean_g: fills[finish].mean * nameplate_g, sd_g: fills[finish].sd * nameplate_g };
}

/** The log, already in date order, as visits. `as_of_day` as of `dayNumber`. */
export function visitsOf(log: readonly LogEntry[], as_of_day: number, nameplate_g: number, heel: number): Visit[] {
  return log.map((entry) => ({
    t: (dayNumber(entry.date) - as_of_day) / DAYS_PER_YEAR,
    cooling: entry.cooling ?? null,
    recovered:
      entry.recovered_g == null
        ? null
        : { reading_g: entry.recovered_g, sd_g: Math.max(recovery.sd_least_g, recovery.sd * nameplate_g) },
    fill: fillOf(entry, nameplate_g, heel),
    repair: entry.repair ?? null,
  }));
}

/** Looks that say the charge is low or gone. */
export type LowLook = Exclude<Cooling, "ok">;

/** Whether a look says that the charge is low or gone. */
export function isLowLook(cooling: Cooling | null): cooling is LowLook {
  return cooling === "weak" || cooling === "short-cycling" || cooling === "empty";
}

/** A low look that nothing since has ended: the vehicle is low as seen. */
export interface StandingLook {
  /** Index in the log of the look that stands: the first since the charge was last changed or seen well. */
  entry: number;
  /** The latest low look since then. */
  kind: LowLook;
}

/**
 * The low look that stands at the end of the log, null when there is none: the first one that no later `ok` look, and
 * no fill, recovery or repair with it or later, has ended.
 */
export function standingLookOf(visits: readonly Visit[]): StandingLook | null {
  let standing: StandingLook | null = null;
  visits.forEach((visit, entry) => {
    if (isLowLook(visit.cooling)) standing = { entry: standing?.entry ?? entry, kind: visit.cooling };
    else if (visit.cooling === "ok") standing = null;
    if (chargeTouched(visit)) standing = null;
  });
  return standing;
}

/** Whether anything was filled, recovered or repaired at a visit. */
export function chargeTouched({ fill, recovered, repair }: Visit): boolean {
  return fill !== null || recovered !== null || repair !== null;
}
