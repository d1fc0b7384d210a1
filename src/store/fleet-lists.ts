import type { FleetTerms, ScopedTerms } from "../core/fleet/terms.ts";
import { TERM_SCOPES } from "../core/fleet/terms.ts";
import { type Columns, json, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import type { Logged } from "./fleet-terms.ts";

/** What was said of a fleet and where its records came from, as an exported workspace contains it. */

/** Terms of a fleet, a group or a depot, with who said them last. */
export interface SaidTerms extends ScopedTerms {
  version: number;
  updated_at: string;
  updated_by: string;
}

/** What another program calls a vehicle, or an entry of a charge log. */
export interface ExternalId {
  source: string;
  kind: "vehicle" | "event";
  external_id: string;
  subject_id: string;
  vehicle_id: string;
  sent_hash: string;
}

/** An import that was taken. Its rows are not in it: they name vehicles, and names can be erased later. */
export interface TakenImport {
  id: string;
  files: { name: string }[];
  answers: unknown[];
  report: Record<string, unknown>;
  created_at: string;
  created_by: string;
  taken_at: string;
  taken_by: string;
  undone_at: string | null;
  undone_by: string | null;
  undone: Record<string, number> | null;
}

/** What an import wrote. */
export interface ImportedRow {
  import_id: string;
  kind: (typeof IMPORTED_KINDS)[number];
  subject_id: string;
  vehicle_id: string;
  version: number;
  before: Record<string, unknown> | null;
}

/** The order that an entry belongs to. */
export interface EntryOrder {
  entry_id: string;
  vehicle_id: string;
  order_key: string;
}

/** How files with these headers were read the last time. */
export interface KeptMapping {
  headers: string;
  answers: Record<string, unknown>;
  used_at: string;
}

export const IMPORTED_KINDS = ["vehicle", "particulars", "entry", "correction"] as const;
export const EXTERNAL_KINDS = ["vehicle", "event"] as const;

/** What a report has of single rows. */
const REPORTED_ROWS = [
  "refused_rows",
  "mended_rows",
  "from_text_rows",
  "doubted_rows",
  "change_rows",
  "aside_rows",
  "samples",
  "corrections",
] as const;

const WITHOUT_ROWS = `json_replace(report, ${REPORTED_ROWS.map((name) => `'$.${name}', json('[]')`).join(", ")})`;

const TERMS: Columns<SaidTerms> = {
  scope: oneOf(TERM_SCOPES),
  name: text,
  terms: json<FleetTerms>(),
  version: number,
  updated_at: text,
  updated_by: text,
};
const LOGGED: Columns<Logged> = {
  vehicle_id: text,
  from_date: nullable(text),
  until_date: text,
  missed: number,
};
const EXTERNAL: Columns<ExternalId> = {
  source: text,
  kind: oneOf(EXTERNAL_KINDS),
  external_id: text,
  subject_id: text,
  vehicle_id: text,
  sent_hash: text,
};
const IMPORT: Columns<TakenImport> = {
  id: text,
  files: json(),
  answers: json(),
  report: json(),
  created_at: text,
  created_by: text,
  taken_at: text,
  taken_by: text,
  undone_at: nullable(text),
  undone_by: nullable(text),
  undone: nullable(json()),
};
const IMPORTED: Columns<ImportedRow> = {
  import_id: text,
  kind: oneOf(IMPORTED_KINDS),
  subject_id: text,
  vehicle_id: text,
  version: number,
  before: nullable(json()),
};
const ORDER: Columns<EntryOrder> = { entry_id: text, vehicle_id: text, order_key: text };
const MAPPING: Columns<KeptMapping> = { headers: text, answers: json(), used_at: text };

const all = (columns: object, table: string, order: string) =>
  `SELECT ${Object.keys(columns).join(", ")} FROM ${table} WHERE workspace_id = :workspace ORDER BY ${order}`;

const taken = namesOf(IMPORT).map(
  (name) =>
    ({
      files: "(SELECT json_group_array(json_object('name', value ->> 'name')) FROM json_each(files)) AS files",
      answers: "'[]' AS answers",
      report: `${WITHOUT_ROWS} AS report`,
    })[name as string] ?? name,
);

/** How each list is read and written, what tells one from the others, and what is compared of it. */
export const FLEET_LISTS = {
  fleet_terms: {
    reading: all(TERMS, "fleet_terms", "scope, name"),
    of: rowReader(TERMS),
    row: rowWriter(TERMS),
    key: ({ scope, name }: SaidTerms) => `${scope} ${name}`,
    content: ({ terms }: SaidTerms) => terms,
  },
  fleet_logged: {
    reading: all(LOGGED, "fleet_logged", "vehicle_id"),
    of: rowReader(LOGGED),
    row: rowWriter(LOGGED),
    key: ({ vehicle_id }: Logged) => vehicle_id,
    content: (said: Logged): unknown => said,
  },
  external_ids: {
    reading: all(EXTERNAL, "external_ids", "source, kind, external_id"),
    of: rowReader(EXTERNAL),
    row: rowWriter(EXTERNAL),
    key: ({ source, kind, external_id }: ExternalId) => `${kind} ${source} ${external_id}`,
    content: ({ subject_id }: ExternalId): unknown => subject_id,
  },
  imports: {
    reading: `SELECT ${taken.join(", ")} FROM imports
      WHERE workspace_id = :workspace AND report IS NOT NULL ORDER BY taken_at, id`,
    of: rowReader(IMPORT),
    row: rowWriter(IMPORT),
    key: ({ id }: TakenImport) => id,
    content: ({ undone_at }: TakenImport): unknown => undone_at,
  },
  import_rows: {
    reading: `SELECT ${namesOf(IMPORTED).join(", ")} FROM import_rows AS r WHERE workspace_id = :workspace
      AND EXISTS (SELECT 1 FROM imports AS i WHERE i.workspace_id = r.workspace_id AND i.id = r.import_id
        AND i.report IS NOT NULL) ORDER BY import_id, kind, subject_id`,
    of: rowReader(IMPORTED),
    row: rowWriter(IMPORTED),
    key: ({ import_id, kind, subject_id }: ImportedRow) => `${import_id} ${kind} ${subject_id}`,
    content: (row: ImportedRow): unknown => row,
  },
  entry_orders: {
    reading: all(ORDER, "entry_orders", "entry_id"),
    of: rowReader(ORDER),
    row: rowWriter(ORDER),
    key: ({ entry_id }: EntryOrder) => entry_id,
    content: ({ order_key }: EntryOrder): unknown => order_key,
  },
  import_mappings: {
    reading: all(MAPPING, "import_mappings", "headers"),
    of: rowReader(MAPPING),
    row: rowWriter(MAPPING),
    key: ({ headers }: KeptMapping) => headers,
    content: ({ answers }: KeptMapping): unknown => answers,
  },
};
