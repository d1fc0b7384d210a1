import type { RepairLock } from "../core/fleet/row.ts";
import { Problem } from "../core/problem.ts";
import type { ChargeLine, FindingLine, Line, LineHead, NoteLine, Vehicle } from "../core/question/record.ts";
import type { ReadingsLine } from "../core/readings/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { type Columns, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { withoutErased } from "./erased-import.ts";
import { ConstraintFailed } from "./errors.ts";
import { findingsTable } from "./findings.ts";
import { canonicalJson } from "./hash.ts";
import { type LedgerTable, lineReader, lineRow, notReplaced, select } from "./ledger.ts";
import { letterheadRow, readLetterhead, type SavedLetterhead, savedLetterheadOf } from "./letterheads.ts";
import { notesTable } from "./notes.ts";
import { type OwnBook, ownBookOf, ownBookRow, readOwnBooks } from "./price-books.ts";
import { type Quote, quoteOf, quoteRow, SELECT_QUOTES } from "./quote-row.ts";
import { readingsTable } from "./readings.ts";
import { guard, type Scope } from "./scope.ts";
import {
  comparedShopList,
  heldApart,
  insertShopList,
  readShopLists,
  SHOP_LIST_NAMES,
  type ShopListName,
  type ShopLists,
  shopListsOf,
} from "./shop-lists.ts";
import type { Statement } from "./sql.ts";
import { SELECT_VEHICLES, vehicleInputOf, vehicleOf, vehicleRow } from "./vehicles.ts";
import { SELECT_WORKSPACES, SETTINGS, settingsOf, settingsValues, type Workspace, workspaceOf } from "./workspaces.ts";

export const DOCUMENT_FORMAT = "seepwise-workspace";
export const DOCUMENT_VERSION = 8;

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

/**
 * A whole workspace as one JSON document: its settings, its vehicles (archived ones too), and every line ever written
 * in the four ledgers, so that corrections and removals keep their history; the price books that it has made its own,
 * its letterhead, its quotes as they stand, its customers, invoices and refrigerant log, and what was said of its
 * fleet. Computed
 * answers are not in
 * it, nor is anything that opens a door: no access keys, and no customer's link, not even as a hash. One link opens one
 * quote, and a copy in another workspace must not answer it. So a quote that comes in has no link until a new one is
 * made; where the quote was here already, its link goes on working. Field names, units and ids are those of the store;
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

/**
 * `differing`: the same id with other content. What is stored stays, unless the person asks for the file's vehicles.
 */
export interface TransferCounts {
  added: number;
  same: number;
  differing: number;
}

export interface ImportReport extends Record<ShopListName, TransferCounts> {
  /** `taken` when nobody had set anything here yet, else `kept`; `same` when there was no difference. */
  settings: "taken" | "same" | "kept";
  vehicles: TransferCounts;
  charge_log: TransferCounts;
  findings: TransferCounts;
  readings: TransferCounts;
  notes: TransferCounts;
  price_books: TransferCounts;
  /** As `settings`; null when the file has none. */
  letterhead: "taken" | "same" | "kept" | null;
  quotes: TransferCounts;
  fleet_names: TransferCounts;
  fleet_locks: TransferCounts;
  /** New quotes whose number another quote has here, and the number that they get instead. */
  renumbered_quotes: { number: number; becomes: number }[];
  /** The vehicles that differ, or have lines, quotes or choices that do. */
  differing_vehicles: { id: string; label: string }[];
  differing_books: { id: string; name: string }[];
}

export interface ImportOptions {
  /** Tell what would happen, and change nothing. */
  dry_run?: boolean;
  /**
   * Take the file's word about vehicles that differ. Ledgers are not edited: their differing lines always stay ours.
   */
  take_vehicles?: boolean;
}

/** A line of the charge log that holds now, with its vehicle: what the CSV shows. */
export type ChargeOfVehicle = ChargeLine & Pick<Vehicle, "label" | "refrigerant" | "nameplate_g">;

/** The whole workspace, out and in. */
export class Transfer {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** Everything, as it was in one moment. */
  async export(): Promise<WorkspaceDocument> {
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
    ] = await this.#scope.batch([
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
      exported_at: this.#scope.now(),
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

  /**
   * Adds what a document has and this workspace has not, all or nothing; the same document twice adds nothing. A new
   * quote whose number is taken gets the next free one; what its customer was sent keeps the number it was sent with.
   * Throws `Problem` changed when someone writes at the same time: then nothing was added, and the import can be
   * repeated.
   */
  async import(document: WorkspaceDocument, options: ImportOptions = {}): Promise<ImportReport> {
    this.#scope.require("editor");
    const ours = await this.export();
    const allowed = withoutErased(document, ours);
    const difference = differenceOf(ours, allowed);
    if (!options.dry_run) await this.#write(takingOver(difference, allowed, options));
    return reportOf(difference, ours);
  }

