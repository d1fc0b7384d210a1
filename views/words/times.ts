export { formatMonth as saidMonth } from "../../src/core/quantities/dates.ts";

import { formatMonths } from "../../src/core/quantities/format.ts";
import { joined } from "./numbers.ts";

/** A span of months, the number with its unit at the end of a line: `6 months`, `2½ years`. */
export function saidMonths(months: number): string {
  return joined(formatMonths(months));
}

/** A span of years as it was typed or asked for: `3 months`, `1 year`, `2.5 years`. */
export function saidYears(years: number): string {
  if (years < 1) return joined(`${Number((years * 12).toFixed(1))} months`);
  return joined(years === 1 ? "1 year" : `${Number(years.toFixed(2))} years`);
}

/** From one span of months to another, the unit once where it is the same: `3 to 9 months`, `10 months to 2 years`. */
export function saidSpan(from_months: number, to_months: number): string {
  const from = saidMonths(from_months);
  const to = saidMonths(to_months);
  if (from === to) return `about ${from}`;
  const unit = to.slice(to.lastIndexOf("\u00a0"));
  return `${from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
}

/** A number of days as a person says it: `9 days`, `7 weeks`, `4 months`. */
export function saidDays(days: number): string {
  if (days < 21) return joined(days === 1 ? "1 day" : `${days} days`);
  if (days < 70) return joined(`${Math.round(days / 7)} weeks`);
  return saidMonths(days / 30.4375);
}
