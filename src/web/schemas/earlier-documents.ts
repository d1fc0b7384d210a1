import { DOCUMENT_VERSION } from "../../store/workspace-document.ts";

/** What exports of earlier versions lack, and how it is made up. */

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

const EARLIER_VERSIONS: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];

/** A document of an earlier version as one of today's; everything else as it is. */
export function upgraded(value: unknown): unknown {
  if (typeof value !== "object" || value === null || !("version" in value)) return value;
  const { version } = value;
  if (typeof version !== "number" || !EARLIER_VERSIONS.includes(version)) return value;
  const added = {
    ...(version < 2 ? ADDED_IN_2 : {}),
    ...(version < 3 ? ADDED_IN_3 : {}),
    ...(version < 6 ? ADDED_IN_6 : {}),
    ...(version < 8 ? ADDED_IN_8 : {}),
    ...(version < 9 ? ADDED_IN_9 : {}),
    ...(version < 11 ? ADDED_IN_11 : {}),
  };
  const document = withAges({ ...added, ...value, version: DOCUMENT_VERSION });
  const with_years = version < 8 ? withLockYears(document) : document;
  const with_days = version < 7 ? withKnownDays(with_years) : with_years;
  const with_kinds = version < 5 ? withVehicleKinds(with_days) : with_days;
  return version < 4 ? withBookCurrencies(with_kinds) : with_kinds;
}

/** Before 12 nobody had been asked for a model year, nor what an odometer shows. */
function withAges(document: Tree): Tree {
  return { ...document, vehicles: mapped(document.vehicles, (one) => ({ model_year: null, odometer: null, ...one })) };
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
