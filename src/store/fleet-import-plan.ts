import type { ImportCounts } from "../core/fleet/import-counts.ts";
import { type ChargeEntry, type ChargeEntryInput, type Line, NEW_VEHICLE } from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { assignments, picked, rowWriter } from "./columns.ts";
import { CHANGING, type EntryHere, type VehicleHere, type VehicleNow } from "./entries-here.ts";
import {
  type Correction,
  type ImportedEntry,
  type ImportedVehicle,
  type ImportOptions,
  type KnownEntries,
  type VehicleChange,
  vehicleKey,
} from "./imported-vehicle.ts";
import { contentOf, lineRow } from "./ledger.ts";
import type { Scope } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { searchText } from "./text.ts";
import { vehicleRow } from "./vehicles.ts";
import { atVersion } from "./versioned-change.ts";

const changingColumns = rowWriter(CHANGING);

/** What an import can have written: a vehicle, other particulars of one, an entry, another version of one. */
export type WrittenKind = "vehicle" | "particulars" | "entry" | "correction";

/** The counts of an import that has written nothing yet. */
export function noCounts(): ImportCounts {
  return {
    vehicles_added: 0,
    vehicles_known: 0,
    entries_added: 0,
    entries_known: 0,
    entries_corrected: 0,
    vehicles_changed: 0,
  };
}

/** Adds `more` to `counts`. */
export function addCounts(counts: ImportCounts, more: ImportCounts): void {
  for (const name of Object.keys(counts) as (keyof ImportCounts)[]) counts[name] += more[name];
}

type Rows = Record<string, Param>[];

/** What a slice of a fleet file would write, beside what is here of its vehicles. */
export class ImportPlan {
  readonly counts = noCounts();
  readonly corrections: Correction[] = [];
  readonly #scope: Scope;
  readonly #options: Required<ImportOptions>;
  readonly #here: Map<string, VehicleHere>;
  readonly #at: string;
  readonly #updates: Statement[] = [];
  readonly #rows = {
    vehicles: [] as Rows,
    import_keys: [] as Rows,
    charge_log: [] as Rows,
    entry_orders: [] as Rows,
    import_rows: [] as Rows,
  };

  constructor(
    scope: Scope,
    here: Map<string, VehicleHere>,
    { import_id = null, corrections = true, changes = true }: ImportOptions,
  ) {
    this.#scope = scope;
    this.#here = here;
    this.#options = { import_id, corrections, changes };
    this.#at = scope.now();
  }

  add(vehicle: ImportedVehicle | KnownEntries): void {
    const vehicle_id = vehicle.id ?? this.#scope.newId();
    const ours = this.#here.get(vehicle_id) ?? { vehicle: null, entries: [], last_number: 0 };
    this.#here.set(vehicle_id, ours);
    if (vehicle.id === null && "key" in vehicle) this.#addVehicle(vehicle, vehicle_id);
    else this.#changeVehicle(vehicle, ours.vehicle);
    const label = "label" in vehicle ? vehicle.label : "";
    for (const { entry, order } of unknownEntries(vehicle.entries, ours.entries, this.counts)) {
      const meant = order === null ? undefined : ours.entries.find((one) => isMeant(one, vehicleKey(order), entry));
      if (meant === undefined || order === null) this.#addEntry(entry, order, vehicle_id, ++ours.last_number);
      else this.#correctEntry(meant, vehicle_id, { label, order, file: entry });
    }
  }

  /** What writes all of it; nothing where nothing is to be written. */
  statements(): Statement[] {
    return [...this.#updates, ...Object.entries(this.#rows).flatMap(([table, rows]) => insertRows(table, rows))];
  }

  #addVehicle({ key, id: _, entries: _of_file, change: _none, ...particulars }: ImportedVehicle, id: string): void {
    const by = this.#scope.actor;
    const made = { version: 1, created_at: this.#at, created_by: by, updated_at: this.#at, updated_by: by };
    this.counts.vehicles_added++;
    this.#rows.vehicles.push(
      vehicleRow({ ...NEW_VEHICLE, ...particulars, ...made, id, example: false, archived_at: null }),
    );
    this.#rows.import_keys.push({ source_key: key, vehicle_id: id });
    this.#written("vehicle", id, id);
  }

  #changeVehicle(vehicle: ImportedVehicle | KnownEntries, ours: VehicleNow | null): void {
    this.counts.vehicles_known++;
    if (!this.#options.changes || !("change" in vehicle) || vehicle.change == null) return;
    const changed = changedVehicle(ours, vehicle.change);
    if (changed === null) return;
    this.counts.vehicles_changed++;
    this.#updates.push(...particularsUpdate(changed, this.#at, this.#scope.actor));
    this.#written("particulars", changed.id, changed.id, changed.version + 1, JSON.stringify(changed.before));
  }

  #addEntry(entry: ChargeEntryInput, order: string | null, vehicle_id: string, number: number): void {
    this.counts.entries_added++;
    const id = this.#scope.newId();
    this.#writeLine(entry, { id, version: 1, change: "added", vehicle_id, number });
    if (order !== null) this.#rows.entry_orders.push({ entry_id: id, vehicle_id, order_key: vehicleKey(order) });
    this.#written("entry", id, vehicle_id);
  }

  #correctEntry(meant: EntryHere, vehicle_id: string, said: Omit<Correction, "here">): void {
    const here = meant.lines.at(-1)!;
    meant.matched = true;
    if (here.change === "removed" || !this.#options.corrections) {
      this.counts.entries_known++;
      return;
    }
    this.counts.entries_corrected++;
    const version = here.version + 1;
    this.#writeLine(said.file, { id: meant.id, version, change: "corrected", vehicle_id, number: meant.number });
    this.#written("correction", meant.id, vehicle_id, version);
    this.corrections.push({ ...said, here });
  }

  #writeLine(
    entry: ChargeEntryInput,
    head: Pick<Line<ChargeEntry>, "id" | "version" | "change" | "vehicle_id" | "number">,
  ): void {
    const content = contentOf(chargeLogTable, entry);
    const recorded = { recorded_at: this.#at, recorded_by: this.#scope.actor };
    this.#rows.charge_log.push(lineRow(chargeLogTable, { ...content, ...head, ...recorded }));
  }

  /** Remembers what belongs to the import, so that it can be taken back. */
  #written(kind: WrittenKind, subject_id: string, vehicle_id: string, version = 1, before: string | null = null): void {
    const { import_id } = this.#options;
    if (import_id !== null) this.#rows.import_rows.push({ import_id, kind, subject_id, vehicle_id, version, before });
  }
}

