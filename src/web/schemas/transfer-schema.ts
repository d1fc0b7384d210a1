import * as z from "zod";
import type { Issue } from "../../core/problem.ts";
import { WORKSPACE_PRESSURE_UNITS } from "../../core/quantities/units.ts";
import { MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { DOCUMENT_FORMAT, DOCUMENT_VERSION, type WorkspaceDocument } from "../../store/workspace-document.ts";
import { MASS_UNITS, TEMPERATURE_UNITS } from "../../store/workspaces.ts";
import { isTimeZone } from "../edge/time-zones.ts";
import { customerStored, particularsStored } from "./customer-schema.ts";
import { connectionIssues } from "./document-connections.ts";
import { upgraded } from "./earlier-documents.ts";
import {
  entryOrderStored,
  externalIdStored,
  importRowStored,
  importStored,
  loggedStored,
  mappingStored,
  termsStored,
} from "./fleet-lists-schema.ts";
import { closedStored } from "./follow-up-schema.ts";
import { invoiceStored, paymentStored } from "./invoice-schema.ts";
import { closedRowStored, closedYearStored, orderStored, planStored, planYear } from "./plan-schema.ts";
import { ownBook, quoteStored, savedLetterhead } from "./quote-schema.ts";
import {
  actor,
  chargeLine,
  currencyCode,
  findingLine,
  general,
  instant,
  noteLine,
  readingsLine,
  recordId,
  text,
  vehicleStored,
  version,
} from "./record-schema.ts";
import { cylinderStored, moveStored, workStored } from "./refrigerant-schema.ts";
import { checked, MAX_ISSUES } from "./sentences.ts";

/**
 * The exported workspace, `seepwise-workspace` version 12: one JSON object, UTF-8.
 *
 *     {
 *       "format": "seepwise-workspace", "version": 12, "exported_at": "2026-05-01T12:00:00.000Z",
 *       "workspace":  { settings: name, units, currency, place, climate, time zone, plan, prices, assumptions, … },
 *       "vehicles":   [ { "id", "label", "refrigerant", "kind", "model_year", "odometer": { "km", "on" }, … } ],
 *       "charge_log": [ { "id", "version", "change", "vehicle_id", "number", "date", "date_within_days", … } ],
 *       "findings":   [ { the same head, "date", "test", "location", "result", "note", … } ],
 *       "readings":   [ { the same head, "date", "ambient_c", "low_kpa", "high_kpa", "note", … } ],
 *       "notes":      [ { the same head, "body", … } ],
 *       "price_books": [ { "id", "version", "archived_at", "book": { "name", "labor_rate_micro", "places", … }, … } ],
 *       "letterhead":  { "letterhead": { "shop", "address", … }, "version", … } or null,
 *       "quotes":      [ { "id", "vehicle_id", "number", "status", "content", "snapshot", "decided_at", "work", … } ],
 *       "fleet_names": [ { "source_key", "vehicle_id" } ],
 *       "fleet_locks": [ { "vehicle_id", "repair": "must" or "must-not", "year" } ],
 *       "customers":   [ { "id", "name", "phone", "email", "address", "note", "erased_at", … } ],
 *       "vehicle_particulars": [ { "vehicle_id", "customer_id", "words", "plate", "vin", "odometer", … } ],
 *       "invoices":    [ { "id", "kind", "number", "quote_id", "document", "total_minor", "issued_on", … } ],
 *       "payments":    [ { "id", "invoice_id", "amount_minor", "paid_on", "method", "reverses", … } ],
 *       "cylinders":   [ { "id", "name", "refrigerant", "condition", "most_g", "retired_at", … } ],
 *       "cylinder_moves": [ { "id", "cylinder_id", "kind", "date", "amount_g", "note", "removed_at", … } ],
 *       "refrigerant_work": [ { "log_id", "technician", "certificate", "recovered_into", "charged_from", … } ]
 *       "follow_ups_closed": [ { "vehicle_id", "follow_up", "outcome", "words", … } ],
 *       "fleet_plans":  [ { "year", "terms": { "budget", "aim", "shop", "depots" }, "currency", … } ],
 *       "fleet_orders": [ { "id", "year", "vehicle_id", "option", "price", "month", "done_on", "paid", … } ],
 *       "fleet_closed_years": [ { "year", "number", "model_version", "gwp", "closed_at", "closed_by", … } ],
 *       "fleet_closed_rows":  [ { "year", "number", "vehicle_id", "label", "added_g", "recovered_g", "lost_g", … } ],
 *       "fleet_terms":  [ { "scope": "fleet", "group" or "depot", "name", "terms": { "climate", … }, … } ],
 *       "fleet_logged": [ { "vehicle_id", "from_date", "until_date", "missed" } ],
 *       "external_ids": [ { "source", "kind": "vehicle" or "event", "external_id", "subject_id", … } ],
 *       "imports":      [ { "id", "files": [ { "name" } ], "report", "taken_at", "taken_by", "undone_at", … } ],
 *       "import_rows":  [ { "import_id", "kind", "subject_id", "vehicle_id", "version", "before" } ],
 *       "entry_orders": [ { "entry_id", "vehicle_id", "order_key" } ],
 *       "import_mappings": [ { "headers", "answers", "used_at" } ]
 *     }
 *
 * Every field is there, null where nothing was said; amounts are grams, dates `YYYY-MM-DD`, instants UTC. The four
 * ledgers, `charge_log` to `notes`, hold every line ever written: an entry keeps its `id`, its lines count `version`
 * from 1, and the one with the highest version holds, unless its `change` is "removed". Plan, prices and assumptions
 * are as in a request to the model. Money ends in its unit: `_minor` the currency's smallest, `_micro` millionths of
 * the main one. A quote comes without the customer's link, and its `snapshot` is what was sent. Version 1 ended with
 * the notes, version 2 with the locks of the fleet, version 3 had no currency in a price book, version 4 no kind of
 * vehicle and no dye in the compressor's own oil, version 5 no follow-ups, version 6 no vague dates, version 7 no
 * plans, version 8 no closed years, version 9 nothing agreed besides an option and no deposits, version 10 neither what
 * holds for a fleet nor where its records came from, version 11 no model years and odometers; all are taken as well.
 */
const workspace = z.strictObject({
  workspace_id: recordId,
  name: text(MAX_LABEL_CHARS),
  mass_unit: z.enum(MASS_UNITS),
  temperature_unit: z.enum(TEMPERATURE_UNITS),
  pressure_unit: z.enum(WORKSPACE_PRESSURE_UNITS),
  currency: currencyCode,
  place: text(64).nullable(),
  ...general,
  time_zone: text(64).refine(isTimeZone, { error: "Give a time zone by its name, like America/Chicago." }),
  version,
  created_at: instant,
  updated_at: instant,
  updated_by: actor,
});

/**
 * What stands in each list of the document.
 *
 * @internal Called from outside by tests alone.
 */
export const LISTED = {
  vehicles: vehicleStored,
  charge_log: chargeLine,
  findings: findingLine,
  readings: readingsLine,
  notes: noteLine,
  price_books: ownBook,
  quotes: quoteStored,
  fleet_names: z.strictObject({ source_key: z.string().min(1), vehicle_id: recordId }),
  fleet_locks: z.strictObject({
    vehicle_id: recordId,
    repair: z.enum(["must", "must-not"]),
    year: planYear.nullable(),
  }),
  customers: customerStored,
  vehicle_particulars: particularsStored,
  invoices: invoiceStored,
  payments: paymentStored,
  cylinders: cylinderStored,
  cylinder_moves: moveStored,
  refrigerant_work: workStored,
  follow_ups_closed: closedStored,
  fleet_plans: planStored,
  fleet_orders: orderStored,
  fleet_closed_years: closedYearStored,
  fleet_closed_rows: closedRowStored,
  fleet_terms: termsStored,
  fleet_logged: loggedStored,
  external_ids: externalIdStored,
  imports: importStored,
  import_rows: importRowStored,
  entry_orders: entryOrderStored,
  import_mappings: mappingStored,
};
type ListName = keyof typeof LISTED;
const LIST_NAMES = Object.keys(LISTED) as ListName[];

/** The document with its lists still unread. */
const documentShell = z.strictObject({
  format: z.literal(DOCUMENT_FORMAT, { error: "This is not an exported workspace." }),
  version: z.literal(DOCUMENT_VERSION, {
    error: "This was exported by a newer Seepwise. Import it there, or update this one.",
  }),
  exported_at: instant,
  workspace,
  letterhead: savedLetterhead.nullable(),
  ...(Object.fromEntries(LIST_NAMES.map((name) => [name, z.array(z.unknown())])) as Record<
    ListName,
    z.ZodArray<z.ZodUnknown>
  >),
});

export type ParsedDocument = { ok: true; document: WorkspaceDocument } | { ok: false; issues: Issue[] };

/** Checks what claims to be an exported workspace: its shape, and that its lines hang together. */
export function parseWorkspaceDocument(value: unknown): ParsedDocument {
  const shell = checked(documentShell, upgraded(value));
  if (!shell.ok) return shell;
  const lists: Partial<Record<ListName, unknown[]>> = {};
  const wrong: Issue[] = [];
  for (const name of LIST_NAMES) lists[name] = readList(name, shell.value[name], wrong);
  if (wrong.length > 0) return { ok: false, issues: wrong };
  const document = { ...shell.value, ...lists } as WorkspaceDocument;
  const issues = connectionIssues(document);
  return issues.length === 0 ? { ok: true, document } : { ok: false, issues: issues.slice(0, MAX_ISSUES) };
}

/**
 * The elements of a list, checked one by one until `wrong` is full: a file of ten million wrong ones is refused after
 * the first hundred, before there is an issue for each.
 */
function readList(name: ListName, list: readonly unknown[], wrong: Issue[]): unknown[] {
  const read: unknown[] = [];
  for (const [i, element] of list.entries()) {
    if (wrong.length >= MAX_ISSUES) break;
    const parsed = checked(LISTED[name], element, [name, i]);
    if (parsed.ok) read.push(parsed.value);
    else wrong.push(...parsed.issues.slice(0, MAX_ISSUES - wrong.length));
  }
  return read;
}
