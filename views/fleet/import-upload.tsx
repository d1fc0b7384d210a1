import { FLEET_FIELDS, fleetFields, importBounds } from "../../data/fleet-format.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber } from "./shown.ts";

interface UploadPageProps {
  errors: readonly FieldError[];
  /** The largest file, in MB. */
  most_mb: number;
  asset: AssetUrl;
}

/** `/fleet/import`: where files are sent in, and what may stand in them. */
export function UploadPage({ errors, most_mb, asset }: UploadPageProps) {
  return (
    <FleetFrame title="Import vehicles" path="/fleet/import" asset={asset} errors={errors}>
      <h1 class="page-title">Import vehicles and past top-offs</h1>
      <p class="page-lead">
        Upload a CSV file. You check every row before anything is added. The same file uploaded twice adds nothing.
      </p>
      <form class="fleet-mapping" method="post" action="/fleet/import" enctype="multipart/form-data">
        <FileField
          id="file"
          label="Vehicles, with or without their entries"
          hint={`CSV, at most ${most_mb} MB and ${saidNumber(importBounds.rows)} rows`}
          error={errors.find(({ field }) => field === "file")?.message}
        />
        <FileField
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
      <Format />
    </FleetFrame>
  );
}

function FileField({
  id,
  label,
  hint,
  error,
}: {
  id: string;
  label: string;
  hint: string;
  error?: string | undefined;
}) {
  return (
    <div class="field">
      <label class="label-text" for={id}>
        {label}
      </label>
      <span class="hint" id={`${id}-hint`}>
        {hint}
      </span>
      {error !== undefined && (
        <span class="error" id={`${id}-error`}>
          <span class="visually-hidden">Error: </span>
          {error}
        </span>
      )}
      <input
        type="file"
        id={id}
        name={id}
        accept=".csv,.txt,.tsv,text/csv,text/plain"
        aria-describedby={error === undefined ? `${id}-hint` : `${id}-hint ${id}-error`}
      />
    </div>
  );
}

function Format() {
  return (
    <section class="fleet-report">
      <h2>What a file contains</h2>
      <p>
        One header row, then one row per entry with its vehicle's details (once, or in every row). If a header, a unit
        or the date order is unclear, we ask. Commas, semicolons or tabs; any common encoding.
      </p>
      <p>
        <a href="/fleet/import/example.csv">A sample file to start from</a>
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
