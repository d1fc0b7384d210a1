import { pageNumber } from "../../src/core/quantities/number-text.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { TextField } from "../parts/field.tsx";
import { FileField } from "../parts/file-field.tsx";
import { Folded } from "../parts/folded.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { SettingsHead } from "./head.tsx";

export interface RecordsPageProps {
  errors: readonly FieldError[];
  /** What was just imported. */
  imported: { vehicles: number; lines: number } | null;
  may_change: boolean;
  owner: boolean;
  /** For an owner: what these records are called, and what was typed where the name is asked for. */
  erasable: { name: string; typed: string } | null;
  /** For the owner of the machine, or of an object. */
  condition: ConditionProps | null;
  /** Most that can be sent in. */
  max_mib: number;
  asset: AssetUrl;
}

/** `/settings/records`: everything out, in, and kept safe. */
export function RecordsPage({
  errors,
  imported,
  may_change,
  owner,
  erasable,
  condition,
  max_mib,
  asset,
}: RecordsPageProps) {
  return (
    <Layout title="Records · Settings" path="/settings" asset={asset} errors={errors}>
      <SettingsHead path="/settings/records" owner={owner} />
      {imported !== null && (
        <p class="saved" id="saved" role="status" tabindex={-1} autofocus>
          Imported: {counted(imported.vehicles, "new vehicle")}, {counted(imported.lines, "new line")} in the records.
        </p>
      )}
      <Entry name="Export" id="export">
        <p>
          <a href="/settings/export.json" download>
            All records in one file
          </a>{" "}
          (JSON), to import into another copy of Seepwise. Access links and customers' quote links are left out.
        </p>
        <p>
          <a href="/settings/charge-log.csv" download>
            The charge log as a table
          </a>{" "}
          (CSV), in grams.
        </p>
        <Folded title="What is in the file">
          <p>
            Settings, vehicles, all entries with their history, price books, letterhead, quotes, customers, invoices and
            refrigerant log. Access links and customers' quote links are not in it: make new ones there, or move a
            backup, which has them.
          </p>
        </Folded>
      </Entry>
      {may_change && (
        <Entry name="Import" id="import">
          <p>Choose a JSON export. You see what is new before anything changes; nothing is added twice.</p>
          <form class="upload" method="post" action="/settings/import" enctype="multipart/form-data">
            <FileField
              id="file"
              label="Exported file"
              hint={`At most ${max_mib} MiB`}
              accept=".json,application/json"
              error={errors.find(({ field }) => field === "file")?.message}
            />
            <FormFoot submit="Read the file" />
          </form>
        </Entry>
      )}
      <Entry name="Backup" id="backup">
        <p>Where Seepwise runs from a folder, this copies everything while it runs:</p>
        <pre class="command">
          <code>npm run backup -- seepwise-backup.sqlite</code>
        </pre>
        <p>Keep a copy on another disk.</p>
        {condition !== null && <ConditionLine {...condition} />}
        <Folded title="Put a backup back">
          <p>Stop Seepwise first. What was there before is kept beside it:</p>
          <pre class="command">
            <code>npm run restore -- seepwise-backup.sqlite --replace</code>
          </pre>
          <p>A backup holds access links and keys too, as hashes.</p>
        </Folded>
      </Entry>
      {erasable !== null && <EraseEntry errors={errors} {...erasable} />}
    </Layout>
  );
}

export interface ConditionProps {
  version: string;
  bytes: number | null;
  /** A local time; `platform` where the platform keeps what there was; null for never. */
  last_backup: string | null;
  last_error: { at: string; id: string } | null;
  since: string;
}

/** How the records are, in one line. */
function ConditionLine({ version, bytes, last_backup, last_error, since }: ConditionProps) {
  return (
    <p class="soft">
      Seepwise {version}.{bytes !== null && ` Records: ${megabytes(bytes)} MB.`}{" "}
      {last_backup === "platform"
        ? "The platform keeps the last 30 days."
        : `Last backup: ${last_backup ?? "none yet"}.`}{" "}
      {last_error === null ? `No errors since ${since}.` : `Last error: ${last_error.at}, ${last_error.id} in the log.`}
    </p>
  );
}

/** With a decimal only where it counts. */
function megabytes(bytes: number): string {
  return pageNumber(bytes / 1e6, bytes < 1e7 ? 1 : 0);
}

/** The way out: everything, for good. */
function EraseEntry({ errors, name, typed }: { errors: readonly FieldError[]; name: string; typed: string }) {
  const error = errors.find(({ field }) => field === "erase_name")?.message;
  return (
    <Folded title="Erase everything" id="erase" open={error !== undefined}>
      <p>
        Vehicles, entries, quotes, customers, invoices, refrigerant log, settings and access links: all of it goes, for
        good. Links you gave to others stop working. Export first: tax and refrigerant law may require you to keep
        invoices and logs for years. Exports and backups made before still hold it.
      </p>
      <form class="stack" method="post" action="/settings/erase" novalidate>
        <TextField
          id="erase_name"
          name="erase_name"
          label="Type the name of these records"
          hint={name}
          value={typed}
          error={error}
        />
        <p class="actions">
          <button type="submit" class="button">
            Erase everything
          </button>
        </p>
      </form>
    </Folded>
  );
}

