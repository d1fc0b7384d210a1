import { calendarFromDay, dayNumber, MONTH_NAMES } from "../../src/core/dates.ts";

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
