import type { Context } from "hono";
import { type SheetOut, workbookOf } from "./workbook.ts";

/** A CSV file to be saved. The mark at its beginning tells spreadsheets that it is UTF-8. */
export function csvFile(c: Context, name: string, csv: string): Response {
  c.header("Content-Type", "text/csv; charset=utf-8");
  c.header("Content-Disposition", `attachment; filename="${name}.csv"`);
  return c.body(`\ufeff${csv}`);
}

/** The same as a workbook with one sheet. */
export async function xlsxFile(c: Context, name: string, rows: SheetOut["rows"]): Promise<Response> {
  const workbook = await workbookOf({ name: name.slice(0, 31), rows });
  c.header("Content-Type", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet");
  c.header("Content-Disposition", `attachment; filename="${name}.xlsx"`);
  return c.body(await workbook.arrayBuffer());
}
