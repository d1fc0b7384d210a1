import { requestBounds } from "../../../data/parameters.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { formatMonth } from "../../core/quantities/dates.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { type DateOrder, parseWhen, type When } from "../../core/quantities/parse-when.ts";
import { firstLogDate } from "../../core/question/log-dates.ts";
import { passesForADay } from "../../core/question/vague-dates.ts";

/** The parsed input, or the errors in the order of the fields. */
export type Read<Input> = { ok: true; input: Input } | { ok: false; errors: FieldError[] };

/** Collects errors, the first for each field only. */
export class Refusals {
  readonly #messages = new Map<string, string>();

  readonly refuse = (field: string, message: string): undefined => {
    if (!this.#messages.has(field)) this.#messages.set(field, message);
    return undefined;
  };

  /** The errors, in the order of `fields`. */
  inOrder(fields: readonly string[]): FieldError[] {
    return [...this.#messages].map(([field, message]) => ({ field, message })).toSorted(byPlaceIn(fields));
  }
}

/** Sorts errors in the order of the form. */
export function byPlaceIn(fields: readonly string[]) {
  return (a: FieldError, b: FieldError): number => fields.indexOf(a.field) - fields.indexOf(b.field);
}

const { first_date, years_before } = requestBounds.log;
const TOO_OLD = `Enter a date in the last ${years_before} years, ${first_date.slice(0, 4)} or later`;

/** The day of a record, and how the text was read. */
export interface RecordDay {
  iso: string;
  when: When;
}

/**
 * A day as a person types it, like `14 Aug 2025`, `early June '24` or `3 weeks ago`; or what would be right. What is
 * known to a month is kept as its best day. A season or a year is not: a record outlives the memory of it, and rules,
 * reminders and the yearly audit count from its day, so the month is asked for.
 */
export function readDay(typed: string, { today, date_order }: DayContext): RecordDay | { message: string } {
  if (typed.trim() === "") return { message: "Enter when it was, like today, 14 Aug 2025 or August 2025" };
  const when = parseWhen(typed, { as_of: today, order: date_order });
  if (!when.ok) {
    // This parser words the error without offering a season.
    const day = parseDate(typed, today);
    return { message: day.ok ? when.message : day.message };
  }
  if (!passesForADay(when)) {
    const month = formatMonth(when.iso);
    return {
      message: `That could be any time from ${formatMonth(when.earliest)} to ${formatMonth(when.latest)}. Enter the month it most likely was, like ${month}`,
    };
  }
  return when.iso < firstLogDate(today) ? { message: TOO_OLD } : { iso: when.iso, when };
}

/** How a date is read: the day where the records are, and the order of numeric dates there. */
export interface DayContext {
  today: string;
  /** Null: ambiguous dates are asked about. */
  date_order: DateOrder | null;
}

/** Text of at most `max_chars` code points; null when empty. */
export function readWords(typed: string, max_chars: number): { words: string | null } | { message: string } {
  // Forms send line breaks as CRLF.
  const words = typed.replaceAll("\r\n", "\n").trim();
  const chars = [...words].length;
  if (chars <= max_chars) return { words: words === "" ? null : words };
  const [most, over] = [max_chars, chars - max_chars].map((count) => pageNumber(count));
  return { message: `Keep to ${most} characters: this is ${over} too long` };
}
