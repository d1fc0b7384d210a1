import Papa from "papaparse";

/**
 * A spreadsheet takes a text that begins with one of these for a formula and runs it; after an apostrophe it does not.
 * (OWASP, "CSV Injection"; the last four are the full-width forms, which some programs treat alike.)
 */
const LIKE_A_FORMULA = /^\s*[=+\-@\t\r\n＝＋－＠]/u;

/** A file of values separated by commas, as RFC 4180 has it: UTF-8, a header line, CRLF after every line. */
export function csvOf(header: readonly string[], rows: readonly (readonly (string | number | null)[])[]): string {
  const guarded = [header, ...rows].map((row) => row.map(guard));
  return `${Papa.unparse(guarded, { newline: "\r\n" })}\r\n`;
}

/**
 * Papa's own `escapeFormulae` would guard numbers, too, and turn every negative amount into a text; a number is no
 * formula.
 */
function guard(value: string | number | null): string | number | null {
  return typeof value === "string" && LIKE_A_FORMULA.test(value) ? `'${value}` : value;
}
