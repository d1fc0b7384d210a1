import { TableHead } from "../parts/table-head.tsx";
import { FleetFrame } from "./frame.tsx";
import { Agreements } from "./import-agreements.tsx";
import { Changes, RowPlace, RowTable } from "./import-rows.tsx";
import type { ReportPageProps, Taken } from "./import-shown.ts";
import { fileRows, logEntries, saidNumber, vehicles } from "./shown.ts";

/** What was read, with the choice: import it, or cancel; later what was imported, and the way back. */
export function ReportPage(props: ReportPageProps) {
  const { id, taken, counts, asset } = props;
  const is_read = props.good + props.mended > 0;
  const nothing_new =
    counts.vehicles_added + counts.entries_added + counts.entries_corrected + counts.vehicles_changed === 0;
  return (
    <FleetFrame title="What was read" path="/fleet/import" asset={asset}>
      <h1 class="page-title">{reportTitle(props, is_read, nothing_new)}</h1>
      <NotTaken {...props} />
      <dl class="targets">
        <Count name="Read as they are" count={props.good} />
        <Count name="Read differently" count={props.mended} />
        <Count name="Rejected" count={props.refused} />
        <Count name={taken ? "Vehicles added" : "New vehicles"} count={counts.vehicles_added} />
        <Count name={taken ? "Entries added" : "New entries"} count={counts.entries_added} />
        <Count name="Entries already here" count={counts.entries_known} />
      </dl>
      {props.repeated > 0 && (
        <p>
          {fileRows(props.repeated)} {props.repeated === 1 ? "repeats" : "repeat"} another row of the same vehicle. All
          are imported, since two cans on one day are two. If one is a duplicate, remove it in the vehicle's log.
        </p>
      )}
      {taken === null && (!is_read || nothing_new) && (
        <div class="actions fleet-below">
          <form method="post" action={`/fleet/import/${id}/back`}>
            <button type="submit" class="button-quiet">
              Discard the file
            </button>
          </form>
          <a href={`/fleet/import/${id}?columns=1`}>Change the columns</a>
        </div>
      )}
      {taken === null && is_read && !nothing_new && (
        <form class="fleet-take" method="post" action={`/fleet/import/${id}/take`}>
          <Samples {...props} />
          <Agreements {...props} />
          <div class="actions">
            <button type="submit" class="button">
              {importWords(props)}
            </button>
            <button type="submit" class="button-quiet" formaction={`/fleet/import/${id}/back`}>
              Cancel the import
            </button>
            <a href={`/fleet/import/${id}?columns=1`}>Change the columns</a>
          </div>
        </form>
      )}
      {taken !== null && <TakingBack {...props} taken={taken} />}
      <Refused {...props} />
      <Asides {...props} />
      <Mended {...props} />
    </FleetFrame>
  );
}

function importWords({ good, mended }: ReportPageProps): string {
  return `Import ${fileRows(good + mended)}`;
}

function reportTitle({ taken, counts, refused, ...props }: ReportPageProps, is_read: boolean, nothing_new: boolean) {
  if (taken?.undone != null) return "This import was taken back";
  if (taken !== null) {
    const entries = logEntries(counts.entries_added + counts.entries_corrected);
    return `${vehicles(counts.vehicles_added)} and ${entries} added`;
  }
  if (!is_read) return refused > 0 ? "No row can be imported as it is" : "Nothing could be read";
  if (nothing_new && props.entries_read === 0) {
    return refused > 0
      ? `No entries could be read, and ${fileRows(refused)} rejected`
      : props.files.some(({ not_taken }) => not_taken.length > 0)
        ? "Nothing could be read but vehicles that are already here"
        : "No entries found. The vehicles are already here";
  }
  if (nothing_new && refused > 0) return `Nothing new, and ${fileRows(refused)} rejected`;
  if (nothing_new) return "Everything in this file is already here";
  const can = `${fileRows(props.good + props.mended)} can be imported`;
  return refused === 0 ? can : `${can}, ${saidNumber(refused)} cannot`;
}

/** Columns from which nothing is taken: nobody should find out later. */
function NotTaken({ id, taken, files }: ReportPageProps) {
  const left = files.filter(({ not_taken }) => not_taken.length > 0);
  if (left.length === 0) return null;
  return (
    <>
      {left.map(({ name, not_taken }) => (
        <p>
          Not taken{files.length > 1 ? ` from ${name}` : ""}:{" "}
          <span dir="auto">{not_taken.map((header) => `“${header}”`).join(", ")}</span>.{" "}
          {taken === null && <a href={`/fleet/import/${id}?columns=1`}>Choose what they mean</a>}
        </p>
      ))}
    </>
  );
}

