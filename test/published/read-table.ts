import { readFileSync } from "node:fs";

/** Rows of a CSV beside this file as text by column name. Lines that start with # are notes on the source. */
export function readTable<Column extends string>(file: string): Record<Column, string>[] {
  const lines = readFileSync(new URL(file, import.meta.url), "utf8")
    .split(/\r?\n/)
    .filter((line) => line !== "" && !line.startsWith("#"));
  const columns = lines[0]!.split(",");
  return lines.slice(1).map((line) => {
    const cells = line.split(",");
    if (cells.length !== columns.length) throw new Error(`${file}: ${line}`);
    return Object.fromEntries(columns.map((column, i) => [column, cells[i]!])) as Record<Column, string>;
  });
}
