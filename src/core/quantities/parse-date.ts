import {
  type CalendarDay,
  dayFromCalendar,
  dayNumber,
  formatShortDate,
  isCalendarDay,
  isoFromDay,
  MONTH_NAMES,
} from "./dates.ts";
import { plainText, type Unreadable, unreadable } from "./typed-number.ts";

/** `approximate` when only the month was given: the day is then the middle of it. */
export type ParsedDate = { ok: true; iso: string; approximate: boolean } | Unreadable;

const EXAMPLE = "Enter a date, like 14 Aug 2025 or August 2025";
const NO_SUCH_DAY = "There is no such day. Enter a date, like 14 Aug 2025";
const YEAR_IN_FULL = "Write the year in full, like 14 Aug 2025";
const MIDDLE_OF_MONTH = 15;

/** 1–12 for a month's name or its first three or four letters, else null. */
export function monthFromWord(word: string): number | null {
  if (word.length < 3) return null;
  const index = MONTH_NAMES.findIndex((name) => {
    const full = name.toLowerCase();
    return word === full || (word.length <= 4 && full.startsWith(word));
  });
  return index < 0 ? null : index + 1;
}

/**
 * A date as a person types it: `2025-08-14`, `14 Aug 2025`, `Aug 14, 2025`, `August 2025`, `14.8.2025` where only one
 * order of day and month exists. `03/04/2025` is refused: half the world would read it wrongly.
 * With `as_of` (an ISO date), `today` and `yesterday` are understood, a month that is not over by then keeps to its past
 * part, and later dates are refused. Never throws on text; throws RangeError when `as_of` is not a date.
 */
export function parseDate(text: string, as_of?: string): ParsedDate {
  const today = as_of === undefined ? null : dayNumber(as_of);
  const plain = plainText(text);
  if (plain === null) return unreadable(EXAMPLE);
  if (today !== null && plain === "today") return exact(today, today);
  if (today !== null && plain === "yesterday") return exact(today - 1, today);
  return fromFigures(plain, today) ?? fromWords(plain, today) ?? unreadable(EXAMPLE);
}

/** `2025-08-14`, `14/08/2025`, `8.14.2025`: null when it is not three groups of figures. */
function fromFigures(plain: string, today: number | null): ParsedDate | null {
  const groups = /^(\d+) ?([-/.]) ?(\d+) ?\2 ?(\d+)$/.exec(plain);
  if (groups === null) return null;
  const [first, middle, last] = [groups[1]!, groups[3]!, groups[4]!];
  if (first.length === 4) return fromCalendar({ year: +first, month: +middle, day: +last }, today);
  if (last.length !== 4) return unreadable(last.length < 4 ? YEAR_IN_FULL : EXAMPLE);
  const day_first = { year: +last, month: +middle, day: +first };
  const month_first = { year: +last, month: +first, day: +middle };
  if (!isCalendarDay(day_first)) return fromCalendar(month_first, today);
  if (!isCalendarDay(month_first) || first === middle) return fromCalendar(day_first, today);
  return unreadable(
    `${plain} can be ${inWords(day_first)} or ${inWords(month_first)}. Write the month as a word, like ${inWords(day_first)}`,
  );
}

/** `14 Aug 2025`, `Aug 14, 2025`, `August 2025`: null when no month is named. */
function fromWords(plain: string, today: number | null): ParsedDate | null {
  if (!/^[a-z\d ,./-]+$/.test(plain)) return null;
  const words = (plain.replace(/(?<=\d)(st|nd|rd|th)\b/g, "").match(/\d+|[a-z]+/g) ?? []).filter(
    (word) => word !== "of",
  );
  const months = words.map(monthFromWord);
  const at = months.findIndex((month) => month !== null);
  const month = months[at];
  if (month === undefined || month === null) return null;
  const figures = words.filter((_, i) => i !== at);
  if (figures.length > 2 || !figures.every((word) => /^\d{1,4}$/.test(word))) return null;
  const [first, second] = figures;
  if (first === undefined) return unreadable("Add the year, like August 2025");
  if (second === undefined) {
    if (first.length !== 4) return unreadable("Add the year in full, like 14 Aug 2025 or August 2025");
    return fromMonth(+first, month, today);
  }
  const [year, day] = first.length === 4 ? [first, second] : [second, first];
  if (year.length !== 4) return unreadable(YEAR_IN_FULL);
  return fromCalendar({ year: +year, month, day: +day }, today);
}

function fromMonth(year: number, month: number, today: number | null): ParsedDate {
  const first = dayFromCalendar({ year, month, day: 1 });
  const middle = first + MIDDLE_OF_MONTH - 1;
  if (today !== null && first <= today && today < middle) {
    return { ok: true, iso: isoFromDay(today), approximate: true };
  }
  const dated = exact(middle, today);
  return dated.ok ? { ...dated, approximate: true } : dated;
}

function fromCalendar(date: CalendarDay, today: number | null): ParsedDate {
  return isCalendarDay(date) ? exact(dayFromCalendar(date), today) : unreadable(NO_SUCH_DAY);
}

function exact(day: number, today: number | null): ParsedDate {
  if (today !== null && day > today) {
    return unreadable(`That is in the future. Enter a date up to ${formatShortDate(isoFromDay(today))}`);
  }
  return { ok: true, iso: isoFromDay(day), approximate: false };
}

function inWords(date: CalendarDay): string {
  return formatShortDate(isoFromDay(dayFromCalendar(date)));
}
