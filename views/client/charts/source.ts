import type { Palette } from "./palette.ts";
import { type Column, type Row, readColumns, readRows } from "./table.ts";

/** All that a chart is made from: the table behind it, the settings on its figure, the colours of the moment. */
export interface Source {
  columns: readonly Column[];
  rows: readonly Row[];
  settings: DOMStringMap;
  palette: Palette;
}

/** Reads a figure. Throws when it has no table. */
export function sourceOf(figure: HTMLElement, palette: Palette): Source {
  const table = figure.querySelector("table");
  if (table === null) throw new Error(`The chart ${figure.id} has no table to be drawn from`);
  return { columns: readColumns(table), rows: readRows(table), settings: figure.dataset, palette };
}

/** The rows of one kind. */
export function rowsOf({ rows }: Source, kind: string): Row[] {
  return rows.filter((row) => row.kind === kind);
}
