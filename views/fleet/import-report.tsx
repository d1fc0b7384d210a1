import type { AssetUrl } from "../assets.ts";
import { TableHead } from "../parts/table-head.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber, vehicles } from "./shown.ts";

/** A row of the report: which, and what is said about its cells. */
export interface ShownRow {
  file: number;
  row: number;
  said: readonly { label: string; cell: string; what: string }[];
}

export interface ReportPageProps {
  id: string;
  files: readonly { name: string; rows: number; refused: number }[];
  good: number;
  mended: number;
  refused: number;
  repeated: number;
  /** The first ones; all refused rows are in the file of them. */
  refused_rows: readonly ShownRow[];
  mended_rows: readonly ShownRow[];
  counts: { vehicles_added: number; vehicles_known: number; entries_added: number; entries_known: number };
  /** Whether it was put in. */
  done: boolean;
  may_ask: boolean;
  asset: AssetUrl;
}

/** The row-by-row report, with the choice: the good rows in, or all back. */
export function ReportPage(props: ReportPageProps) {
  const { id, done, counts, good, mended, refused, asset } = props;
  const taken = good + mended;
  const nothing_new = counts.vehicles_added + counts.entries_added === 0;
  return (
    <FleetFrame title="What was read" path="/fleet/import" asset={asset}>
      <h1 class="page-title">{reportTitle(props, taken, nothing_new)}</h1>
      <dl class="targets">
        <Count name="Read as they are" count={good} />
        <Count name="Corrected" count={mended} />
        <Count name="Rejected" count={refused} />
        <Count name={done ? "Vehicles added" : "New vehicles"} count={counts.vehicles_added} />
        <Count name={done ? "Entries added" : "New entries"} count={counts.entries_added} />
        <Count name="Entries already here" count={counts.entries_known} />
      </dl>
      {props.repeated > 0 && (
        <p>
          {saidNumber(props.repeated)} rows repeat another row of the same vehicle. All are imported, since two cans on
          one day are two. If one is a duplicate, remove it in the vehicle's log.
        </p>
      )}
      {done ? (
        <p class="actions">
          <a class="button" href="/fleet">
            To the fleet
          </a>
        </p>
      ) : (
        <div class="actions fleet-below">
          {taken > 0 && !nothing_new && (
            <form method="post" action={`/fleet/import/${id}/take`}>
              <button type="submit" class="button">
                {refused === 0
                  ? "Import them"
                  : `Import the ${taken === 1 ? "good row" : `${saidNumber(taken)} good rows`}`}
              </button>
            </form>
          )}
          <form method="post" action={`/fleet/import/${id}/back`}>
            <button type="submit" class="button-quiet">
              {"Cancel the import"}
            </button>
          </form>
          {props.may_ask && <a href={`/fleet/import/${id}?columns=1`}>Change the columns</a>}
        </div>
      )}
      <Refused {...props} />
      <Mended {...props} />
    </FleetFrame>
  );
}

function reportTitle({ done, counts, refused }: ReportPageProps, taken: number, nothing_new: boolean): string {
  if (done) {
    return `${vehicles(counts.vehicles_added)} and ${saidNumber(counts.entries_added)} ${counts.entries_added === 1 ? "entry" : "entries"} added`;
  }
  if (taken === 0) return "No row can be imported as it is";
  if (nothing_new && refused > 0) return `Nothing new, and ${saidNumber(refused)} rows rejected`;
  if (nothing_new && counts.entries_known === 0) return "No entries found. The vehicles are already here";
  if (nothing_new) return "Everything in this file is already here";
  const rows = `${saidNumber(taken)} ${taken === 1 ? "row" : "rows"} can be imported`;
  return refused === 0 ? `${rows}` : `${rows}, ${saidNumber(refused)} cannot`;
}

function Count({ name, count }: { name: string; count: number }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{saidNumber(count)}</dd>
    </div>
  );
}

function Refused({ id, files, refused, refused_rows, done }: ReportPageProps) {
  if (refused === 0) return null;
  return (
    <section class="fleet-report">
      <h2>Rejected</h2>
      {!done && (
        <p class="actions">
          {files.map(
            (file, number) =>
              file.refused > 0 && (
                <a href={`/fleet/import/${id}/refused.csv?file=${number}`}>
                  Download the rejected rows{files.length > 1 ? ` of ${file.name}` : ""}, fix them and upload again
                </a>
              ),
          )}
        </p>
      )}
      <RowTable rows={refused_rows} files={files} name="Rejected rows" what="Why" />
      {refused_rows.length < refused && <p>The first {refused_rows.length} are shown; the file has all of them.</p>}
    </section>
  );
}

function Mended({ files, mended, mended_rows }: ReportPageProps) {
  if (mended === 0) return null;
  return (
    <details class="numbers fleet-report">
      <summary>Corrected: what was read differently from how it is written</summary>
      <RowTable rows={mended_rows} files={files} name="Corrected rows" what="How" />
      {mended_rows.length < mended && <p>The first {mended_rows.length} are shown.</p>}
    </details>
  );
}

function RowTable({
  rows,
  files,
  name,
  what,
}: {
  rows: readonly ShownRow[];
  files: ReportPageProps["files"];
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
                <th scope="row">
                  {row}
                  {files.length > 1 && <small dir="auto">{files[file]?.name}</small>}
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
