import { requestBounds } from "../../../data/parameters.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { formatMonth } from "../../core/quantities/dates.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { type DateOrder, parseWhen, type When, withinDays } from "../../core/quantities/parse-when.ts";
import { firstLogDate } from "../../core/question/log-dates.ts";
import { isVague } from "../../core/question/vague-dates.ts";

/** The parsed input, or the errors in the order of the fields. */
export type Read<Input> = { ok: true; input: Input } | { ok: false; errors: FieldError[] };

/** Collects errors, the first for each field only. */
export class Refusals {
  readonly #messages = new Map<string, string>();

  readonly refuse = (field: string, message: string): undefined => {
    if (!this.#messages.has(field)) this.#messages.set(field, message);
    return undefined;
  };

  has(field: string): boolean {
    return this.#messages.has(field);
  }

  /** The errors, in the order in which they were found. */
  all(): FieldError[] {
    return [...this.#messages].map(([field, message]) => ({ field, message }));
  }

  /** The errors, in the order of `fields`. */
  inOrder(fields: readonly string[]): FieldError[] {
    return this.all().toSorted(byPlaceIn(fields));
  }
}

/** The message for a text of more than `most_chars` code points; null where it fits. */
export function tooLong(text: string, most_chars: number): string | null {
  return [...text].length > most_chars ? `Keep it to ${most_chars} characters` : null;
}

/** Sorts errors in the order of the form. */
function byPlaceIn(fields: readonly string[]) {
  return (a: FieldError, b: FieldError): number => fields.indexOf(a.field) - fields.indexOf(b.field);
}

const { first_date, years_before } = requestBounds.log;
const TOO_OLD = `Enter a date in the last ${years_before} years, ${first_date.slice(0, 4)} or later`;

/** The day of a record, how many days earlier or later it may have been, and how the text was read. */
export interface RecordDay {
  iso: string;
  /** Null: it was that day. */
  within_days: number | null;
  when: When;
}

/**
 * A day as a person types it, like `14 Aug 2025`, `early June '24` or `3 weeks ago`; or what would be right. What is
 * known to a month stands for a day. A season or a year is for the charge log alone, which keeps how vague it is
 * (`readVisitDay`); anywhere else the month is asked for.
 */
export function readDay(typed: string, context: DayContext): RecordDay | { message: string } {
  const day = readVisitDay(typed, context);
  if ("message" in day) {
    // This parser words the error without offering a season.
    const strict = typed.trim() === "" ? null : parseDate(typed, context.today);
    return strict === null || strict.ok ? day : strict;
  }
  const { when } = day;
  if (!isVague({ date_within_days: day.within_days })) return day;
  return {
    message: `That could be any time from ${formatMonth(when.earliest)} to ${formatMonth(when.latest)}. Enter the month it most likely was, like ${formatMonth(when.iso)}`,
  };
}

/** When something was done to a vehicle, as people remember it, `summer 2024` too; or what would be right. */
export function readVisitDay(typed: string, { today, date_order }: DayContext): RecordDay | { message: string } {
  if (typed.trim() === "") return { message: "Enter when it was, like today, 14 Aug 2025 or August 2025" };
  const when = parseWhen(typed, { as_of: today, order: date_order });
  if (!when.ok) return when;
  if (when.iso < firstLogDate(today)) return { message: TOO_OLD };
  return { iso: when.iso, within_days: withinDays(when) || null, when };
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
