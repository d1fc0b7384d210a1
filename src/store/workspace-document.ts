import type { RepairLock } from "../core/fleet/row.ts";
import type { ChargeLine, FindingLine, NoteLine, Vehicle } from "../core/question/record.ts";
import type { ReadingsLine } from "../core/readings/record.ts";
import { chargeLogTable } from "./charge-log.ts";
import { type Columns, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { findingsTable } from "./findings.ts";
import { type LedgerTable, lineReader, select } from "./ledger.ts";
import { readLetterhead, type SavedLetterhead, savedLetterheadOf } from "./letterheads.ts";
import { notesTable } from "./notes.ts";
import { type OwnBook, ownBookOf, readOwnBooks } from "./price-books.ts";
import { type Quote, quoteOf, SELECT_QUOTES } from "./quote-row.ts";
import { readingsTable } from "./readings.ts";
import type { Scope } from "./scope.ts";
import { readShopLists, type ShopLists, shopListsOf } from "./shop-lists.ts";
import type { Statement } from "./sql.ts";
import { SELECT_VEHICLES, vehicleOf } from "./vehicles.ts";
import { SELECT_WORKSPACES, type Workspace, workspaceOf } from "./workspaces.ts";

export const DOCUMENT_FORMAT = "seepwise-workspace";
export const DOCUMENT_VERSION = 12;

/** The name under which a fleet file first spoke of a vehicle: the same file finds it again. */
export interface FleetName {
  source_key: string;
  vehicle_id: string;
}

/** A repair that a person settled before the fleet's budget is spent. */
export interface FleetLock extends RepairLock {
  vehicle_id: string;
}

const FLEET_NAME: Columns<FleetName> = { source_key: text, vehicle_id: text };
const FLEET_LOCK: Columns<FleetLock> = {
  vehicle_id: text,
  repair: oneOf(["must", "must-not"]),
  year: nullable(number),
};
export const fleetNameRow = rowWriter(FLEET_NAME);
export const fleetLockRow = rowWriter(FLEET_LOCK);

/**
 * A whole workspace as one JSON document: its settings, its vehicles (archived ones too), and every line ever written
 * in the four ledgers, so that corrections and removals keep their history; the price books that it has made its own,
 * its letterhead, its quotes as they stand, its customers, invoices and refrigerant log, and what was said of its
 * fleet.
 *
 * It holds no computed answers and nothing that gives access: no access keys and no customers' links, not even as
 * hashes, because a link must open one quote in one workspace. So an imported quote has no link until a new one is
 * made; if the quote was here already, its link goes on working. Field names, units and ids are those of the store;
 * `src/web/schemas/transfer-schema.ts` checks one on the way in.
 */
export interface WorkspaceDocument extends ShopLists {
  format: typeof DOCUMENT_FORMAT;
  version: typeof DOCUMENT_VERSION;
  exported_at: string;
  workspace: Workspace;
  vehicles: Vehicle[];
  charge_log: ChargeLine[];
  findings: FindingLine[];
  readings: ReadingsLine[];
  notes: NoteLine[];
  price_books: OwnBook[];
  /** Null where nobody has saved one. */
  letterhead: SavedLetterhead | null;
  quotes: Quote[];
  fleet_names: FleetName[];
  fleet_locks: FleetLock[];
}

/** The document of a workspace, as it was in one moment. */
export async function readDocument(scope: Scope): Promise<WorkspaceDocument> {
  const [
    workspaces,
    vehicles,
    charge_log,
    findings,
    readings,
    notes,
    books,
    letterheads,
    quotes,
    names,
    locks,
    ...lists
  ] = await scope.batch([
    { sql: `${SELECT_WORKSPACES} WHERE workspace_id = :workspace` },
    { sql: `${SELECT_VEHICLES} WHERE workspace_id = :workspace ORDER BY sort_key, id` },
    everyLine(chargeLogTable),
    everyLine(findingsTable),
    everyLine(readingsTable),
    everyLine(notesTable),
    readOwnBooks,
    readLetterhead,
    { sql: `${SELECT_QUOTES} WHERE workspace_id = :workspace ORDER BY number` },
    { sql: "SELECT source_key, vehicle_id FROM import_keys WHERE workspace_id = :workspace ORDER BY source_key" },
    { sql: "SELECT vehicle_id, repair, year FROM fleet_locks WHERE workspace_id = :workspace ORDER BY vehicle_id" },
    ...readShopLists,
  ]);
  const [letterhead] = letterheads!;
  return {
    format: DOCUMENT_FORMAT,
    version: DOCUMENT_VERSION,
    exported_at: scope.now(),
    workspace: workspaceOf(workspaces![0]!),
    vehicles: vehicles!.map(vehicleOf),
    charge_log: charge_log!.map(lineReader(chargeLogTable)),
    findings: findings!.map(lineReader(findingsTable)),
    readings: readings!.map(lineReader(readingsTable)),
    notes: notes!.map(lineReader(notesTable)),
    price_books: books!.map(ownBookOf),
    letterhead: letterhead === undefined ? null : savedLetterheadOf(letterhead),
    quotes: quotes!.map(quoteOf),
    fleet_names: names!.map(rowReader(FLEET_NAME)),
    fleet_locks: locks!.map(rowReader(FLEET_LOCK)),
    ...shopListsOf(lists),
  };
}

function everyLine<Content>(of: LedgerTable<Content>): Statement {
  return {
    sql: `${select(of)} WHERE line.workspace_id = :workspace ORDER BY line.vehicle_id, line.number, line.id, line.version`,
  };
}
