import { pageNumber } from "./number-text.ts";
import { shortestText } from "./shortest-text.ts";
import { plainText, type Unreadable, unreadable } from "./typed-number.ts";
import type { UnitSystem } from "./units.ts";

/** Distances that a vehicle has covered: inside, kilometers. */

/** The international mile, exact (NIST SP 811, 2008, appendix B.8). */
const KM_PER_MILE = 1.609344;

export type DistanceUnit = "mi" | "km";

const KM_PER_UNIT: Readonly<Record<DistanceUnit, number>> = { mi: KM_PER_MILE, km: 1 };

const UNIT_WORDS: Readonly<Record<string, DistanceUnit>> = {
  mi: "mi",
  mile: "mi",
  miles: "mi",
  km: "km",
  kms: "km",
  kilometer: "km",
  kilometers: "km",
  kilometre: "km",
  kilometres: "km",
};

/** The unit of distance that a word names; null for none. */
export function distanceUnitOf(word: string): DistanceUnit | null {
  return UNIT_WORDS[word] ?? null;
}

/** The unit in which people of a system read an odometer. */
export function distanceUnitIn(system: UnitSystem): DistanceUnit {
  return system === "us" ? "mi" : "km";
}

/** Kilometers in a unit. */
export function distanceIn(km: number, unit: DistanceUnit): number {
  return km / KM_PER_UNIT[unit];
}

const GROUPED = /^\d{1,3}([., ]\d{3})+$/;
const PLAIN = /^\d+([.,]\d{1,2})?$/;
const MOST_DECIMALS = 2;

/**
 * A reading as it stands on an odometer or in a sheet, like `84,200 miles`, `135.500 km` or `84200`; a bare number is
 * in `usual`. No odometer shows thousandths, so a sign before three digits groups them.
 */
export function parseDistance(typed: string, usual: DistanceUnit): { ok: true; km: number } | Unreadable {
  const text = plainText(typed) ?? "";
  const at = text.search(/[a-z]/);
  const figures = (at < 0 ? text : text.slice(0, at)).trim();
  const unit = at < 0 ? usual : distanceUnitOf(text.slice(at).replace(".", ""));
  if (unit !== null && GROUPED.test(figures))
    return { ok: true, km: Number(figures.replace(/[., ]/g, "")) * KM_PER_UNIT[unit] };
  if (unit !== null && PLAIN.test(figures))
    return { ok: true, km: Number(figures.replace(",", ".")) * KM_PER_UNIT[unit] };
  return unreadable("Enter the reading, like 84,200 miles or 135,500 km");
}

/** `84,200 miles`, `135,500 km`. */
export function saidDistance(km: number, system: UnitSystem): string {
  const unit = distanceUnitIn(system);
  return `${pageNumber(distanceIn(km, unit), 0)} ${unit === "mi" ? "miles" : "km"}`;
}

/** A reading as a person would type it, in the unit of the system or else the one in which it was taken. */
export function typedDistance(km: number, system: UnitSystem): string {
  const usual = distanceUnitIn(system);
  const is_same = (text: string) => {
    const read = parseDistance(text, usual);
    return read.ok && read.km === km;
  };
  const inUnit = (unit: DistanceUnit) =>
    shortestText(distanceIn(km, unit), unit === "mi" ? "miles" : "km", is_same, MOST_DECIMALS);
  return inUnit(usual) ?? inUnit("mi") ?? inUnit("km") ?? `${km.toFixed(MOST_DECIMALS)} km`;
}
