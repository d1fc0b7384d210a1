import { UTCDateMini } from "@date-fns/utc";
import { addDays, addMonths, format, formatISO, getDaysInMonth, parse, parseISO, set, subYears } from "date-fns";
import { millisecondsInDay } from "date-fns/constants";

/**
 * Calendar dates as whole days: `YYYY-MM-DD` outside, day numbers (days since 1970-01-01) inside. No clock and no time
 * zone. The calendar is that of date-fns; these are the project's names for it.
 */

const FIRST_DAY = -719_528; // 0000-01-01
const LAST_DAY = 2_932_896; // 9999-12-31
const EPOCH = new UTCDateMini(0);
const ISO_DATE = /^\d{4}-\d{2}-\d{2}$/;

/** January to December. */
export const MONTH_NAMES: readonly string[] = Array.from({ length: 12 }, (_, month) =>
  format(set(EPOCH, { month }), "MMMM"),
);

/** A day of the calendar; `month` is 1–12. */
export interface CalendarDay {
  year: number;
  month: number;
  day: number;
}

const inUtc = (value: Date | number | string): Date => new UTCDateMini(Number(value));

/** A real day for an ISO date; an invalid one for any other text. */
function dateFromIso(text: string): Date {
  // `parseISO` takes other forms of the standard, too.
  return ISO_DATE.test(text) ? parseISO(text, { in: inUtc }) : new UTCDateMini(Number.NaN);
}

function dateFromDay(day: number): Date {
  if (!Number.isInteger(day) || day < FIRST_DAY || day > LAST_DAY) throw new RangeError(`No such day number: ${day}`);
  return addDays(EPOCH, day);
}

function dayFromDate(date: Date): number {
  return Number(date) / millisecondsInDay;
}

/** Days in `month` (1–12) of `year`. */
export function daysInMonth(year: number, month: number): number {
  return getDaysInMonth(set(EPOCH, { year, month: month - 1 }));
}

/** Whether these three whole numbers name a day that exists, in the years 0–9999. */
function isCalendarDay({ year, month, day }: CalendarDay): boolean {
  if (![year, month, day].every(Number.isInteger)) return false;
  if (year < 0 || year > 9999 || month < 1 || month > 12) return false;
  return day >= 1 && day <= daysInMonth(year, month);
}

/** Days from 1970-01-01 to a calendar day. Throws RangeError when there is no such day. */
export function dayFromCalendar({ year, month, day }: CalendarDay): number {
  if (!isCalendarDay({ year, month, day }))
    throw new RangeError(`No such day: year ${year}, month ${month}, day ${day}`);
  return dayFromDate(set(EPOCH, { year, month: month - 1, date: day }));
}

/**
 * The calendar day `day` days after 1970-01-01. Throws RangeError for a fraction or outside the years 0–9999.
 */
export function calendarFromDay(day: number): CalendarDay {
  const date = dateFromDay(day);
  return { year: date.getFullYear(), month: date.getMonth() + 1, day: date.getDate() };
}

/**
 * The day that `text` is in the first of `formats` (Unicode date field symbols, `d MMMM uuuu`) that it fits, as a day
 * number; null when it fits none, or names a day that does not exist. What a format leaves open is the first.
 */
export function dayByFormat(text: string, formats: readonly string[]): number | null {
  for (const each of formats) {
    const day = dayFromDate(parse(text, each, EPOCH, { in: inUtc }));
    if (day >= FIRST_DAY && day <= LAST_DAY) return day;
  }
  return null;
}

/** Whether `text` is `YYYY-MM-DD` and names a day that exists. */
export function isIsoDate(text: string): boolean {
  return !Number.isNaN(Number(dateFromIso(text)));
}

/**
 * Days from 1970-01-01 to an ISO date: `dayNumber("1970-01-02")` is 1. Throws RangeError when `iso` is not a real date.
 */
export function dayNumber(iso: string): number {
  const known = day_numbers.get(iso);
  if (known !== undefined) return known;
  const day = dayFromDate(dateFromIso(iso));
  if (Number.isNaN(day)) throw new RangeError(`Not a date: ${JSON.stringify(iso)}`);
  if (day_numbers.size === DAYS_KEPT) day_numbers.clear();
  day_numbers.set(iso, day);
  return day;
}

/** Day numbers of dates, kept because the model asks for those of a log again and again. */
const day_numbers = new Map<string, number>();
const DAYS_KEPT = 2000;

/** The ISO date `day` days after 1970-01-01. Throws RangeError for a fraction or outside the years 0–9999. */
export function isoFromDay(day: number): string {
  return formatISO(dateFromDay(day), { representation: "date" });
}

/**
 * The ISO date `years` years before `iso`; 28 February for a 29th in a common year. Throws RangeError as `dayNumber`.
 */
export function yearsBefore(iso: string, years: number): string {
  return isoFromDay(dayFromDate(subYears(dateFromDay(dayNumber(iso)), years)));
}

/**
 * The ISO date `months` months after `iso`, which need not be a whole number: whole months by the calendar, ending on
 * the last day where a month is too short, and then that part of the following month, to the nearest day. Throws
 * RangeError as `dayNumber`.
 */
export function monthsAfter(iso: string, months: number): string {
  const from = dateFromDay(dayNumber(iso));
  const whole = Math.floor(months);
  const day = dayFromDate(addMonths(from, whole));
  if (months === whole) return isoFromDay(day);
  const next = dayFromDate(addMonths(from, whole + 1));
  return isoFromDay(day + Math.round((months - whole) * (next - day)));
}

/** Day numbers of months' first days, by months since January of year 0; kept because clocks ask again and again. */
const month_starts = new Map<number, number>();

/** The first day of each calendar month from the one that `day` lies in, as day numbers, without end. */
export function* monthStarts(day: number): Generator<{ month: number; start: number }> {
  const { year, month } = calendarFromDay(day);
  for (let months = 12 * year + month - 1; ; months++) {
    let start = month_starts.get(months);
    if (start === undefined) {
      start = dayFromDate(set(EPOCH, { year: Math.floor(months / 12), month: months % 12 }));
      // At most the months of the years 0–9999.
      month_starts.set(months, start);
    }
    yield { month: (months % 12) + 1, start };
  }
}

/** An ISO date in words: `14 August 2027`. Throws RangeError when it is not a date. */
export function formatDate(iso: string): string {
  return format(dateFromDay(dayNumber(iso)), "d MMMM uuuu");
}

/** The same with a short month, as someone would type it: `14 Aug 2027`. Throws RangeError when it is not a date. */
export function formatShortDate(iso: string): string {
  return format(dateFromDay(dayNumber(iso)), "d MMM uuuu");
}

/** The month of an ISO date, short: `Aug 2027`. Throws RangeError when it is not a date. */
export function formatShortMonth(iso: string): string {
  return format(dateFromDay(dayNumber(iso)), "MMM uuuu");
}

/** The month of an ISO date: `August 2027`. Throws RangeError when it is not a date. */
export function formatMonth(iso: string): string {
  return format(dateFromDay(dayNumber(iso)), "MMMM uuuu");
}
