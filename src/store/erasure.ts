import type { Statement } from "./sql.ts";
import { searchText, sortKey } from "./text.ts";

/** Replaces an erased name. */
export const ERASED = "Erased";

interface Erasure {
  customer_id: string;
  /** The vehicles that are theirs now. */
  vehicle_ids: readonly string[];
  /** Whether name, address, plate and VIN go from what was billed, too. */
  invoices: boolean;
  at: string;
  by: string;
}

/**
 * Statements that erase a person from everything but their own row: quotes, ledgers, vehicles, import files. Figures,
 * dates and agreements stay. Run them in one batch, while the customer's row is marked as being erased.
 */
export function erasureOf({ customer_id, vehicle_ids, invoices, at, by }: Erasure): Statement[] {
  const vehicles = JSON.stringify(vehicle_ids);
  return [
    erasureOfMessages(customer_id, vehicles),
    ...erasureOfQuotes(customer_id, vehicles),
    ...(invoices ? erasureOfInvoices(customer_id, vehicles) : []),
    ...erasureOfLedgers(vehicles),
    ...vehicle_ids.map((vehicle_id) => renamed(vehicle_id, at, by)),
    ...vehicle_ids.map((vehicle_id) => ({
      sql: "UPDATE fleet_closed_rows SET label = ? WHERE workspace_id = :workspace AND vehicle_id = ?",
      params: [erasedLabel(vehicle_id), vehicle_id],
    })),
    {
      sql: `UPDATE vehicle_particulars SET customer_id = NULL, plate = '', vin = '', search_text = '', version = version + 1,
        updated_at = ?, updated_by = ? WHERE workspace_id = :workspace AND customer_id = ?`,
      params: [at, by, customer_id],
    },
    ...forgottenFiles(vehicles),
  ];
}

/** Quotes given to the person, and those for the vehicles that are theirs now. */
const THEIR_QUOTES = `workspace_id = :workspace AND (content ->> '$.customer_id' = ?
  OR vehicle_id IN (SELECT value FROM json_each(?)) AND coalesce(content ->> '$.customer_id', ?) = ?)`;

/** Erases titles of options, which are free text, from messages to the webhook about their quotes. */
function erasureOfMessages(customer_id: string, vehicles: string): Statement {
  return {
    sql: `DELETE FROM webhook_messages WHERE workspace_id = :workspace
      AND body ->> '$.quote.id' IN (SELECT id FROM quotes WHERE ${THEIR_QUOTES})`,
    params: [customer_id, vehicles, customer_id, customer_id],
  };
}

function erasureOfQuotes(customer_id: string, vehicles: string): Statement[] {
  const nameless = (shown: string, column: string) =>
    `CASE WHEN json_type(${column}, '${shown}') = 'object'
      THEN json_set(${column}, '${shown}.plate', '', '${shown}.vin', '') ELSE ${column} END`;
  return [
    {
      sql: `UPDATE quotes SET token_hash = NULL,
        content = json_remove(json_set(${nameless("$.vehicle_shown", "content")}, '$.customer', '', '$.note', '', '$.recommended_why', ''),
          '$.customer_id'),
        snapshot = CASE WHEN snapshot IS NULL THEN NULL
          ELSE json_set(${nameless("$.vehicle.shown", "snapshot")}, '$.customer', '', '$.note', '', '$.recommended_why', '') END,
        decided_name = CASE WHEN decided_name IS NULL THEN NULL ELSE '${ERASED}' END,
        earlier_answers = CASE WHEN earlier_answers IS NULL THEN NULL ELSE
          (SELECT json_group_array(json_set(value, '$.name', '${ERASED}')) FROM json_each(earlier_answers)) END
        WHERE ${THEIR_QUOTES}`,
      params: [customer_id, vehicles, customer_id, customer_id],
    },
  ];
}

function erasureOfInvoices(customer_id: string, vehicles: string): Statement[] {
  const theirs = `workspace_id = :workspace AND (customer_id = ?
    OR customer_id IS NULL AND vehicle_id IN (SELECT value FROM json_each(?)))`;
  return [
    {
      sql: `UPDATE payments SET note = '' WHERE workspace_id = :workspace
        AND invoice_id IN (SELECT id FROM invoices WHERE ${theirs})`,
      params: [customer_id, vehicles],
    },
    {
      sql: `UPDATE invoices SET document = json_replace(json_set(document, '$.customer.name', '${ERASED}',
        '$.customer.address', '', '$.vehicle.shown.plate', '', '$.vehicle.shown.vin', ''), '$.extra.yes.name', '${ERASED}')
        WHERE ${theirs}`,
      params: [customer_id, vehicles],
    },
  ];
}

function erasureOfLedgers(vehicles: string): Statement[] {
  const of = "workspace_id = :workspace AND vehicle_id IN (SELECT value FROM json_each(?))";
  return [
    ...["charge_log", "findings", "readings"].map((table) => ({
      sql: `UPDATE ${table} SET note = NULL, search_text = '' WHERE ${of} AND note IS NOT NULL`,
      params: [vehicles],
    })),
    { sql: `UPDATE notes SET body = '${ERASED}', search_text = '' WHERE ${of}`, params: [vehicles] },
    {
      sql: `UPDATE follow_ups_closed SET words = '${ERASED}' WHERE ${of} AND outcome = 'dismissed'`,
      params: [vehicles],
    },
  ];
}

/** What a vehicle of an erased person is called. */
export function erasedLabel(vehicle_id: string): string {
  return `Vehicle ${vehicle_id.slice(0, 5)}`;
}

/** Replaces the shop's name for a vehicle, which often holds its owner's, by a neutral one. */
function renamed(vehicle_id: string, at: string, by: string): Statement {
  const label = erasedLabel(vehicle_id);
  return {
    sql: `UPDATE vehicles SET label = ?, sort_key = ?, search_text = ?, version = version + 1, updated_at = ?, updated_by = ?
      WHERE workspace_id = :workspace AND id = ?`,
    params: [label, sortKey(label), searchText(label), at, by, vehicle_id],
  };
}

/** Erases the names that fleet files had for the vehicles, and all stored files, which may contain anybody's name. */
function forgottenFiles(vehicles: string): Statement[] {
  return [
    {
      sql: `DELETE FROM import_keys WHERE workspace_id = :workspace
        AND vehicle_id IN (SELECT value FROM json_each(?))`,
      params: [vehicles],
    },
    { sql: "DELETE FROM imports WHERE workspace_id = :workspace" },
    {
      sql: `DELETE FROM entry_orders WHERE workspace_id = :workspace
        AND vehicle_id IN (SELECT value FROM json_each(?))`,
      params: [vehicles],
    },
  ];
}
