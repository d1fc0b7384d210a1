import { fills, recovery } from "../../../data/model-constants.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { Cooling, Finish, LocationId, LogEntry } from "../question/contract.ts";
import { DAYS_PER_YEAR } from "./leak-clock.ts";

/**
 * The charge log (MODEL §2): what each entry says about the charge, in grams and years from the assessment date.
 */

/**
 * A fill that ends at a level known beforehand: charged by weight into vacuum, or filled up by an amount not on record.
 */
export interface SetFill {
  /** By weight, or to a level judged at the end. */
  kind: "weighed" | "level";
  /** Mean charge afterwards, grams. */
  mean_g: number;
  /** Standard deviation of the charge afterwards, grams. */
  sd_g: number;
}

/** A fill by a known amount. */
export interface AmountFill {
  /** Tells the two kinds of fill apart. */
  kind: "amount";
  /** What went into the system on average, grams: the amount less what stays in hose and cans. */
  into_g: number;
  /** Standard deviation of what went in, grams. */
  sd_g: number;
  /** The level afterwards as judged, grams; null where it was not. */
  reading: { mean_g: number; sd_g: number } | null;
}

export type Fill = SetFill | AmountFill;

/** One log entry as the filter takes it. */
export interface Visit {
  /** Years from the assessment date, 0 or negative. */
  t: number;
  /** How it cooled on arrival; null: not said. */
  cooling: Cooling | null;
  /** What a recovery machine weighed and the standard deviation of its scale, grams; null: nothing was recovered. */
  recovered: { reading_g: number; sd_g: number } | null;
  /** What was filled; null: nothing. */
  fill: Fill | null;
  /** Where it was repaired; null: nowhere. */
  repair: LocationId | null;
}

/**
 * The fill of an entry, null for none. `weighed` goes before an amount, and an amount before a finish alone. `heel`:
 * share of a can that stays in hose and can.
 */
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

/** The log, already in date order, as visits. `as_of_day`: day number of the assessment date; `heel` as in `fillOf`. */
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

/** A low look that still stands, as nothing has changed since: the vehicle is low today. */
export interface StandingLook {
  /** Index in the log of the first low look since the charge was last changed or the vehicle last cooled well. */
  entry: number;
  /** What the latest low look since then says. */
  kind: LowLook;
}

/**
 * The low look that stands at the end of the log, or null. A later `ok` look ends it, and so does a fill, recovery or
 * repair on the same visit or later.
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

/** The log's last spell, from a fill to the first low look after it: positions of entries, null without one. */
export function lastSpellOf(visits: readonly Visit[]): { fill: number; low: number } | null {
  let fill: number | null = null;
  let low_since = false;
  let spell: { fill: number; low: number } | null = null;
  for (const [entry, visit] of visits.entries()) {
    if (fill !== null && !low_since && isLowLook(visit.cooling)) {
      spell = { fill, low: entry };
      low_since = true;
    }
    if (visit.fill !== null) {
      fill = entry;
      low_since = false;
    }
  }
  return spell;
}

/** Positions of the fills of which it is asked later how much they left: the last one, and that of the last spell. */
export function fillsAskedFor(visits: readonly Visit[]): ReadonlySet<number> {
  const last = visits.findLastIndex((visit) => visit.fill !== null);
  const spell = lastSpellOf(visits);
  return new Set([last, ...(spell === null ? [] : [spell.fill])].filter((entry) => entry >= 0));
}
