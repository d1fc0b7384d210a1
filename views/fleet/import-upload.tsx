import { FLEET_FIELDS, fleetFields, importBounds } from "../../data/fleet-format.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { FileField } from "../parts/file-field.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber, vehicles } from "./shown.ts";

/** An import that was taken, in the list of them. */
export interface TakenImport {
  id: string;
  files: readonly string[];
  day: string;
  who: string;
  rows: number;
  entries: number;
  vehicles: number;
  undone: boolean;
}

interface UploadPageProps {
  taken: readonly TakenImport[];
  errors: readonly FieldError[];
  /** The largest file, in MB. */
  most_mb: number;
  asset: AssetUrl;
}

/** `/fleet/import`: where files are sent in, and what may stand in them. */
export function UploadPage({ errors, taken, most_mb, asset }: UploadPageProps) {
  return (
    <FleetFrame title="Import vehicles" path="/fleet/import" asset={asset} errors={errors}>
      <h1 class="page-title">Import vehicles and past top-offs</h1>
      <p class="page-lead">
        Upload a spreadsheet (.xlsx or CSV). You see a report first and can stop. The same file uploaded twice adds
        nothing.
      </p>
      <form class="fleet-mapping" method="post" action="/fleet/import" enctype="multipart/form-data">
        <FileField
          accept={ACCEPTED}
          id="file"
          label="Vehicles, with or without their entries"
          hint={`.xlsx or CSV, at most ${most_mb} MB and ${saidNumber(importBounds.rows)} rows`}
          error={errors.find(({ field }) => field === "file")?.message}
        />
        <FileField
          accept={ACCEPTED}
          id="events"
          label="Entries, if they are in a second file"
          hint="Joined to the first by the vehicle's name"
          error={errors.find(({ field }) => field === "events")?.message}
        />
        <div class="actions">
          <button type="submit" class="button">
            Read the file
          </button>
        </div>
      </form>
      <TakenImports taken={taken} />
      <Format />
    </FleetFrame>
  );
}

const ACCEPTED =
  ".xlsx,.csv,.txt,.tsv,text/csv,text/plain,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/** What came in before, newest first. */
function TakenImports({ taken }: Pick<UploadPageProps, "taken">) {
  if (taken.length === 0) return null;
  return (
    <section class="fleet-report">
      <h2>Imports so far</h2>
      <section class="table-scroll" aria-label="Imports so far" tabindex={0}>
        <table class="fleet-list">
          <TableHead words={["Day", "File", "Rows", "Added", "By"]} />
          <tbody>
            {taken.map(({ id, files, day, who, rows, entries, vehicles: added, undone }) => (
              <tr>
                <th scope="row">{day}</th>
                <td data-heading="File" dir="auto">
                  <a href={`/fleet/import/${id}`}>{files.join(", ")}</a>
                </td>
                <td data-heading="Rows">{saidNumber(rows)}</td>
                <td data-heading="Added">
                  {undone ? "taken back" : `${vehicles(added)}, ${saidNumber(entries)} entries`}
                </td>
                <td data-heading="By" dir="auto">
                  {who}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}

function Format() {
  return (
    <section class="fleet-report">
      <h2>What a file contains</h2>
      <p>
        A header row, then one row per entry with its vehicle's details (once, or in every row). Titles, totals, merged
        cells and several charges in one row are fine. If something is unclear, we ask.
      </p>
      <p>
        A sample file to start from: <a href="/fleet/import/example.xlsx">.xlsx</a> or{" "}
        <a href="/fleet/import/example.csv">CSV</a>
      </p>
      <details class="folded on-paper">
        <summary>All {FLEET_FIELDS.length} columns</summary>
        <section class="table-scroll" aria-label="Columns of a file" tabindex={0}>
          <table class="fleet-list fleet-matrix">
            <TableHead words={["Column", "What it says", "Like"]} />
            <tbody>
              {FLEET_FIELDS.map((field) => (
                <tr>
                  <th scope="row">
                    <code>{fleetFields[field].headers[0]}</code>
                  </th>
                  <td>{fleetFields[field].says}</td>
                  <td>{fleetFields[field].example}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      </details>
    </section>
  );
}
