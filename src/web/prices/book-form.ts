import type { NumberFormatId } from "../../../data/number-formats.ts";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { BookFields } from "../../../views/prices/book-form.tsx";
import {
  formatPercent,
  formatQuantity,
  type ParsedDecimal,
  parseAmount,
  parsePercent,
  parseQuantity,
  parseUnitPrice,
  plainAmount,
  plainUnitPrice,
} from "../../core/quantities/money.ts";
import { decimalSign } from "../../core/quantities/number-text.ts";
import { bookBounds, OWN_LINES, type OwnLine, PRICED_PER, type PriceBook } from "../../core/quotes/price-book.ts";
import { LINE_KINDS } from "../../core/quotes/quote.ts";
import { Refusals, tooLong } from "../forms/form-reading.ts";
import { put, valueAt } from "../forms/paths.ts";
import { typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf } from "../forms/typed-values.ts";
import { priceBook } from "../schemas/quote-schema.ts";
import { BOOK_FIELDS, type BookField, mayBeNone } from "./book-fields.ts";

/** How amounts are typed and written. */
export interface AmountStyle {
  currency: string;
  format: NumberFormatId;
}

/** A stored book as form fields. */
export function fieldsOfBook(book: PriceBook, style: AmountStyle): BookFields {
  return Object.fromEntries(BOOK_FIELDS.map((field) => [field.id, typed(valueAt(book, field.path), field, style)]));
}

/**
 * The form of a new book: hours, weights and other non-money fields from the sample, and no prices from another
 * currency.
 */
export function blankBook(style: AmountStyle): BookFields {
  const usual = fieldsOfBook(RETAIL_BOOK, style);
  const kept: ReadonlySet<string> = new Set(["hours", "flag", "per", "months", "words", "days"]);
  return Object.fromEntries(
    BOOK_FIELDS.map(({ id, kind }) => [id, kept.has(kind) ? (usual[id] ?? "") : (NO_MONEY[id] ?? "")]),
  );
}

/** Preset fields that are not in the sample's currency: the name, and no taxes. */
const NO_MONEY: Readonly<Record<string, string>> = {
  name: "My prices",
  supplies: "0",
  tax_parts_name: "Tax on parts",
  tax_parts: "0",
  tax_labor_name: "Tax on labor",
  tax_labor: "0",
};

/** The posted fields as typed; a missing one is empty. */
export function fieldsOfForm(form: URLSearchParams): BookFields {
  return typedFields(
    form,
    BOOK_FIELDS.map(({ id }) => id),
  );
}

/** Parses the fields; each unreadable one gets a message. */
export function readBook(
  fields: BookFields,
  style: AmountStyle,
): { ok: true; book: PriceBook } | { ok: false; errors: FieldError[] } {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const book: Record<string, unknown> = { currency: style.currency };
  for (const field of BOOK_FIELDS) {
    if (mayBeNone(field) && (fields[field.id] ?? "").trim() === "") continue;
    const value = read(fields[field.id] ?? "", field, style);
    if (typeof value === "object" && value !== null) refuse(field.id, value.message);
    else put(book, field.path, value);
  }
  const own_lines = readOwnLines(fields, book.own_lines, refusals);
  const errors = refusals.all();
  if (errors.length > 0) return { ok: false, errors };
  // Every field of the table was read into its place, so that the book is whole.
  return { ok: true, book: priceBook.parse({ ...book, own_lines }) };
}

