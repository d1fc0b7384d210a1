import { dayByFormat, dayNumber, formatShortDate, isoFromDay, MONTH_NAMES, monthsAfter } from "./dates.ts";
import { monthFromWord } from "./parse-date.ts";
import { type DateOrder, parseWhen } from "./parse-when.ts";
import { plainText, type Unreadable, unreadable } from "./typed-number.ts";

export type ParsedComingDay = { ok: true; iso: string } | Unreadable;

const EXAMPLE = "Enter a day, like tomorrow, Friday or";
const WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] as const;
/** Days are counted from a Thursday. */
const WEEKDAY_OF_DAY_0 = 3;
const FAR_MONTHS = 24;

/**
 * A day from `today` (an ISO date) on, as a person types it: `tomorrow`, `Friday` (the next one after today),
 * `in 3 days`, `in 2 weeks`, `14 Aug`, `14 Aug 2026`, and figures in the `order` of the place. At most two years ahead.
 * Never throws on text; throws RangeError when `today` is not a date.
 *
 * @example
 * parseComingDay("Friday", { today: "2026-05-04", order: null }) // { ok: true, iso: "2026-05-08" }
 */
export function parseComingDay(
  text: string,
  { today, order }: { today: string; order: DateOrder | null },
): ParsedComingDay {
  const now = dayNumber(today);
  const example = `${EXAMPLE} ${formatShortDate(isoFromDay(now + 7))}`;
  const plain = plainText(text);
  if (plain === null || plain === "") return unreadable(example);
  const counted = countedDays(plain, now);
  if (counted !== null) return { ok: true, iso: isoFromDay(now + counted) };
  const past = `That day is past. Enter ${formatShortDate(today)} or later`;
  if (/\b(?:yesterday|ago|last)\b/.test(plain)) return unreadable(past);
  const last = monthsAfter(today, FAR_MONTHS);
  const next = withoutYear(plain, now);
  if (next !== null) return { ok: true, iso: next };
  const day = parseWhen(text, { as_of: last, order });
  if (!day.ok) return unreadable(said(day.message, last, example));
  if (day.earliest !== day.latest) return unreadable(example);
  if (day.iso < today) return unreadable(past);
  return { ok: true, iso: day.iso };
}

/** What is wrong with a text that is no day up to `last`, in words for a day to come. */
function said(message: string, last: string, example: string): string {
  if (message.includes("in the future")) return `That is too far ahead. Enter ${formatShortDate(last)} or earlier`;
  return message.includes(" can be ") || message.startsWith("There is no such day") ? message : example;
}

/** `today`, `tomorrow`, a weekday, `in 3 days`, `2 weeks`: how many days on; null for anything else. */
function countedDays(plain: string, now: number): number | null {
  if (plain === "today") return 0;
  if (plain === "tomorrow") return 1;
  const weekday = WEEKDAYS.findIndex((name) => plain === name || plain === name.slice(0, 3));
  if (weekday >= 0) return ((((weekday - WEEKDAY_OF_DAY_0 - now - 1) % 7) + 7) % 7) + 1;
  const span = /^(?:in )?(\d{1,2}) (day|week)s?$/.exec(plain);
  return span === null ? null : Number(span[1]) * (span[2] === "week" ? 7 : 1);
}

/** `14 Aug`, `August 14`: the next such day; null where a year stands in it, or no month. */
function withoutYear(plain: string, now: number): string | null {
  const day = /^(?:(\d{1,2})(?:st|nd|rd|th)? ([a-z]{3,9})\.?|([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?)$/.exec(plain);
  const month = day === null ? null : monthFromWord(day[2] ?? day[3] ?? "");
  if (day === null || month === null) return null;
  const year = Number(isoFromDay(now).slice(0, 4));
  for (const of of [year, year + 1]) {
    const found = dayByFormat(`${day[1] ?? day[4]} ${MONTH_NAMES[month - 1]} ${of}`, ["d MMMM uuuu"]);
    if (found !== null && found >= now) return isoFromDay(found);
  }
  return null;
}
