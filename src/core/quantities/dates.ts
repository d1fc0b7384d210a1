/**
 * Calendar dates as whole days in UTC: `YYYY-MM-DD` outside, days since 1970-01-01 inside. No clock and no time zone.
 * The Gregorian calendar is counted from 1 March, so that the leap day comes last and needs no case of its own.
 */

const DAYS_PER_ERA = 146_097; // 400 years
const DAYS_TO_1970 = 719_468; // from 0000-03-01
const FIRST_DAY = -719_528; // 0000-01-01
const LAST_DAY = 2_932_896; // 9999-12-31
const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})$/;

export const MONTH_NAMES = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** A day of the calendar; `month` is 1–12. */
export interface CalendarDay {
  year: number;
  month: number;
  day: number;
}

function isLeapYear(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/** Days in `month` (1–12) of `year`. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Whether these three whole numbers name a day that exists, in the years 0–9999. */
export function isCalendarDay({ year, month, day }: CalendarDay): boolean {
  return (
    Number.isInteger(year) &&
    Number.isInteger(month) &&
    Number.isInteger(day) &&
    year >= 0 &&
    year <= 9999 &&
    month >= 1 &&
    month <= 12 &&
    day >= 1 &&
    day <= daysInMonth(year, month)
  );
}

/** Days from 1970-01-01 to a calendar day. Throws RangeError when there is no such day. */
export function dayFromCalendar(date: CalendarDay): number {
  if (!isCalendarDay(date))
    throw new RangeError(`No such day: year ${date.year}, month ${date.month}, day ${date.day}`);
  const year = date.month > 2 ? date.year : date.year - 1;
  const month_from_march = date.month > 2 ? date.month - 3 : date.month + 9;
  const era = Math.floor(year / 400);
  const year_of_era = year - era * 400;
  const day_of_year = Math.floor((153 * month_from_march + 2) / 5) + date.day - 1;
  const day_of_era = year_of_era * 365 + Math.floor(year_of_era / 4) - Math.floor(year_of_era / 100) + day_of_year;
  return era * DAYS_PER_ERA + day_of_era - DAYS_TO_1970;
}

/** The calendar day `day` days after 1970-01-01. Throws RangeError for a fraction or outside the years 0–9999. */
export function calendarFromDay(day: number): CalendarDay {
  if (!Number.isInteger(day) || day < FIRST_DAY || day > LAST_DAY) throw new RangeError(`No such day number: ${day}`);
  const from_march = day + DAYS_TO_1970;
  const era = Math.floor(from_march / DAYS_PER_ERA);
  const day_of_era = from_march - era * DAYS_PER_ERA;
  const year_of_era = Math.floor(
    (day_of_era - Math.floor(day_of_era / 1460) + Math.floor(day_of_era / 36_524) - Math.floor(day_of_era / 146_096)) /
      365,
  );
  const day_of_year = day_of_era - (365 * year_of_era + Math.floor(year_of_era / 4) - Math.floor(year_of_era / 100));
  const month_from_march = Math.floor((5 * day_of_year + 2) / 153);
  const month = month_from_march < 10 ? month_from_march + 3 : month_from_march - 9;
  return {
    year: year_of_era + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: day_of_year - Math.floor((153 * month_from_march + 2) / 5) + 1,
  };
}

function calendarFromIso(text: string): CalendarDay | null {
  const parts = ISO_DATE.exec(text);
  if (parts === null) return null;
  const date = { year: Number(parts[1]), month: Number(parts[2]), day: Number(parts[3]) };
  return isCalendarDay(date) ? date : null;
}

/** Whether `text` is `YYYY-MM-DD` and names a day that exists. */
export function isIsoDate(text: string): boolean {
  return calendarFromIso(text) !== null;
}

/** Days from 1970-01-01 to an ISO date: `dayNumber("1970-01-02")` is 1. Throws RangeError when `iso` is not a real date. */
export function dayNumber(iso: string): number {
  const date = calendarFromIso(iso);
  if (date === null) throw new RangeError(`Not a date: ${JSON.stringify(iso)}`);
  return dayFromCalendar(date);
}

/** The ISO date `day` days after 1970-01-01. Throws RangeError for a fraction or outside the years 0–9999. */
export function isoFromDay(day: number): string {
  const { year, month, day: day_of_month } = calendarFromDay(day);
  return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day_of_month).padStart(2, "0")}`;
}
