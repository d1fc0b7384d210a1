import type { Line, Vehicle } from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { assignments } from "./columns.ts";
import type { Difference } from "./document-difference.ts";
import { findingsTable } from "./findings.ts";
import { type LedgerTable, lineRow } from "./ledger.ts";
import { letterheadRow } from "./letterheads.ts";
import { notesTable } from "./notes.ts";
import { ownBookRow } from "./price-books.ts";
import { quoteRow } from "./quote-row.ts";
import { readingsTable } from "./readings.ts";
import { guard } from "./scope.ts";
import { insertShopList, SHOP_LIST_NAMES, type ShopListName } from "./shop-lists.ts";
import type { Statement } from "./sql.ts";
import { vehicleRow } from "./vehicles.ts";
import { fleetLockRow, fleetNameRow, type WorkspaceDocument } from "./workspace-document.ts";
import { SETTINGS, settingsValues, type Workspace } from "./workspaces.ts";

/** What puts in all that is not here yet. */
export function takingOver(
  difference: Difference,
  document: WorkspaceDocument,
  { take_vehicles = false }: { take_vehicles?: boolean },
): Statement[] {
  const { settings, letterhead, vehicles, charge_log, findings, readings, notes } = difference;
  const { price_books, quotes, fleet_names, fleet_locks, shop_lists } = difference;
  const insertAdded = <Name extends ShopListName>(name: Name) => insertShopList(name, shop_lists[name].added);
  return [
    ...(settings === "taken" ? takeSettings(document.workspace) : []),
    ...insertRows("vehicles", vehicles.added.map(vehicleRow)),
    ...(take_vehicles ? vehicles.differing.flatMap(({ our, their }) => takeVehicle(our, their)) : []),
    ...insertLines(chargeLogTable, charge_log.added),
    ...insertLines(findingsTable, findings.added),
    ...insertLines(readingsTable, readings.added),
    ...insertLines(notesTable, notes.added),
    ...insertRows("price_books", price_books.added.map(ownBookRow)),
    ...(letterhead === "taken" ? insertRows("letterheads", [letterheadRow(document.letterhead!)]) : []),
    ...insertRows("quotes", quotes.added.map(quoteRow)),
    ...insertRows("import_keys", fleet_names.added.map(fleetNameRow)),
    ...insertRows("fleet_locks", fleet_locks.added.map(fleetLockRow)),
    ...SHOP_LIST_NAMES.flatMap(insertAdded),
  ];
}

/** Predecessors first: a line may only replace one that is there. */
function insertLines<Content>(of: LedgerTable<Content>, lines: readonly Line<Content>[]): Statement[] {
  const in_order = lines.toSorted((a, b) => a.version - b.version);
  return insertRows(
    of.table,
    in_order.map((line) => lineRow(of, line)),
  );
}

function takeVehicle(our: Vehicle, their: Vehicle): Statement[] {
  const { id, ...row } = vehicleRow({ ...their, version: Math.max(their.version, our.version + 1) });
  return [
    guard("(SELECT version FROM vehicles WHERE workspace_id = :workspace AND id = ?) IS ?", [our.id, our.version]),
    {
      sql: `UPDATE vehicles SET ${assignments(row)} WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(row), our.id],
    },
  ];
}

function takeSettings(their: Workspace): Statement[] {
  const { version, created_at, updated_at, updated_by } = their;
  return [
    guard("(SELECT version FROM workspaces WHERE workspace_id = :workspace) IS 1", []),
    {
      sql: `UPDATE workspaces SET ${SETTINGS.map((name) => `${name} = ?`).join(", ")},
        version = ?, created_at = ?, updated_at = ?, updated_by = ? WHERE workspace_id = :workspace`,
      params: [...settingsValues(their), version, created_at, updated_at, updated_by],
    },
  ];
}
