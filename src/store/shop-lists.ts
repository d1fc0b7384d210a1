import type { ClosedRow, ClosedYear } from "../core/fleet/closing.ts";
import type { FleetOrder, FleetPlan } from "../core/fleet/order.ts";
import { insertRows } from "./bulk.ts";
import {
  type Customer,
  customerOf,
  customerRow,
  type Particulars,
  particularsOf,
  particularsRow,
  SELECT_CUSTOMERS,
  SELECT_PARTICULARS,
} from "./customers.ts";
import {
  closedRowOf,
  closedRowRow,
  closedYearOf,
  closedYearRow,
  SELECT_CLOSED_ROWS,
  SELECT_CLOSED_YEARS,
} from "./fleet-closings.ts";
import {
  type EntryOrder,
  type ExternalId,
  FLEET_LISTS,
  type ImportedRow,
  type KeptMapping,
  type SaidTerms,
  type TakenImport,
} from "./fleet-lists.ts";
import { orderOf, orderRow, planOf, planRow, SELECT_ORDERS, SELECT_PLANS } from "./fleet-plans.ts";
import type { Logged } from "./fleet-terms.ts";
import { type ClosedFollowUp, closedKey, closedOf, closedRow, SELECT_CLOSED } from "./follow-ups.ts";
import {
  type Invoice,
  invoiceOf,
  invoiceRow,
  type Payment,
  paymentOf,
  paymentRow,
  SELECT_INVOICES,
  SELECT_PAYMENTS,
} from "./invoice-row.ts";
import {
  type Cylinder,
  cylinderOf,
  cylinderRow,
  moveOf,
  moveRow,
  type RecordedMove,
  type RefrigerantWork,
  SELECT_CYLINDERS,
  SELECT_MOVES,
  SELECT_WORK,
  workOf,
  workRow,
} from "./refrigerant-log.ts";
import type { Param, Row, Statement } from "./sql.ts";

/** A shop's records besides vehicles and quotes, by the list that an exported workspace has them in. */
export interface ShopRecords {
  customers: Customer;
  vehicle_particulars: Particulars;
  invoices: Invoice;
  payments: Payment;
  cylinders: Cylinder;
  cylinder_moves: RecordedMove;
  refrigerant_work: RefrigerantWork;
  follow_ups_closed: ClosedFollowUp;
  fleet_plans: FleetPlan;
  fleet_orders: FleetOrder;
  fleet_closed_years: ClosedYear;
  fleet_closed_rows: ClosedRow;
  fleet_terms: SaidTerms;
  fleet_logged: Logged;
  external_ids: ExternalId;
  imports: TakenImport;
  import_rows: ImportedRow;
  entry_orders: EntryOrder;
  import_mappings: KeptMapping;
}

export type ShopListName = keyof ShopRecords;
/** Each list whole. */
export type ShopLists = { [Name in ShopListName]: ShopRecords[Name][] };

interface ShopList<One> {
  /** Reads all of a workspace, in a fixed order. */
  reading: string;
  of: (row: Row) => One;
  row: (one: One) => Record<string, Param>;
  /** Tells one from the others. */
  key: (one: One) => string;
  /** The content that is compared: everything but version, time and actor. */
  content: (one: One) => unknown;
}