  /** The charge log of every vehicle, archived ones too, as it holds now: by vehicle, then in the order of its log. */
  charges(): Promise<ChargeOfVehicle[]> {
    return this.#scope.all<ChargeOfVehicle>(
      `SELECT vehicles.label, vehicles.refrigerant, vehicles.nameplate_g, log.*
       FROM (${select(chargeLogTable)} WHERE line.workspace_id = :workspace AND line.change <> 'removed'
         AND ${notReplaced("charge_log")}) AS log
       JOIN vehicles ON vehicles.workspace_id = :workspace AND vehicles.id = log.vehicle_id
       ORDER BY vehicles.sort_key, vehicles.id, log.date, log.number, log.id`,
    );
  }

  async #write(statements: Statement[]): Promise<void> {
    try {
      await this.#scope.batch(statements);
    } catch (error) {
      if (error instanceof ConstraintFailed && (error.kind === "unique" || error.what === "guard"))
        throw new Problem(
          "changed",
          "The records were changed while the file was read, so nothing was added. Import it again.",
        );
      throw error;
    }
  }
}

/** Part by part, what a document has beside what is here. */
function differenceOf(ours: WorkspaceDocument, document: WorkspaceDocument) {
  return {
    settings: settingsFate(ours.workspace, document.workspace),
    letterhead: letterheadFate(ours.letterhead, document.letterhead),
    vehicles: compared(ours.vehicles, document.vehicles, idOf, vehicleContent),
    charge_log: comparedLines(ours.charge_log, document.charge_log),
    findings: comparedLines(ours.findings, document.findings),
    readings: comparedLines(ours.readings, document.readings),
    notes: comparedLines(ours.notes, document.notes),
    price_books: compared(ours.price_books, document.price_books, idOf, bookContent),
    quotes: withFreeNumbers(compared(ours.quotes, document.quotes, idOf, quoteContent), ours.quotes),
    fleet_names: compared(ours.fleet_names, document.fleet_names, ({ source_key }) => source_key, itself),
    fleet_locks: compared(ours.fleet_locks, document.fleet_locks, ({ vehicle_id }) => vehicle_id, itself),
    shop_lists: heldApart(
      Object.fromEntries(
        SHOP_LIST_NAMES.map((name) => [name, comparedShopList(name, ours, document, compared<unknown>)]),
      ) as Record<ShopListName, Compared<unknown>>,
      ours,
    ),
  };
}

type Difference = ReturnType<typeof differenceOf>;

/** What puts in all that is not here yet. */
function takingOver(difference: Difference, document: WorkspaceDocument, options: ImportOptions): Statement[] {
  const { settings, letterhead, vehicles, charge_log, findings, readings, notes } = difference;
  const { price_books, quotes, fleet_names, fleet_locks, shop_lists } = difference;
  return [
    ...(settings === "taken" ? takeSettings(document.workspace) : []),
    ...insertRows("vehicles", vehicles.added.map(vehicleRow)),
    ...(options.take_vehicles ? vehicles.differing.flatMap(({ our, their }) => takeVehicle(our, their)) : []),
    ...insertLines(chargeLogTable, charge_log.added),
    ...insertLines(findingsTable, findings.added),
    ...insertLines(readingsTable, readings.added),
    ...insertLines(notesTable, notes.added),
    ...insertRows("price_books", price_books.added.map(ownBookRow)),
    ...(letterhead === "taken" ? insertRows("letterheads", [letterheadRow(document.letterhead!)]) : []),
    ...insertRows("quotes", quotes.added.map(quoteRow)),
    ...insertRows("import_keys", fleet_names.added.map(rowWriter(FLEET_NAME))),
    ...insertRows("fleet_locks", fleet_locks.added.map(rowWriter(FLEET_LOCK))),
    ...SHOP_LIST_NAMES.flatMap((name) => insertShopList(name, shop_lists[name].added)),
  ];
}

function reportOf(difference: Difference, ours: WorkspaceDocument): ImportReport {
  const { settings, letterhead, vehicles, charge_log, findings, readings, notes } = difference;
  const { price_books, quotes, fleet_names, fleet_locks, shop_lists } = difference;
  const differing_ids = new Set([
    ...vehicles.differing.map(({ our }) => our.id),
    ...[charge_log, findings, readings, notes, quotes, fleet_names, fleet_locks].flatMap(vehiclesOfDiffering),
  ]);
  return {
    settings,
    vehicles: countsOf(vehicles),
    charge_log: countsOf(charge_log),
    findings: countsOf(findings),
    readings: countsOf(readings),
    notes: countsOf(notes),
    price_books: countsOf(price_books),
    letterhead,
    quotes: countsOf(quotes),
    fleet_names: countsOf(fleet_names),
    fleet_locks: countsOf(fleet_locks),
    ...(Object.fromEntries(SHOP_LIST_NAMES.map((name) => [name, countsOf(shop_lists[name])])) as Record<
      ShopListName,
      TransferCounts
    >),
    renumbered_quotes: quotes.renumbered,
    differing_vehicles: ours.vehicles.filter(({ id }) => differing_ids.has(id)).map(({ id, label }) => ({ id, label })),
    differing_books: price_books.differing.map(({ our }) => ({ id: our.id, name: our.book.name })),
  };
}