/** The shop's own lines, each whole or not at all; undefined for none. */
function readOwnLines(fields: BookFields, read: unknown, refusals: Refusals): PriceBook["own_lines"] {
  const lines = (read ?? {}) as Record<string, Partial<OwnLine>>;
  const whole = OWN_LINES.flatMap((n): [string, OwnLine][] => {
    const { text, price_micro, kind = "service", always = false } = lines[n] ?? {};
    const unread = refusals.has(`own_text.${n}`) || refusals.has(`own_price.${n}`);
    if (unread || (isEmpty(fields[`own_text.${n}`] ?? "") && isEmpty(fields[`own_price.${n}`] ?? ""))) return [];
    if (text === undefined) refusals.refuse(`own_text.${n}`, "Enter what this line is for");
    if (price_micro === undefined) refusals.refuse(`own_price.${n}`, "Enter what this line costs");
    return text === undefined || price_micro === undefined ? [] : [[n, { text, price_micro, kind, always }]];
  });
  return whole.length === 0 ? undefined : Object.fromEntries(whole);
}

function typed(value: unknown, { kind }: BookField, { currency, format }: AmountStyle): string {
  if (typeof value === "boolean") return value ? "yes" : "";
  if (typeof value !== "number") return value == null ? "" : String(value);
  switch (kind) {
    case "price":
    case "price-or-none":
      return plainUnitPrice(value, currency, format);
    case "amount":
      return plainAmount(value, currency, format);
    case "hours":
    case "hours-or-none":
      return formatQuantity(value, format);
    case "percent":
    case "percent-or-none":
      return formatPercent(value, format);
    default:
      return String(value);
  }
}

type Read = string | number | boolean | null | { message: string };

function read(text: string, { kind }: BookField, { currency, format }: AmountStyle): Read {
  const decimal = decimalSign(format);
  const like = (example: string) => example.replace(".", decimal);
  switch (kind) {
    case "name":
      return worded(text, bookBounds.name_chars, true);
    case "words-or-none":
      return worded(text, bookBounds.name_chars, false);
    case "line-kind":
      return oneOf(LINE_KINDS, text) ?? { message: "Choose what kind of line it is" };
    case "words":
      return worded(text, bookBounds.words_chars, false);
    case "price":
    case "price-or-none":
      return within(
        parseUnitPrice(text, currency, format),
        bookBounds.price_micro,
        `Enter a price, like ${like("120.50")}; 0 when it costs nothing`,
      );
    case "amount":
      if (text.trim() === "") return null;
      return within(
        parseAmount(text, currency, format),
        bookBounds.amount_minor,
        `Enter an amount, like ${like("35.00")}, or leave it empty for no limit`,
      );
    case "hours":
    case "hours-or-none":
      return within(
        parseQuantity(text, format),
        bookBounds.hours_milli,
        `Enter hours, like ${like("1.5")}, from 0 to 100`,
      );
    case "percent":
    case "percent-or-none":
      return within(
        parsePercent(text, format),
        bookBounds.rate_ppm,
        `Enter a percentage from 0 to 100, like ${like("7.25")}`,
      );
    case "months":
      return wholeNumber(text, bookBounds.months, "Enter whole months from 0 to 120, like 12; 0 for no warranty");
    case "days":
      return wholeNumber(text, bookBounds.valid_days, "Enter whole days from 1 to 365, like 30");
    case "per":
      return oneOf(PRICED_PER, text) ?? { message: "Choose the weight that the price is for" };
    case "flag":
    case "flag-or-none":
      return text !== "" && text !== "no";
  }
}

function worded(text: string, most: number, needed: boolean): Read {
  const plain = text.trim();
  if (needed && plain === "") return { message: "Enter a name, like Retail or Sales tax" };
  const too_long = tooLong(plain, most);
  return too_long === null ? plain : { message: too_long };
}

function within(parsed: ParsedDecimal, { min, max }: { min: number; max: number }, message: string): Read {
  if (!parsed.ok) return { message: parsed.code === "decimals" ? parsed.message : message };
  return parsed.scaled >= min && parsed.scaled <= max ? parsed.scaled : { message };
}

function wholeNumber(text: string, { min, max }: { min: number; max: number }, message: string): Read {
  const value = /^\s*\d{1,4}\s*$/.test(text) ? Number(text) : Number.NaN;
  return value >= min && value <= max ? value : { message };
}