/** In insertion order: what others refer to comes first. */
export const SHOP_LISTS: { readonly [Name in ShopListName]: ShopList<ShopRecords[Name]> } = {
  customers: {
    reading: `${SELECT_CUSTOMERS} WHERE workspace_id = :workspace ORDER BY id`,
    of: customerOf,
    row: customerRow,
    key: ({ id }) => id,
    content: ({ name, phone, email, address, note, language = "", erased_at }) => [
      name,
      phone,
      email,
      address,
      note,
      language,
      erased_at !== null,
    ],
  },
  vehicle_particulars: {
    reading: `${SELECT_PARTICULARS} WHERE workspace_id = :workspace ORDER BY vehicle_id`,
    of: particularsOf,
    row: particularsRow,
    key: ({ vehicle_id }) => vehicle_id,
    content: ({ customer_id, words, plate, vin, odometer }) => [customer_id, words, plate, vin, odometer],
  },
  invoices: {
    reading: `${SELECT_INVOICES} WHERE workspace_id = :workspace ORDER BY issued_at, id`,
    of: invoiceOf,
    row: invoiceRow,
    key: ({ id }) => id,
    content: (invoice) => invoice,
  },
  payments: {
    reading: `${SELECT_PAYMENTS} WHERE workspace_id = :workspace ORDER BY recorded_at, id`,
    of: paymentOf,
    row: paymentRow,
    key: ({ id }) => id,
    content: (payment) => payment,
  },
  cylinders: {
    reading: `${SELECT_CYLINDERS} WHERE workspace_id = :workspace ORDER BY id`,
    of: cylinderOf,
    row: cylinderRow,
    key: ({ id }) => id,
    content: ({ name, refrigerant, condition, most_g, retired_at }) => [
      ...[name, refrigerant, condition, most_g, retired_at !== null],
    ],
  },
  cylinder_moves: {
    reading: `${SELECT_MOVES} WHERE workspace_id = :workspace ORDER BY id`,
    of: moveOf,
    row: moveRow,
    key: ({ id }) => id,
    content: (move) => move,
  },
  refrigerant_work: {
    reading: `${SELECT_WORK} WHERE workspace_id = :workspace ORDER BY log_id`,
    of: workOf,
    row: workRow,
    key: ({ log_id }) => log_id,
    content: ({ technician, certificate, recovered_into, charged_from }) => [
      ...[technician, certificate, recovered_into, charged_from],
    ],
  },
  follow_ups_closed: {
    reading: `${SELECT_CLOSED} WHERE workspace_id = :workspace ORDER BY closed_at, vehicle_id, follow_up`,
    of: closedOf,
    row: closedRow,
    key: ({ vehicle_id, follow_up }) => closedKey(vehicle_id, follow_up),
    content: ({ outcome, words }) => [outcome, words],
  },
  fleet_plans: {
    reading: `${SELECT_PLANS} WHERE workspace_id = :workspace ORDER BY year`,
    of: planOf,
    row: planRow,
    key: ({ year }) => String(year),
    content: ({ terms, currency }) => [terms, currency],
  },
  fleet_orders: {
    reading: `${SELECT_ORDERS} WHERE workspace_id = :workspace ORDER BY year, id`,
    of: orderOf,
    row: orderRow,
    // A vehicle has one order a year.
    key: ({ year, vehicle_id }) => `${year} ${vehicle_id}`,
    content: ({ version, updated_at, updated_by, ...order }) => order,
  },
  fleet_closed_years: {
    reading: `${SELECT_CLOSED_YEARS} WHERE workspace_id = :workspace ORDER BY year, number`,
    of: closedYearOf,
    row: closedYearRow,
    key: ({ year, number }) => `${year} ${number}`,
    content: (closing) => closing,
  },
  fleet_closed_rows: {
    reading: `${SELECT_CLOSED_ROWS} WHERE workspace_id = :workspace ORDER BY year, number, vehicle_id`,
    of: closedRowOf,
    row: closedRowRow,
    key: ({ year, number, vehicle_id }) => `${year} ${number} ${vehicle_id}`,
    content: (row) => row,
  },
  ...FLEET_LISTS,
};

export const SHOP_LIST_NAMES = Object.keys(SHOP_LISTS) as ShopListName[];

/** One statement for each list, in the order of `SHOP_LIST_NAMES`. */
export const readShopLists: readonly Statement[] = SHOP_LIST_NAMES.map((name) => ({ sql: SHOP_LISTS[name].reading }));

/** The lists from the rows of those statements. */
export function shopListsOf(rows: readonly Row[][]): ShopLists {
  const read = <Name extends ShopListName>(name: Name, of_list: readonly Row[]) => of_list.map(SHOP_LISTS[name].of);
  return Object.fromEntries(SHOP_LIST_NAMES.map((name, i) => [name, read(name, rows[i]!)])) as ShopLists;
}

/** Statements that put in what a file has and we have not. */
export function insertShopList<Name extends ShopListName>(name: Name, added: readonly ShopRecords[Name][]) {
  return insertRows(name, added.map(SHOP_LISTS[name].row));
}

/** Two lists of a file, each beside ours. */
interface ComparedPapers {
  invoices: { added: Invoice[]; differing: { our: Invoice; their: Invoice }[] };
  payments: { added: Payment[]; differing: { our: Payment; their: Payment }[] };
}

/**
 * Keeps the file's invoices and payments out, and counts all as differing, where both workspaces numbered invoices by
 * themselves: issued papers keep their numbers, so two series cannot be merged.
 */
export function heldApart<Lists extends ComparedPapers>(lists: Lists, ours: ShopLists): Lists {
  const numbered = ({ kind, number }: Invoice) => `${kind} ${number}`;
  const taken = new Set(ours.invoices.map(numbered));
  const { added } = lists.invoices;
  if (!added.some((invoice) => taken.has(numbered(invoice)))) return lists;
  const out = new Set(added.map(({ id }) => id));
  const paid = Map.groupBy(lists.payments.added, ({ invoice_id }) => out.has(invoice_id));
  const pairs = <One>(those: readonly One[]) => those.map((their) => ({ our: their, their }));
  return {
    ...lists,
    invoices: { ...lists.invoices, added: [], differing: [...lists.invoices.differing, ...pairs(added)] },
    payments: {
      ...lists.payments,
      added: paid.get(false) ?? [],
      differing: [...lists.payments.differing, ...pairs(paid.get(true) ?? [])],
    },
  };
}