function everyLine<Content>(of: LedgerTable<Content>): Statement {
  return {
    sql: `${select(of)} WHERE line.workspace_id = :workspace ORDER BY line.vehicle_id, line.number, line.id, line.version`,
  };
}

/** Predecessors first: a line may only replace one that is there. */
function insertLines<Content>(of: LedgerTable<Content>, lines: readonly Line<Content>[]): Statement[] {
  const in_order = lines.toSorted((a, b) => a.version - b.version);
  return insertRows(
    of.table,
    in_order.map((line) => lineRow(of, line)),
  );
}

interface Compared<T> {
  added: T[];
  same: number;
  differing: { our: T; their: T }[];
}

function compared<T>(
  ours: readonly T[],
  theirs: readonly T[],
  key: (one: T) => string,
  content: (one: T) => unknown,
): Compared<T> {
  const our_by_key = new Map(ours.map((our) => [key(our), our]));
  const result: Compared<T> = { added: [], same: 0, differing: [] };
  for (const their of theirs) {
    const our = our_by_key.get(key(their));
    if (our === undefined) result.added.push(their);
    else if (canonicalJson(content(our)) === canonicalJson(content(their))) result.same += 1;
    else result.differing.push({ our, their });
  }
  return result;
}

/** Where two histories of one entry part, the lines after that rest on other lines than ours: they differ as well. */
function comparedLines<Content>(
  ours: readonly Line<Content>[],
  theirs: readonly Line<Content>[],
): Compared<Line<Content>> {
  const result = compared(
    ours,
    theirs,
    ({ id, version }) => `${id} ${version}`,
    (line) => line,
  );
  const parted = new Map(result.differing.map(({ our }) => [our.id, our]));
  const differing = result.added.flatMap((their) => {
    const our = parted.get(their.id);
    return our === undefined ? [] : [{ our, their }];
  });
  return {
    added: result.added.filter(({ id }) => !parted.has(id)),
    same: result.same,
    differing: [...result.differing, ...differing],
  };
}

function countsOf({ added, same, differing }: Compared<unknown>): TransferCounts {
  return { added: added.length, same, differing: differing.length };
}

function vehiclesOfDiffering({ differing }: Compared<Pick<LineHead, "vehicle_id">>): string[] {
  return differing.map(({ our }) => our.vehicle_id);
}

function itself<T>(one: T): T {
  return one;
}

function idOf({ id }: { id: string }): string {
  return id;
}

/** What a vehicle says, apart from when and by whom it was said. */
function vehicleContent(vehicle: Vehicle): unknown {
  return [vehicleInputOf(vehicle), vehicle.example, vehicle.archived_at !== null];
}

function bookContent({ book, archived_at }: OwnBook): unknown {
  return [book, archived_at !== null];
}

/** All that a quote says and that happened to it, whatever number people call it by here. */
function quoteContent({ number, version, created_at, created_by, updated_at, updated_by, ...said }: Quote): unknown {
  return said;
}

/** Of two workspaces that both counted from 1: imported quotes whose number is taken get a new one. */
function withFreeNumbers(quotes: Compared<Quote>, ours: readonly Quote[]) {
  const taken = new Set(ours.map(({ number }) => number));
  let next = [...ours, ...quotes.added].reduce((most, { number }) => Math.max(most, number), 0) + 1;
  const added = quotes.added.map((quote) => (taken.has(quote.number) ? { ...quote, number: next++ } : quote));
  const renumbered = added.flatMap(({ number: becomes }, i) => {
    const { number } = quotes.added[i]!;
    return becomes === number ? [] : [{ number, becomes }];
  });
  return { ...quotes, added, renumbered };
}

function takeVehicle(our: Vehicle, their: Vehicle): Statement[] {
  const { id, ...row } = vehicleRow({ ...their, version: Math.max(their.version, our.version + 1) });
  return [
    guard("(SELECT version FROM vehicles WHERE workspace_id = :workspace AND id = ?) IS ?", [our.id, our.version]),
    {
      sql: `UPDATE vehicles SET ${Object.keys(row)
        .map((column) => `${column} = ?`)
        .join(", ")}
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(row), our.id],
    },
  ];
}

/** Settings that nobody has changed yet are replaced by those of the file. */
function settingsFate(ours: Workspace, theirs: Workspace): ImportReport["settings"] {
  if (canonicalJson(settingsOf(ours)) === canonicalJson(settingsOf(theirs))) return "same";
  return ours.version === 1 ? "taken" : "kept";
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

function letterheadFate(ours: SavedLetterhead | null, theirs: SavedLetterhead | null): ImportReport["letterhead"] {
  if (theirs === null) return null;
  if (ours === null) return "taken";
  return canonicalJson(ours.letterhead) === canonicalJson(theirs.letterhead) ? "same" : "kept";
}