/** The events of a file that no entry here says or ever said; each entry answers for one event. */
function unknownEntries(
  entries: readonly ImportedEntry[],
  here: readonly EntryHere[],
  counts: ImportCounts,
): { entry: ChargeEntryInput; order: string | null }[] {
  return entries.flatMap(({ order = null, ...entry }) => {
    const content = JSON.stringify(contentOf(chargeLogTable, entry));
    const same = here.find((one) => !one.matched && one.contents.has(content));
    if (same === undefined) return [{ entry, order }];
    same.matched = true;
    counts.entries_known++;
    return [];
  });
}

/** Whether an event of an order means this entry. Before orders were kept, the number stood in its note. */
function isMeant({ matched, order_key, lines }: EntryHere, order: string, content: Pick<ChargeEntry, "date">): boolean {
  if (matched) return false;
  if (order_key !== null) return order_key === order;
  const now = lines.at(-1)!;
  const note = vehicleKey(now.note ?? "");
  return now.date === content.date && (note === order || note.startsWith(`${order}: `));
}

function changedVehicle(ours: VehicleNow | null, change: VehicleChange) {
  if (ours === null) return null;
  const now = picked(CHANGING, ours);
  const then = { ...now, ...change };
  if (JSON.stringify(now) === JSON.stringify(then)) return null;
  return { ...ours, ...then, before: now };
}

/** Puts other particulars in place of those of a version. */
export function particularsUpdate(vehicle: VehicleNow, at: string, by: string): Statement[] {
  const { id, version, label, fleet_group, depot } = vehicle;
  const row = { ...changingColumns(vehicle), search_text: searchText(label, fleet_group, depot) };
  return [
    atVersion("vehicles", version, { id }),
    {
      sql: `UPDATE vehicles SET ${assignments(row)}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(row), at, by, id],
    },
  ];
}
