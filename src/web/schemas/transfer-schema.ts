import * as z from "zod";
import type { Issue } from "../../core/problem.ts";
import { WORKSPACE_PRESSURE_UNITS } from "../../core/quantities/units.ts";
import { type LineHead, MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { optionTotal, type QuoteOption, type Taxes } from "../../core/quotes/quote.ts";
import { DOCUMENT_FORMAT, DOCUMENT_VERSION, type WorkspaceDocument } from "../../store/workspace-document.ts";
import { MASS_UNITS, TEMPERATURE_UNITS } from "../../store/workspaces.ts";
import { isTimeZone } from "../edge/time-zones.ts";
import { customerStored, particularsStored } from "./customer-schema.ts";
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
 * The exported workspace, `seepwise-workspace` version 11: one JSON object, UTF-8.
 *
 *     {
 *       "format": "seepwise-workspace", "version": 11, "exported_at": "2026-05-01T12:00:00.000Z",
 *       "workspace":  { settings: name, units, currency, place, climate, time zone, plan, prices, assumptions, … },
 *       "vehicles":   [ { "id", "label", "refrigerant", "nameplate_g", "kind", "dye_in_own_oil", … } ],
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
 * holds for a fleet nor where its records came from; all are taken as well.
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

/** What stands in each list of the document. */
const LISTED = {
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

const ADDED_IN_2 = { price_books: [], letterhead: null, quotes: [], fleet_names: [], fleet_locks: [] };

const ADDED_IN_3 = {
  customers: [],
  vehicle_particulars: [],
  invoices: [],
  payments: [],
  cylinders: [],
  cylinder_moves: [],
  refrigerant_work: [],
};

const ADDED_IN_6 = { follow_ups_closed: [] };

const ADDED_IN_8 = { fleet_plans: [], fleet_orders: [] };

const ADDED_IN_9 = { fleet_closed_years: [], fleet_closed_rows: [] };

const ADDED_IN_11 = {
  fleet_terms: [],
  fleet_logged: [],
  external_ids: [],
  imports: [],
  import_rows: [],
  entry_orders: [],
  import_mappings: [],
};

const EARLIER_VERSIONS: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

/** A document of an earlier version as one of today's; everything else as it is. */
function upgraded(value: unknown): unknown {
  if (typeof value !== "object" || value === null || !("version" in value)) return value;
  const { version } = value;
  if (typeof version !== "number" || !EARLIER_VERSIONS.includes(version)) return value;
  const added = {
    ...(version < 2 ? ADDED_IN_2 : {}),
    ...(version < 3 ? ADDED_IN_3 : {}),
    ...(version < 6 ? ADDED_IN_6 : {}),
    ...(version < 8 ? ADDED_IN_8 : {}),
    ...(version < 9 ? ADDED_IN_9 : {}),
    ...ADDED_IN_11,
  };
  const document = { ...added, ...value, version: DOCUMENT_VERSION };
  const with_years = version < 8 ? withLockYears(document) : document;
  const with_days = version < 7 ? withKnownDays(with_years) : with_years;
  const with_kinds = version < 5 ? withVehicleKinds(with_days) : with_days;
  return version < 4 ? withBookCurrencies(with_kinds) : with_kinds;
}

/** Before 8 a repair was settled for every year. */
function withLockYears(document: Tree): Tree {
  return { ...document, fleet_locks: mapped(document.fleet_locks, (one) => ({ ...one, year: null })) };
}

/** Before 7 every entry of the charge log was of one day. */
function withKnownDays(document: Tree): Tree {
  return { ...document, charge_log: mapped(document.charge_log, (line) => ({ ...line, date_within_days: null })) };
}

/** Before 5 nobody had been asked what a vehicle is, nor which dye there is for it. */
function withVehicleKinds(document: Tree): Tree {
  return { ...document, vehicles: mapped(document.vehicles, (one) => ({ ...one, kind: null, dye_in_own_oil: null })) };
}

/**
 * Before 4 a price book was in whatever its workspace was set to, and the copy of it in a quote in what the quote is
 * in.
 */
function withBookCurrencies(document: Tree): Tree {
  const currency = treeAt(document, "workspace")?.currency;
  const { price_books, quotes } = document;
  const inCurrency = (book: unknown, code: unknown) => (isTree(book) ? { ...book, currency: code } : book);
  return {
    ...document,
    price_books: mapped(price_books, (one) => ({ ...one, book: inCurrency(one.book, currency) })),
    quotes: mapped(quotes, (quote) => {
      const content = treeAt(quote, "content");
      return content === null
        ? quote
        : { ...quote, content: { ...content, book: inCurrency(content.book, content.currency) } };
    }),
  };
}

type Tree = Record<string, unknown>;

/** A list of objects, each changed; whatever else it is stays, for the schema to refuse. */
function mapped(list: unknown, of: (one: Tree) => Tree): unknown {
  return Array.isArray(list) ? list.map((one: unknown) => (isTree(one) ? of(one) : one)) : list;
}

function isTree(value: unknown): value is Tree {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function treeAt(tree: Tree, name: string): Tree | null {
  const value = tree[name];
  return isTree(value) ? value : null;
}

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
  const issues = [
    ...UNIQUE.flatMap((unique) => twiceIssues(document, unique)),
    ...LEDGERS.flatMap((ledger) => lineIssues(document, ledger)),
    ...OF_VEHICLES.flatMap((list) => vehicleIssues(document, list)),
    ...referenceIssues(document),
    ...document.quotes.flatMap(priceIssues),
  ];
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

type Unique = readonly [list: ListName, field: string, message: string];

const UNIQUE: readonly Unique[] = [
  ["vehicles", "id", "Two vehicles have this id."],
  ["price_books", "id", "Two price books have this id."],
  ["quotes", "id", "Two quotes have this id."],
  ["quotes", "number", "Two quotes have this number."],
  ["fleet_names", "source_key", "Two vehicles have this name in fleet files."],
  ["fleet_locks", "vehicle_id", "This vehicle's repair is settled twice."],
  ["fleet_plans", "year", "Two plans are for this year."],
  ["fleet_orders", "id", "Two work orders have this id."],
  ["customers", "id", "Two customers have this id."],
  ["invoices", "id", "Two invoices have this id."],
  ["payments", "id", "Two payments have this id."],
  ["cylinders", "id", "Two cylinders have this id."],
  ["cylinder_moves", "id", "Two moves of cylinders have this id."],
  ["refrigerant_work", "log_id", "This entry names its technician twice."],
  ["vehicle_particulars", "vehicle_id", "This vehicle is named twice."],
  ["fleet_logged", "vehicle_id", "This vehicle's records are said to be whole twice."],
  ["imports", "id", "Two imports have this id."],
  ["entry_orders", "entry_id", "This entry has two orders."],
  ["import_mappings", "headers", "Two files have these headers."],
];

function twiceIssues(document: WorkspaceDocument, [list, field, message]: Unique): Issue[] {
  const seen = new Set<unknown>();
  return valuesOf(document[list], field).flatMap((value, i) => {
    const twice = seen.has(value);
    seen.add(value);
    return twice ? [{ path: `${list}.${i}.${field}`, message }] : [];
  });
}

const OF_VEHICLES = [
  "quotes",
  "fleet_names",
  "fleet_locks",
  "vehicle_particulars",
  "invoices",
  "refrigerant_work",
  "follow_ups_closed",
  "fleet_orders",
  "fleet_logged",
  "external_ids",
  "import_rows",
  "entry_orders",
] as const;

function vehicleIssues({ vehicles, ...lists }: WorkspaceDocument, list: (typeof OF_VEHICLES)[number]): Issue[] {
  const vehicle_ids = new Set(vehicles.map(({ id }) => id));
  return lists[list].flatMap(({ vehicle_id }, i) =>
    vehicle_ids.has(vehicle_id)
      ? []
      : [{ path: `${list}.${i}.vehicle_id`, message: "The vehicle of this one is not in the file." }],
  );
}

function referenceIssues(document: WorkspaceDocument): Issue[] {
  const ids = {
    customers: new Set(document.customers.map(({ id }) => id)),
    quotes: new Set(document.quotes.map(({ id }) => id)),
    invoices: new Set(document.invoices.map(({ id }) => id)),
    payments: new Set(document.payments.map(({ id }) => id)),
    cylinders: new Set(document.cylinders.map(({ id }) => id)),
    plans: new Set(document.fleet_plans.map(({ year }) => year)),
    imports: new Set(document.imports.map(({ id }) => id)),
  };
  return REFERENCES.flatMap(([list, field, to]) =>
    valuesOf(document[list], field).flatMap((id, i) =>
      id === null || (ids[to] as ReadonlySet<unknown>).has(id)
        ? []
        : [{ path: `${list}.${i}.${field}`, message: `What this names is not among the ${to} of the file.` }],
    ),
  );
}

/** One field of every row of a list. */
function valuesOf(rows: readonly object[], field: string): unknown[] {
  return rows.map((row) => Reflect.get(row, field));
}

/** Which field of which list names one of another. */
const REFERENCES = [
  ["vehicle_particulars", "customer_id", "customers"],
  ["invoices", "customer_id", "customers"],
  ["invoices", "quote_id", "quotes"],
  ["invoices", "credits", "invoices"],
  ["payments", "invoice_id", "invoices"],
  ["payments", "reverses", "payments"],
  ["cylinder_moves", "cylinder_id", "cylinders"],
  ["refrigerant_work", "recovered_into", "cylinders"],
  ["refrigerant_work", "charged_from", "cylinders"],
  ["fleet_orders", "year", "plans"],
  ["import_rows", "import_id", "imports"],
] as const;

/** Every option of a quote must come to a price: its pages reckon it whenever they are opened. */
function priceIssues({ content, snapshot }: WorkspaceDocument["quotes"][number], i: number): Issue[] {
  const of = (path: string, options: readonly QuoteOption[], taxes: Taxes) =>
    options.flatMap((option, o) =>
      comesToAPrice(option, taxes, content.currency)
        ? []
        : [{ path: `quotes.${i}.${path}.options.${o}`, message: "This option does not come to a price." }],
    );
  return [
    ...of("content", content.options, content.book.taxes),
    ...(snapshot === null ? [] : of("snapshot", snapshot.options, snapshot.taxes)),
  ];
}

function comesToAPrice(option: QuoteOption, taxes: Taxes, currency: string): boolean {
  try {
    optionTotal(option, taxes, currency);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

const LEDGERS = ["charge_log", "findings", "readings", "notes"] as const;

/** Each line's vehicle must be in the file, and each entry's lines must count 1, 2, 3 … about one vehicle. */
function lineIssues({ vehicles, ...ledgers }: WorkspaceDocument, ledger: (typeof LEDGERS)[number]): Issue[] {
  const vehicle_ids = new Set(vehicles.map(({ id }) => id));
  const lines: (LineHead & { i: number })[] = ledgers[ledger].map((line, i) => ({ ...line, i }));
  const issues: Issue[] = [];
  for (const entry of Map.groupBy(lines, ({ id }) => id).values()) {
    const in_order = entry.toSorted((a, b) => a.version - b.version);
    const [first] = in_order;
    for (const [expected, { i, version, vehicle_id, number }] of in_order.entries()) {
      const issue = (field: string, message: string) => issues.push({ path: `${ledger}.${i}.${field}`, message });
      if (!vehicle_ids.has(vehicle_id)) issue("vehicle_id", "The vehicle of this line is not in the file.");
      if (version !== expected + 1) issue("version", "The lines of one entry must count their versions 1, 2, 3 …");
      if (vehicle_id !== first!.vehicle_id || number !== first!.number)
        issue("vehicle_id", "The lines of one entry must be about one vehicle and have one number.");
    }
  }
  return issues;
}
