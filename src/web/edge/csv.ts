import Papa from "papaparse";

/**
 * A spreadsheet runs a text as a formula when it begins with one of these; an apostrophe in front prevents that.
 * (OWASP, "CSV Injection"; the last four are the full-width forms, which some programs treat alike.)
 */
const LIKE_A_FORMULA = /^\s*[=+\-@\t\r\n＝＋－＠]/u;

/** A file of values separated by commas, as RFC 4180 has it: UTF-8, a header line, CRLF after every line. */
export function csvOf(header: readonly string[], rows: readonly (readonly (string | number | null)[])[]): string {
  const guarded = [header, ...rows].map((row) => row.map(guard));
  return `${Papa.unparse(guarded, { newline: "\r\n" })}\r\n`;
}

/** Papa's own `escapeFormulae` would also guard numbers, and so turn every negative amount into text. */
function guard(value: string | number | null): string | number | null {
  return typeof value === "string" && LIKE_A_FORMULA.test(value) ? `'${value}` : value;
}
