import { formatDate } from "../../src/core/quantities/dates.ts";
import { saidDistance } from "../../src/core/quantities/distance.ts";
import { formatMass, formatMoney } from "../../src/core/quantities/format.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { OUNCES_PER_POUND, ouncesFromGrams, type UnitSystem } from "../../src/core/quantities/units.ts";
import type { Odometer } from "../../src/core/question/record.ts";

/*
 * Estimates as a person says them: rounded to what they are good for. The unrounded numbers stand in the tables behind
 * the charts (as `<data value>`) and in the API.
 */

/** About two figures: 7, 35, 390, 1050, 12500. */
export function estimated(value: number): number {
  const size = Math.abs(value);
  const step = size < 20 ? 1 : size < 100 ? 5 : size < 1000 ? 10 : size < 10_000 ? 50 : 500;
  return Math.round(value / step) * step;
}

/** `$390`, `−$35`, `$1,050`; `currency` is an ISO 4217 code. */
export function saidMoney(amount: number, currency = "USD"): string {
  return formatMoney(estimated(amount), currency);
}

/** What one amount is above another, taken from the two as they are said, so that a reader can check it. */
export function saidDifference(more: number, less: number, currency = "USD"): string {
  return formatMoney(estimated(more) - estimated(less), currency);
}

/** From one amount to another; one figure where both are said alike: `$800 to $1,600`, `about $1,250`. */
export function saidMoneySpan(from: number, to: number, currency = "USD"): string {
  const [low, high] = [saidMoney(from, currency), saidMoney(to, currency)];
  return low === high ? `about ${low}` : `${low} to ${high}`;
}

/** `3.5 oz`, `38 oz`, `7.5 lb`; `390 g`, `1100 g`. One unit at a time, so that two amounts compare at a glance. */
export function saidMass(grams: number, units: UnitSystem): string {
  if (units === "metric") return joined(formatMass(estimated(grams), units));
  const ounces = ouncesFromGrams(grams);
  if (ounces >= MOST_OUNCES) return joined(`${figure(ounces / OUNCES_PER_POUND)} lb`);
  return joined(`${roundedOunces(ounces)} oz`);
}

/** The same for a column of one unit, ounces or grams, that its heading names: `3.5`, `38`, `1,170`. */
export function massFigure(grams: number, units: UnitSystem): string {
  return pageNumber(units === "metric" ? estimated(grams) : roundedOunces(ouncesFromGrams(grams)));
}

function roundedOunces(ounces: number): number {
  return ounces < 4 ? Math.round(ounces * 2) / 2 : Math.round(ounces);
}

/** From one mass to another in one unit: `2 to 12 oz`, `3.5 to 8 lb`, `340 to 500 g`. */
export function saidMassSpan(from_g: number, to_g: number, units: UnitSystem): string {
  const to = saidMass(to_g, units);
  const unit = to.slice(to.lastIndexOf("\u00a0"));
  const from =
    unit === "\u00a0lb" ? `${figure(ouncesFromGrams(from_g) / OUNCES_PER_POUND)}${unit}` : saidMass(from_g, units);
  if (from === to) return `about ${to}`;
  return `${from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
}

/** Above, pounds are easier. */
const MOST_OUNCES = 64;

/** Released refrigerant: always in grams too, the unit that releases are reported in: `38 oz (1100 g)`, `1100 g`. */
export function saidRelease(grams: number, units: UnitSystem): string {
  const said = saidMass(grams, "metric");
  return units === "metric" ? said : `${saidMass(grams, units)} (${said})`;
}

/** Carbon dioxide equivalent: `0.7 kg`, `54 kg`, `1,650 kg`. */
export function saidCo2e(kg: number): string {
  return joined(`${figure(kg)} kg`);
}

/** A count for everyday comparisons: `7`, `190`. */
export function saidCount(count: number): string {
  return pageNumber(estimated(count));
}

/** A chance as cases: `81 of 100`; `under 1 of 100` and `over 99 of 100` where it is nearly 0 or 1. */
export function saidChance(share: number): string {
  return joined(`${hundredths(share)} of 100`);
}

/** A share of something: `62%`. */
export function saidPercent(share: number): string {
  return `${hundredths(share)}%`;
}

/** Two figures below 10, about two above. */
function figure(value: number): string {
  return pageNumber(value < 10 ? Number(value.toPrecision(2)) : estimated(value));
}

/** A mass as it was weighed or stands on a label: `10.6 oz`, `1 lb 3.4 oz`, `550 g`. */
export function saidExactMass(grams: number, units: UnitSystem): string {
  return joined(formatMass(grams, units));
}

/** A number stays with its unit at the end of a line. */
export function joined(text: string): string {
  return text.replaceAll(" ", "\u00a0");
}

function hundredths(share: number): string {
  if (share > 0 && share < 0.005) return "under 1";
  if (share < 1 && share >= 0.995) return "over 99";
  return String(Math.round(share * 100));
}

/** `84,200 miles on Apr 2, 2026`. */
export function saidOdometer({ km, on }: Odometer, units: UnitSystem): string {
  return `${saidDistance(km, units)} on ${formatDate(on)}`;
}
