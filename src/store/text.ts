/** Text as it is stored: without lone surrogates and NUL, which the engines treat differently. */
export function keptText(text: string): string {
  return text.toWellFormed().replaceAll("\0", "");
}

/**
 * Text as search compares it: case, accents and compatibility forms make no difference (`Straße` and `STRASSE`, `é` and
 * `e`). SQLite's own lower() knows ASCII only.
 */
export function searchText(...parts: readonly (string | null)[]): string {
  return keptText(parts.filter((part) => part !== null).join("\n"))
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase() // first, for the capital ẞ, which only its small form leads to SS
    .toUpperCase()
    .toLowerCase()
    .replaceAll("ς", "σ")
    .normalize("NFC");
}

/** A label as lists sort it: `Van 2` before `Van 10`. */
export function sortKey(label: string): string {
  return searchText(label).replace(/\d+/g, (digits) => digits.padStart(12, "0"));
}

/** Letters and figures alone, as search compares them: a plate, a telephone number or a name however it is spaced. */
export function compactText(text: string): string {
  return searchText(text).replace(/[^\p{L}\p{N}]/gu, "");
}
