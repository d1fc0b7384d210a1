/** One column of a table: its name for the scripts and its heading. */
export interface Column {
  name: string;
  heading: string;
  /** What it is called where there is little room. */
  short: string;
}

/** One row: its heading, its kind and its numbers by column name; null where a cell holds none. */
export interface Row {
  name: string;
  /** What it is called where there is little room. */
  short: string;
  kind: string;
  /** Where the link in its heading leads; empty where there is none. */
  href: string;
  /** To what it turns the answer, in words; empty where it does not. */
  turns_to: string;
  values: Readonly<Record<string, number | null>>;
  /** The same as they are said on the page. */
  texts: Readonly<Record<string, string>>;
}

/**
 * The table behind a chart is the only place where its numbers stand. A column is named by `data-column` on its
 * heading; a cell holds a `<data value>` in the model's units, or a `<time datetime>`, or nothing.
 */
export function readColumns(table: HTMLTableElement): Column[] {
  return [...(table.tHead?.rows[0]?.cells ?? [])].map((cell) => ({
    name: cell.dataset.column ?? "",
    heading: cell.textContent.trim(),
    short: cell.dataset.short ?? cell.textContent.trim(),
  }));
}

/** The rows of a chart's table, with the number of each cell. */
export function readRows(table: HTMLTableElement): Row[] {
  const columns = readColumns(table);
  return [...table.tBodies].flatMap((body) =>
    [...body.rows].map((row) => {
      const cells = [...row.cells];
      return {
        name: cells[0]?.textContent.trim() ?? "",
        short: cells[0]?.dataset.short ?? cells[0]?.textContent.trim() ?? "",
        kind: row.dataset.kind ?? "",
        href: cells[0]?.querySelector("a")?.href ?? "",
        turns_to: row.dataset.turnsTo ?? "",
        values: Object.fromEntries(cells.map((cell, i) => [columns[i]?.name ?? "", numberIn(cell)])),
        texts: Object.fromEntries(cells.map((cell, i) => [columns[i]?.name ?? "", cell.textContent.trim()])),
      };
    }),
  );
}

/** Times as milliseconds since 1970. */
function numberIn(cell: HTMLTableCellElement): number | null {
  const time = cell.querySelector("time");
  if (time) return Date.parse(time.dateTime);
  const data = cell.querySelector("data");
  return data ? Number(data.value) : null;
}
