import { dayByFormat, dayNumber, isIsoDate, isoFromDay } from "../../../core/quantities/dates.ts";
import { parseDate } from "../../../core/quantities/parse-date.ts";
import { DATE_ORDERS, type DateOrder, fullYear } from "../../../core/quantities/parse-when.ts";
import { LONGEST_TEXT } from "../../../core/quantities/typed-number.ts";

/**
 * Dates of a column. Where one date can be read two ways (3/4/2025), the whole column decides: a single 25/4/2025 in it
 * settles the order. Where nothing settles it the person is asked, for a guess would be wrong half the time.
 */

/** What the cells of a column say about the order of day and month. */
export interface DateEvidence {
  /** Numeric dates that are valid in one order only, and an example. */
  day_first: number;
  month_first: number;
  /** Numeric dates that are valid in both orders. */
  either: number;
  example: string | null;
}

/** Evidence of a column none of whose cells has been seen. */
export function noDateEvidence(): DateEvidence {
  return { day_first: 0, month_first: 0, either: 0, example: null };
}

/** `25.4.2025`, `4/25/25 13:05`. */
const FIGURES = /^(\d{1,2}) ?([./-]) ?(\d{1,2}) ?\2 ?(\d{4}|\d{2})$/;
const TIME_OF_DAY = /[T ]+\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?( ?[ap]\.?m\.?)?(Z|[+-]\d{2}:?\d{2})?$/i;
/** A spreadsheet's day number, where 1 is 1 January 1900 (1982 to 2064 here). */
const SHEET_DAYS = /^(3\d{4}|[45]\d{4})$/;
/** `20260601`. */
const RUN_TOGETHER = /^((?:19|20)\d\d)(\d\d)(\d\d)$/;
/** `01-May-26`, `1 May 26`, `May 1, 26`: a month in words and a year in two figures. */
const SHORT_YEAR = /^(\d{1,2}[-. /]+[a-z]{3,9}[-. /,]+|[a-z]{3,9}[-. /]+\d{1,2}[-. /,]+)'?(\d{2})$/i;
const SHEET_DAY_ZERO = dayNumber("1899-12-30");

/** Adds one cell to the evidence. */
export function weighDate(evidence: DateEvidence, cell: string): void {
  const figures = FIGURES.exec(withoutTime(cell));
  if (figures === null) return;
  const [first, second] = [Number(figures[1]), Number(figures[3])];
  if (first === second) return;
  const day_first = second >= 1 && second <= 12;
  const month_first = first >= 1 && first <= 12;
  if (day_first && month_first) {
    evidence.either++;
    evidence.example ??= cell.trim();
  } else if (day_first) evidence.day_first++;
  else if (month_first) evidence.month_first++;
}

export type DateDecision = { order: DateOrder; asked: false } | { order: null; asked: boolean };

/** The order that the column shows; `asked`: it matters, and only the person can tell. */
export function dateOrderOf({ day_first, month_first, either }: DateEvidence): DateDecision {
  if (day_first > 0 && month_first === 0) return { order: "day-first", asked: false };
  if (month_first > 0 && day_first === 0) return { order: "month-first", asked: false };
  // Both orders occur, or neither.
  return { order: null, asked: either > 0 };
}

export type ReadDate = { ok: true; iso: string; mends: string[] } | { ok: false; message: string };

/** Reads one cell in a known order; `order` is null where the column needs none. `today` is the last valid day. */
export function readDate(cell: string, order: DateOrder | null, today: string): ReadDate {
  const mends: string[] = [];
  const text = withoutTime(cell);
  if (text !== cell.trim()) mends.push("the time of day was left out");
  if (SHEET_DAYS.test(text)) {
    mends.push("the spreadsheet's day number was read as a date");
    return settled(isoFromDay(SHEET_DAY_ZERO + Number(text)), mends, today);
  }
  const run_together = RUN_TOGETHER.exec(text);
  if (run_together !== null) return settled(run_together.slice(1).join("-"), mends, today);
  const short_year = SHORT_YEAR.exec(text);
  if (short_year !== null) {
    const [, day_and_month, last] = short_year;
    const year = fullYear(last!, today);
    mends.push(`the year ${last} was read as ${year}`);
    return settled(`${day_and_month}${year}`, mends, today);
  }
  const figures = FIGURES.exec(text);
  if (figures === null) return settled(text, mends, today);

  const [, first, , second, last] = figures;
  const year = fullYear(last!, today);
  if (last!.length === 2) mends.push(`the year ${last} was read as ${year}`);
  const orders = order === null ? DATE_ORDERS : [order];
  const read = orders.map((each) => dayByFormat(`${first}-${second}-${year}`, [FORMATS[each]]));
  const days = new Set(read.filter((day) => day !== null));
  // No order is known: only an unambiguous cell gets through.
  if (days.size > 1) return { ok: false, message: "Day and month could be either way round. Say which comes first." };
  const [day] = days;
  if (day !== undefined) return settled(isoFromDay(day), mends, today);
  const said = order === null ? "" : `, read ${order === "month-first" ? "month first" : "day first"}`;
  return { ok: false, message: `There is no such day${said}.` };
}

const FORMATS: Readonly<Record<DateOrder, string>> = { "day-first": "d-M-uuuu", "month-first": "M-d-uuuu" };

function withoutTime(cell: string): string {
  // No date is longer, and the pattern takes quadratic time on a long run of spaces.
  if (cell.length > LONGEST_TEXT) return cell;
  return cell.trim().replace(TIME_OF_DAY, "");
}

function settled(text: string, mends: string[], today: string): ReadDate {
  // The usual case first: the general parser tries everything that a person may type.
  if (isIsoDate(text) && text <= today) return { ok: true, iso: text, mends };
  const parsed = parseDate(text, today);
  if (!parsed.ok) return { ok: false, message: parsed.message };
  if (parsed.approximate) mends.push("only the month was given; the middle of it was taken");
  return { ok: true, iso: parsed.iso, mends };
}
