/** A file of values separated by commas, as RFC 4180 has it: UTF-8, a header line, CRLF after every line. */
export function csvOf(header: readonly string[], rows: readonly (readonly (string | number | null)[])[]): string {
  return [header, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/**
 * A spreadsheet takes a text that begins with one of these for a formula and runs it; after an apostrophe it does not.
 * (OWASP, "CSV Injection"; the last four are the full-width forms, which some programs treat alike.)
 */
const LIKE_A_FORMULA = /^\s*[=+\-@\t\r\n＝＋－＠]/u;

function cell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const text = LIKE_A_FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
