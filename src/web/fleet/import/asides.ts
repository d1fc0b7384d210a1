/** Lines of a sheet that do not belong to its table. */

export type Aside = "totals" | "text";

const TOTALS = /^(grand |sub ?|page |year |month |sub-)?(totals?|sum|summe|subtotal|average|mean|count)\b/i;

/** Why a row does not belong to a table with `width` columns; null for one that does. */
export function isAside(cells: readonly string[], width: number): Aside | null {
  const filled = cells.filter((cell) => cell.trim() !== "");
  if (filled.some((cell) => cell.length < 40 && TOTALS.test(cell.trim()) && !hasDate(cells))) return "totals";
  return filled.length === 1 && width > 2 ? "text" : null;
}

const LIKE_A_DATE = /\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}|\d{1,2}[- ][a-z]{3}/i;

function hasDate(cells: readonly string[]): boolean {
  return cells.some((cell) => cell.length < 40 && LIKE_A_DATE.test(cell));
}
