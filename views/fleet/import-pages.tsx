import {
  FLEET_FIELDS,
  type FleetField,
  fleetFields,
  importBounds,
  MASS_COLUMN_UNITS,
} from "../../data/fleet-format.ts";
import type { AssetUrl } from "../assets.ts";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { RadioField, SelectField } from "../parts/field.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber, vehicles } from "./shown.ts";

interface UploadPageProps {
  errors: readonly FieldError[];
  /** The largest file, in MB. */
  most_mb: number;
  asset: AssetUrl;
}

/** `/fleet/import`: where files are sent in, and what may stand in them. */
export function UploadPage({ errors, most_mb, asset }: UploadPageProps) {
  return (
    <FleetFrame title={`${errors.length > 0 ? "Error: " : ""}Import vehicles`} path="/fleet/import" asset={asset}>
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      <h1 class="page-title">Import vehicles and past top-offs</h1>
      <p class="page-lead">
        A table saved as CSV is enough. Nothing is put in before you have seen, row by row, what was read; and the same
        file sent twice adds nothing.
      </p>
      <form class="fleet-mapping" method="post" action="/fleet/import" enctype="multipart/form-data">
        <FileField
          id="file"
          label="File with everything, or with the vehicles"
          hint={`CSV, at most ${most_mb} MB and ${saidNumber(importBounds.rows)} rows`}
          error={errors.find(({ field }) => field === "file")?.message}
        />
        <FileField
          id="events"
          label="File with the charge events, where they are apart"
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
      <h2>What stands in a file</h2>
      <p>
        A header row, then a row for each charge event with its vehicle's particulars beside it, once or in every row.
        Other headers can be matched by hand afterwards, units and the order of day and month are asked for where the
        file does not say them. Commas, semicolons or tabs; any common encoding.
      </p>
      <section class="table-scroll" aria-label="Columns of a file" tabindex={0}>
        <table class="fleet-list fleet-matrix">
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">What it says</th>
              <th scope="col">Like</th>
            </tr>
          </thead>
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
      <p>
        <a href="/fleet/import/example.csv">An invented example to start from</a>
      </p>
    </section>
  );
}

export interface ShownColumn {
  index: number;
  header: string;
  samples: readonly string[];
  field: FleetField | "none";
}

export interface AskedUnit {
  column: number;
  header: string;
  least: number;
  largest: number;
  value: string;
}

export interface ShownFile {
  name: string;
  rows: number;
  broken: string | null;
  columns: readonly ShownColumn[];
  units: readonly AskedUnit[];
  date: { header: string; example: string; value: string } | null;
}

interface QuestionsPageProps {
  id: string;
  files: readonly ShownFile[];
  errors: readonly FieldError[];
  asset: AssetUrl;
}

