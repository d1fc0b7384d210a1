import { Problem } from "../core/problem.ts";
import type { ChargeLine, LineHead, Vehicle } from "../core/question/record.ts";
import { chargeLogTable } from "./charge-log.ts";
import { type Compared, type Difference, differenceOf, type Fate } from "./document-difference.ts";
import { withoutErased } from "./erased-import.ts";
import { ConstraintFailed } from "./errors.ts";
import { notReplaced, select } from "./ledger.ts";
import type { Scope } from "./scope.ts";
import { SHOP_LIST_NAMES, type ShopListName } from "./shop-lists.ts";
import type { Statement } from "./sql.ts";
import { takingOver } from "./take-over.ts";
import { readDocument, type WorkspaceDocument } from "./workspace-document.ts";

/** Counts of an import; `differing`: the same id with other content, which stays as stored unless the person asks. */
export interface TransferCounts {
  added: number;
  same: number;
  differing: number;
}

export interface ImportReport extends Record<ShopListName, TransferCounts> {
  settings: Fate;
  vehicles: TransferCounts;
  charge_log: TransferCounts;
  findings: TransferCounts;
  readings: TransferCounts;
  notes: TransferCounts;
  price_books: TransferCounts;
  /** Null when the file has none. */
  letterhead: Fate | null;
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
  /** Reports what would happen, and changes nothing. */
  dry_run?: boolean;
  /** Replaces vehicles that differ by those of the file. Lines of ledgers that differ always stay as stored. */
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
  export(): Promise<WorkspaceDocument> {
    return readDocument(this.#scope);
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

function countsOf({ added, same, differing }: Compared<unknown>): TransferCounts {
  return { added: added.length, same, differing: differing.length };
}

function vehiclesOfDiffering({ differing }: Compared<Pick<LineHead, "vehicle_id">>): string[] {
  return differing.map(({ our }) => our.vehicle_id);
}