/** After everything was erased. */
export function ErasedPage({ asset }: { asset: AssetUrl }) {
  return (
    <Layout title="Everything is erased" path="" asset={asset}>
      <h1 class="page-title">Everything is erased</h1>
      <p class="page-lead">
        Nothing of these records is left here. Exports and backups you made are still where you put them.
      </p>
      <p>
        <a href="/">Start with the question</a>
      </p>
    </Layout>
  );
}

export interface ImportPageProps {
  exported: string;
  settings: "taken" | "same" | "kept";
  letterhead: "taken" | "same" | "kept" | null;
  /** New quotes whose number is taken here. */
  renumbered_quotes: readonly { number: number; becomes: number }[];
  rows: readonly { name: string; added: number; same: number; differing: number }[];
  /** What differs here. */
  differing: readonly { href: string; name: string }[];
  /** The file, packed, to come back with the agreement. */
  packed: string;
  asset: AssetUrl;
}

const SETTINGS_WORDS = {
  taken: "The settings of the file are taken too: nobody has changed them here yet.",
  same: "The settings are the same.",
  kept: "The settings here differ from those of the file, and stay.",
} as const;

const LETTERHEAD_WORDS = {
  taken: "The letterhead of the file is taken too: there is none here yet.",
  same: "The letterhead is the same.",
  kept: "The letterhead here differs from that of the file, and stays.",
} as const;

/** What an import would do, before it does it. */
export function ImportPage(props: ImportPageProps) {
  const { exported, settings, letterhead, renumbered_quotes, rows, differing, packed, asset } = props;
  const added = rows.reduce((sum, row) => sum + row.added, 0);
  const vehicles_differ = rows[0]!.differing > 0;
  const nothing = added === 0 && settings !== "taken" && letterhead !== "taken" && !vehicles_differ;
  return (
    <Layout title="Import · Settings" path="/settings" asset={asset}>
      <p class="page-name">
        <a href="/settings/records">Export, import, backup</a>
      </p>
      <h1 class="page-title">
        {nothing ? "Nothing to import: all of it is here already" : `${counted(added, "new thing")} to import`}
      </h1>
      <p>The file was exported on {exported}. Nothing has been changed yet.</p>
      <FileHolds rows={rows} />
      <p>{SETTINGS_WORDS[settings]}</p>
      {letterhead !== null && <p>{LETTERHEAD_WORDS[letterhead]}</p>}
      {renumbered_quotes.length > 0 && (
        <p>
          Some numbers of quotes are taken here, so these get new ones:{" "}
          {renumbered_quotes.map(({ number, becomes }) => `${number} becomes ${becomes}`).join(", ")}. What a customer
          was sent keeps its old number.
        </p>
      )}
      <Differing differing={differing} />
      {nothing ? (
        <p>
          <a href="/settings/records">Back</a>
        </p>
      ) : (
        <form class="stack" method="post" action="/settings/import/confirm">
          <input type="hidden" name="packed" value={packed} />
          {vehicles_differ && (
            <label class="choice">
              <input type="checkbox" name="take_vehicles" value="yes" />
              Take what the file says about vehicles that differ: name, refrigerant, plan, prices
            </label>
          )}
          <FormFoot submit="Import">
            <a href="/settings/records">Leave it</a>
          </FormFoot>
        </form>
      )}
    </Layout>
  );
}

function FileHolds({ rows }: Pick<ImportPageProps, "rows">) {
  return (
    <table class="import-report">
      <caption class="visually-hidden">What the file holds</caption>
      <thead>
        <tr>
          <td />
          <th scope="col" class="figure-cell">
            New
          </th>
          <th scope="col" class="figure-cell">
            Here already
          </th>
          <th scope="col" class="figure-cell">
            Different here
          </th>
        </tr>
      </thead>
      <tbody>
        {rows
          .filter(({ added, same, differing }) => added + same + differing > 0)
          .map((row) => (
            <tr>
              <th scope="row">{row.name}</th>
              <td class="figure-cell">{row.added}</td>
              <td class="figure-cell">{row.same}</td>
              <td class="figure-cell">{row.differing}</td>
            </tr>
          ))}
      </tbody>
    </table>
  );
}

/** Records that are not taken, since they are here and say something else. */
function Differing({ differing }: Pick<ImportPageProps, "differing">) {
  if (differing.length === 0) return null;
  return (
    <>
      <p>These records differ from the file and stay as they are:</p>
      <ul class="bullets">
        {differing.map(({ href, name }) => (
          <li>
            <a href={href} dir="auto">
              {name}
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}

function counted(count: number, noun: string): string {
  return `${pageNumber(count)} ${noun}${count === 1 ? "" : "s"}`;
}