/** What has to be said before the rows can be read. */
export function QuestionsPage({ id, files, errors, asset }: QuestionsPageProps) {
  const broken = files.filter((file) => file.broken !== null);
  return (
    <FleetFrame
      title={`${errors.length > 0 ? "Error: " : ""}Questions about the file`}
      path="/fleet/import"
      asset={asset}
    >
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      <h1 class="page-title">
        {broken.length > 0 ? "The file cannot be read to its end" : "What do the columns mean?"}
      </h1>
      {broken.map(({ name, broken: why }) => (
        <p>
          <strong dir="auto">{name}</strong>: {why}
        </p>
      ))}
      {broken.length === 0 && (
        <form class="fleet-mapping" method="post" action={`/fleet/import/${id}/answers`}>
          {files.map((file, number) => (
            <fieldset>
              <legend dir="auto">
                {file.name}, {saidNumber(file.rows)} rows
              </legend>
              {file.date !== null && (
                <RadioField
                  id={`f${number}-date`}
                  name={`f${number}-date`}
                  label={`In “${file.date.header}”, which comes first?`}
                  hint={`${file.date.example} can be read two ways, and nothing in the column settles it`}
                  error={errors.find(({ field }) => field === `f${number}-date`)?.message}
                  value={file.date.value}
                  choices={[
                    { value: "day-first", label: "the day" },
                    { value: "month-first", label: "the month" },
                  ]}
                />
              )}
              {file.units.map(({ column, header, least, largest, value }) => (
                <SelectField
                  id={`f${number}-unit-${column}`}
                  name={`f${number}-unit-${column}`}
                  label={`Unit of the numbers in “${header}”`}
                  hint={least === largest ? `They are ${least}` : `They go from ${least} to ${largest}`}
                  error={errors.find(({ field }) => field === `f${number}-unit-${column}`)?.message}
                  value={value}
                  choices={[
                    { value: "", label: "Choose" },
                    ...MASS_COLUMN_UNITS.map((unit) => ({ value: unit, label: unit })),
                  ]}
                />
              ))}
              {file.columns.map(({ index, header, samples, field }) => (
                <SelectField
                  id={`f${number}-column-${index}`}
                  name={`f${number}-column-${index}`}
                  label={header === "" ? `Column ${index + 1}` : `“${header}”`}
                  hint={samples.length === 0 ? "Empty" : `Like ${samples.join(" · ")}`}
                  error={errors.find((error) => error.field === `f${number}-column-${index}`)?.message}
                  value={field}
                  choices={[
                    { value: "none", label: "Leave it out" },
                    ...FLEET_FIELDS.map((one) => ({ value: one, label: fleetFields[one].label })),
                  ]}
                />
              ))}
            </fieldset>
          ))}
          <div class="actions">
            <button type="submit" class="button">
              Read the rows
            </button>
          </div>
        </form>
      )}
      <form class="fleet-below" method="post" action={`/fleet/import/${id}/back`}>
        <button type="submit" class="button-quiet">
          Take the file back
        </button>
      </form>
    </FleetFrame>
  );
}

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
        <Count name="Rows as they should be" count={good} />
        <Count name="Rows mended" count={mended} />
        <Count name="Rows refused" count={refused} />
        <Count name={done ? "Vehicles added" : "New vehicles"} count={counts.vehicles_added} />
        <Count name={done ? "Events added" : "New events"} count={counts.entries_added} />
        <Count name="Events that were here already" count={counts.entries_known} />
      </dl>
      {props.repeated > 0 && (
        <p>
          {saidNumber(props.repeated)} rows say the same as another row of the same vehicle. All are taken: two equal
          cans on one day are two. If one was written twice, remove it in the vehicle's log.
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
                  ? "Put them in"
                  : `Put the good ${taken === 1 ? "row" : `rows (${saidNumber(taken)})`} in`}
              </button>
            </form>
          )}
          <form method="post" action={`/fleet/import/${id}/back`}>
            <button type="submit" class="button-quiet">
              {nothing_new ? "Take the file back" : "All back: put nothing in"}
            </button>
          </form>
          {props.may_ask && <a href={`/fleet/import/${id}?columns=1`}>Match the columns otherwise</a>}
        </div>
      )}
      <Refused {...props} />
      <Mended {...props} />
    </FleetFrame>
  );
}

function reportTitle({ done, counts, refused }: ReportPageProps, taken: number, nothing_new: boolean): string {
  if (done) {
    return `${vehicles(counts.vehicles_added)} and ${saidNumber(counts.entries_added)} events were added`;
  }
  if (taken === 0) return "No row can be taken as it is";
  if (nothing_new) return "Everything in this file is here already";
  const rows = `${saidNumber(taken)} ${taken === 1 ? "row" : "rows"} can go in`;
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
      <h2>Refused</h2>
      {!done && (
        <p class="actions">
          {files.map(
            (file, number) =>
              file.refused > 0 && (
                <a href={`/fleet/import/${id}/refused.csv?file=${number}`}>
                  {files.length > 1 ? `Refused rows of ${file.name}` : "The refused rows as a file"}, to mend and send
                  again
                </a>
              ),
          )}
        </p>
      )}
      <RowTable rows={refused_rows} files={files} name="Refused rows" what="Why" />
      {refused_rows.length < refused && <p>The first {refused_rows.length} are shown; the file has all of them.</p>}
    </section>
  );
}

function Mended({ files, mended, mended_rows }: ReportPageProps) {
  if (mended === 0) return null;
  return (
    <details class="numbers fleet-report">
      <summary>Mended: what was read otherwise than it is written</summary>
      <RowTable rows={mended_rows} files={files} name="Mended rows" what="How" />
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
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Column</th>
            <th scope="col">Cell</th>
            <th scope="col">{what}</th>
          </tr>
        </thead>
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
