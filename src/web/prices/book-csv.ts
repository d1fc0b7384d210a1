import Papa from "papaparse";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import type { PriceBook } from "../../core/quotes/price-book.ts";
import { csvOf } from "../edge/csv.ts";
import { BOOK_FIELDS, mayBeNone } from "./book-fields.ts";
import { type AmountStyle, fieldsOfBook, readBook } from "./book-form.ts";

/**
 * A price book as a file: `item,value`, one row for each number, in the order of `BOOK_FIELDS` after a row `currency`.
 * Numbers have a decimal point and no thousands sign, whatever the workspace writes.
 */
const FILE_FORMAT: NumberFormatId = "1,234.56";
const HEADER = ["item", "value"] as const;
const MAX_ERRORS = 20;

/** A price book as CSV, a row a field. */
export function bookCsv(book: PriceBook): string {
  const { currency } = book;
  const fields = fieldsOfBook(book, { currency, format: FILE_FORMAT });
  const rows = BOOK_FIELDS.map(({ id, kind }) => [id, kind === "flag" ? fields[id] || "no" : (fields[id] ?? "")]);
  return csvOf(HEADER, [["currency", currency], ...rows]);
}

export type ReadBook = { ok: true; book: PriceBook } | { ok: false; messages: string[] };

/**
 * Reads such a file; a spreadsheet may have put semicolons or tabs between, and a decimal comma. Strict about what is
 * in it: every item once, none that is unknown, in the currency of the workspace.
 */
export function bookOfCsv(text: string, currency: string): ReadBook {
  const { data, errors } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ""), {
    skipEmptyLines: "greedy",
    delimitersToGuess: [",", ";", "\t"],
  });
  const header = data[0]?.map((cell) => cell.trim().toLowerCase());
  if (header?.[0] !== HEADER[0] || header[1] !== HEADER[1] || errors.some(({ type }) => type === "Quotes"))
    return {
      ok: false,
      messages: ["This is not a price book. Its first row says item,value; export a book to see what one looks like."],
    };
  const known = new Set(["currency", ...BOOK_FIELDS.map(({ id }) => id)]);
  const values = new Map<string, { value: string; row: number }>();
  const messages: string[] = [];
  for (const [i, [item = "", value = ""]] of data.slice(1).entries()) {
    const row = i + 2;
    const id = item.trim();
    if (!known.has(id)) messages.push(`Row ${row}: there is no item “${shortened(id)}” in a price book.`);
    else if (values.has(id))
      messages.push(`Row ${row}: ${id} is there twice; it stands in row ${values.get(id)!.row}.`);
    else values.set(id, { value: withoutGuard(value), row });
  }
  const needed = ["currency", ...BOOK_FIELDS.filter((field) => !mayBeNone(field)).map(({ id }) => id)];
  const missing = needed.filter((id) => !values.has(id));
  if (missing.length > 0) messages.push(`These items are missing: ${missing.join(", ")}.`);
  const of = values.get("currency");
  if (of !== undefined && of.value.trim() !== currency)
    messages.push(`Row ${of.row}: the file counts in ${shortened(of.value)}, and here is ${currency}.`);
  if (messages.length > 0) return { ok: false, messages: messages.slice(0, MAX_ERRORS) };

  const style: AmountStyle = { currency, format: FILE_FORMAT };
  const read = readBook(Object.fromEntries([...values].map(([id, { value }]) => [id, value])), style);
  if (read.ok) return read;
  return {
    ok: false,
    messages: read.errors
      .slice(0, MAX_ERRORS)
      .map(({ field, message }) => `Row ${values.get(field)!.row}: ${field}: ${message}.`),
  };
}

/** The apostrophe that our own export puts before what a spreadsheet would run as a formula. */
function withoutGuard(value: string): string {
  return value.replace(/^'(?=\s*[=+\-@＝＋－＠])/u, "");
}

function shortened(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