function Count({ name, count }: { name: string; count: number }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{saidNumber(count)}</dd>
    </div>
  );
}

/** The first rows as they were read, before anything is written. */
function Samples({ samples, files }: ReportPageProps) {
  if (samples.length === 0) return null;
  return (
    <section class="fleet-report">
      <h2>The first {samples.length === 1 ? "row" : `${samples.length} rows`} as read</h2>
      <section class="table-scroll" aria-label="Rows as read" tabindex={0}>
        <table class="fleet-list">
          <TableHead words={["Row", "Vehicle", "Its details", "Date", "Entry"]} />
          <tbody>
            {samples.map(({ file, row, vehicle, about = "", date, said }) => (
              <tr>
                <th scope="row" class="fleet-row-number">
                  <RowPlace row={row} name={files.length > 1 ? files[file]?.name : undefined} />
                </th>
                <td data-heading="Vehicle" dir="auto">
                  {vehicle}
                </td>
                <td data-heading="Its details" dir="auto">
                  {about}
                </td>
                <td data-heading="Date">{date}</td>
                <td data-heading="Entry" dir="auto">
                  {said === "" ? "vehicle only" : said}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}

/** What was done with the import, and how to take it back. */
function TakingBack({ id, taken }: ReportPageProps & { taken: Taken }) {
  const { undone } = taken;
  return (
    <>
      <p class="fleet-said">
        Imported on {taken.day} by {taken.who}.
      </p>
      {undone !== null && (
        <p>
          Taken back on {undone.day} by {undone.who}: {logEntries(undone.entries_removed)} and{" "}
          {vehicles(undone.vehicles_removed)} removed, changes undone:{" "}
          {saidNumber(undone.entries_restored + undone.vehicles_restored)}.
          {undone.entries_kept > 0 &&
            ` Kept: ${logEntries(undone.entries_kept)}, changed since or part of recorded work.`}
          {undone.vehicles_kept > 0 &&
            ` Kept: ${vehicles(undone.vehicles_kept)}, changed since or with other entries, quotes or notes.`}
        </p>
      )}
      <div class="actions fleet-below">
        <a class="button" href="/fleet">
          To the fleet
        </a>
        {(undone === null || undone.entries_kept + undone.vehicles_kept > 0) && (
          <form method="post" action={`/fleet/import/${id}/undo`}>
            <button type="submit" class="button-quiet">
              {undone === null ? "Take this import back" : "Try to take the rest back"}
            </button>
          </form>
        )}
        <a href="/fleet/import">All imports</a>
      </div>
    </>
  );
}

function Refused({ id, files, refused, refused_rows }: ReportPageProps) {
  if (refused === 0) return null;
  return (
    <section class="fleet-report">
      <h2>Rejected</h2>
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
      <RowTable rows={refused_rows} files={files} name="Rejected rows" what="Why" />
      {refused_rows.length < refused && <p>The first {refused_rows.length} are shown; the file has all of them.</p>}
    </section>
  );
}

/** Lines that are none of the table. */
function Asides({ asides, aside_rows, files }: ReportPageProps) {
  if (asides === 0) return null;
  return (
    <details class="numbers fleet-report">
      <summary>
        {saidNumber(asides)} {asides === 1 ? "line" : "lines"} of totals or text left out
      </summary>
      <ul>
        {aside_rows.map(({ file, row, why, text }) => (
          <li dir="auto">
            Row {row}
            {files.length > 1 && ` of ${files[file]?.name}`}, {why === "totals" ? "a total" : "text"}: {text}
          </li>
        ))}
      </ul>
    </details>
  );
}

/** What was read differently from how it is written, and what changed within the file. */
function Mended({ files, mended, mended_rows, change_rows }: ReportPageProps) {
  const moved = change_rows.filter(({ here }) => !here);
  if (mended + moved.length === 0) return null;
  return (
    <details class="numbers fleet-report">
      <summary>Read differently from how it is written</summary>
      {mended > 0 && <RowTable rows={mended_rows} files={files} name="Rows read differently" what="How" />}
      {mended_rows.length < mended && <p>The first {mended_rows.length} are shown.</p>}
      {moved.length > 0 && <p>These changed within the file; the latest holds:</p>}
      <Changes rows={moved} />
    </details>
  );
}
