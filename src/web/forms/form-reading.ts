import { requestBounds } from "../../../data/parameters.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { firstLogDate } from "../../core/question/log-dates.ts";

/** What was typed, read; or each thing to put right, in the order of the fields. */
export type Read<Input> = { ok: true; input: Input } | { ok: false; errors: FieldError[] };

/** Takes down what is to be put right, the first word about a field only. */
export class Refusals {
  readonly #messages = new Map<string, string>();

  readonly refuse = (field: string, message: string): undefined => {
    if (!this.#messages.has(field)) this.#messages.set(field, message);
    return undefined;
  };

  /** What was refused, in the order of `fields`. */
  inOrder(fields: readonly string[]): FieldError[] {
    return [...this.#messages].map(([field, message]) => ({ field, message })).toSorted(byPlaceIn(fields));
  }
}

/** Sorts what is to be put right as its fields stand in the form. */
export function byPlaceIn(fields: readonly string[]) {
  return (a: FieldError, b: FieldError): number => fields.indexOf(a.field) - fields.indexOf(b.field);
}

const { first_date, years_before } = requestBounds.log;
const TOO_OLD = `Enter a date in the last ${years_before} years, ${first_date.slice(0, 4)} or later`;

/** A day as a person types it, `YYYY-MM-DD`; or what would be right. */
export function readDay(typed: string, today: string): { iso: string } | { message: string } {
  if (typed.trim() === "") return { message: "Enter when it was, like today, 14 Aug 2025 or August 2025" };
  const day = parseDate(typed, today);
  if (!day.ok) return { message: day.message };
  return day.iso < firstLogDate(today) ? { message: TOO_OLD } : { iso: day.iso };
}

/** Words of at most so many characters, counted as code points; null for none. */
export function readWords(typed: string, max_chars: number): { words: string | null } | { message: string } {
  // A form sends every line break as two signs.
  const words = typed.replaceAll("\r\n", "\n").trim();
  const chars = [...words].length;
  if (chars <= max_chars) return { words: words === "" ? null : words };
  const [most, over] = [max_chars, chars - max_chars].map((count) => count.toLocaleString("en-US"));
  return { message: `Keep to ${most} characters: this is ${over} too long` };
}
