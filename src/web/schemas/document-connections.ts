import type { Issue } from "../../core/problem.ts";
import type { LineHead } from "../../core/question/record.ts";
import { optionTotal, type QuoteOption, type Taxes } from "../../core/quotes/quote.ts";
import type { WorkspaceDocument } from "../../store/workspace-document.ts";

/** Where the parts of a document, each of the right shape, contradict each other or name what is not there. */
export function connectionIssues(document: WorkspaceDocument): Issue[] {
  return [
    ...UNIQUE.flatMap((unique) => twiceIssues(document, unique)),
    ...LEDGERS.flatMap((ledger) => lineIssues(document, ledger)),
    ...OF_VEHICLES.flatMap((list) => vehicleIssues(document, list)),
    ...referenceIssues(document),
    ...document.quotes.flatMap(priceIssues),
  ];
}

/** The parts of a document that are lists. */
type ListName = {
  [Name in keyof WorkspaceDocument]: WorkspaceDocument[Name] extends readonly unknown[] ? Name : never;
}[keyof WorkspaceDocument];

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

/** The values of one field, row by row. */
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
