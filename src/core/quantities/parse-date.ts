import { dayByFormat, dayNumber, formatShortDate, isoFromDay, MONTH_NAMES } from "./dates.ts";
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
 * With `as_of` (an ISO date), `today` and `yesterday` are understood, a month that is not over by then keeps to its
 * past part, and later dates are refused. Never throws on text; throws RangeError when `as_of` is not a date.
 *
 * @example
 * parseDate("14 Aug 2025", "2026-05-01") // { ok: true, iso: "2025-08-14" }
 */
export function parseDate(text: string, as_of?: string): ParsedDate {
  const today = as_of === undefined ? null : dayNumber(as_of);
  const plain = plainText(text);
  if (plain === null) return unreadable(EXAMPLE);
  if (today !== null && plain === "today") return dayOrNone(today, today);
  if (today !== null && plain === "yesterday") return dayOrNone(today - 1, today);
  return fromFigures(plain, today) ?? fromWords(plain, today) ?? unreadable(EXAMPLE);
}

/** `2025-08-14`, `14/08/2025`, `8.14.2025`: null when it is not three groups of figures. */
function fromFigures(plain: string, today: number | null): ParsedDate | null {
  const groups = /^(\d+) ?([-/.]) ?(\d+) ?\2 ?(\d+)$/.exec(plain);
  if (groups === null) return null;
  const [first, middle, last] = [groups[1]!, groups[3]!, groups[4]!];
  const figures = `${first}-${middle}-${last}`;
  if (first.length === 4) return dayOrNone(dayByFormat(figures, ["uuuu-M-d"]), today);
  if (last.length !== 4) return unreadable(last.length < 4 ? YEAR_IN_FULL : EXAMPLE);
  const day_first = dayByFormat(figures, ["d-M-uuuu"]);
  const month_first = dayByFormat(figures, ["M-d-uuuu"]);
  if (day_first === null || month_first === null || day_first === month_first)
    return dayOrNone(day_first ?? month_first, today);
  const [one, other] = [day_first, month_first].map((day) => formatShortDate(isoFromDay(day)));
  return unreadable(`${plain} can be ${one} or ${other}. Write the month as a word, like ${one}`);
}

/** `14 Aug 2025`, `Aug 14, 2025`, `August 2025`: null when no month is named. */
function fromWords(plain: string, today: number | null): ParsedDate | null {
  if (!/^[a-z\d ,./-]+$/.test(plain)) return null;
  const words = (plain.replace(/(?<=\d)(st|nd|rd|th)\b/g, "").match(/\d+|[a-z]+/g) ?? []).filter(
    (word) => word !== "of",
  );
  const at = words.findIndex((word) => monthFromWord(word) !== null);
  if (at < 0) return null;
  const figures = words.toSpliced(at, 1);
  if (figures.length > 2 || !figures.every((word) => /^\d{1,4}$/.test(word))) return null;
  if (figures.length === 0) return unreadable("Add the year, like August 2025");
  const has_year = figures.some((word) => word.length === 4);
  const in_full = words.with(at, MONTH_NAMES[monthFromWord(words[at]!)! - 1]!).join(" ");
  if (figures.length === 1) {
    if (!has_year) return unreadable("Add the year in full, like 14 Aug 2025 or August 2025");
    return fromMonth(dayByFormat(in_full, ["MMMM uuuu", "uuuu MMMM"]), today);
  }
  if (!has_year) return unreadable(YEAR_IN_FULL);
  return dayOrNone(dayByFormat(in_full, ["d MMMM uuuu", "MMMM d uuuu", "uuuu MMMM d", "uuuu d MMMM"]), today);
}

/** The middle of the month that begins on `first`, or today where that is still to come. */
function fromMonth(first: number | null, today: number | null): ParsedDate {
  if (first === null) return unreadable(NO_SUCH_DAY);
  const middle = first + MIDDLE_OF_MONTH - 1;
  const day = today !== null && first <= today && today < middle ? today : middle;
  const dated = dayOrNone(day, today);
  return dated.ok ? { ...dated, approximate: true } : dated;
}

function dayOrNone(day: number | null, today: number | null): ParsedDate {
  if (day === null) return unreadable(NO_SUCH_DAY);
  if (today !== null && day > today) {
    return unreadable(`That date is in the future. Enter ${formatShortDate(isoFromDay(today))} or earlier`);
  }
  return { ok: true, iso: isoFromDay(day), approximate: false };
}
