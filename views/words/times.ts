import { calendarFromDay, dayNumber, MONTH_NAMES } from "../../src/core/quantities/dates.ts";
import { formatMonths } from "../../src/core/quantities/format.ts";

/** `August 2027`. */
export function saidMonth(iso: string): string {
  const { year, month } = calendarFromDay(dayNumber(iso));
  return `${MONTH_NAMES[month - 1]} ${year}`;
}

/** A span of years as it was typed or asked for: `3 months`, `1 year`, `2.5 years`. */
export function saidYears(years: number): string {
  if (years < 1) return `${Number((years * 12).toFixed(1))} months`;
  return years === 1 ? "1 year" : `${Number(years.toFixed(2))} years`;
}

/** From one span of months to another, the unit once where it is the same: `3 to 9 months`, `10 months to 2 years`. */
export function saidSpan(from_months: number, to_months: number): string {
  const from = formatMonths(from_months);
  const to = formatMonths(to_months);
  if (from === to) return `about ${from}`;
  const unit = to.slice(to.lastIndexOf(" "));
  return `${from.endsWith(unit) ? from.slice(0, -unit.length) : from} to ${to}`;
}

/** How long after something, as in `9 days after it was filled`; 0 is the same day. */
export function saidDaysAfter(days: number): string {
  if (days === 0) return "on the day that";
  return days === 1 ? "1 day after" : `${days} days after`;
}
