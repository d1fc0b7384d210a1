import type { Context } from "hono";

/** A CSV file to be saved. The mark at its beginning tells spreadsheets that it is UTF-8. */
export function csvFile(c: Context, name: string, csv: string): Response {
  c.header("Content-Type", "text/csv; charset=utf-8");
  c.header("Content-Disposition", `attachment; filename="${name}.csv"`);
  return c.body(`\ufeff${csv}`);
}
