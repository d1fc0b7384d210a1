import { TableHead } from "../parts/table-head.tsx";
import type { ImportReport, ShownRow } from "./import-shown.ts";

/** Which row, and of which file where there are several. */
export function RowPlace({ row, name }: { row: number; name: string | undefined }) {
  return (
    <>
      {row}
      {name !== undefined && <small dir="auto">{name}</small>}
    </>
  );
}

/** Rows with what is said of each of their cells. */
export function RowTable({
  rows,
  files,
  name,
  what,
}: {
  rows: readonly ShownRow[];
  files: ImportReport["files"];
  name: string;
  what: string;
}) {
  return (
    <section class="table-scroll" aria-label={name} tabindex={0}>
      <table class="fleet-list">
        <TableHead words={["Row", "Column", "Cell", what]} />
        <tbody>
          {rows.flatMap(({ file, row, said }) =>
            said.map(({ label, cell, what: words }) => (
              <tr>
                <th scope="row" class="fleet-row-number">
                  <RowPlace row={row} name={files.length > 1 ? files[file]?.name : undefined} />
                </th>
                <td data-heading="Column">{label}</td>
                <td data-heading="Cell" dir="auto">
                  {cell === "" ? "(empty)" : cell}
                </td>
                <td data-heading={what}>{words}</td>
              </tr>
            )),
          )}
        </tbody>
      </table>
    </section>
  );
}

/** What is other about vehicles than it was. */
export function Changes({ rows }: { rows: ImportReport["change_rows"] }) {
  return (
    <ul>
      {rows.map(({ vehicle, what, from, to }) => (
        <li dir="auto">
          {vehicle}: {what} {from === "" ? `${to} (none so far)` : `${from} → ${to}`}
        </li>
      ))}
    </ul>
  );
}
