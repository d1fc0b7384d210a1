import { Problem } from "../core/problem.ts";
import type { RefrigerantId, VehicleKind } from "../core/question/contract.ts";
import {
  type ChargeEntry,
  type ChargeEntryInput,
  type Line,
  NEW_VEHICLE,
  type Vehicle,
} from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { flag, nullable } from "./columns.ts";
import { ConstraintFailed } from "./errors.ts";
import { contentOf, lineRow, select } from "./ledger.ts";
import { Pace } from "./pace.ts";
import { guard, type Scope } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { searchText } from "./text.ts";
import { vehicleRow } from "./vehicles.ts";
import { atVersion } from "./versioned-change.ts";

/** Particulars that change over time. */
export type VehicleChange = Partial<Pick<Vehicle, "fleet_group" | "depot" | "kind">>;

/** An event of a file; the number of its work order finds the entry that a corrected file means. */
export type ImportedEntry = ChargeEntryInput & { order?: string | null };

/** A vehicle of a file, with the events that the file has of it. */
export interface ImportedVehicle {
  key: string;
  /** The existing vehicle that it matches; null: a new one. */
  id: string | null;
  label: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  fleet_group: string | null;
  depot: string | null;
  electric_compressor: boolean;
  dye_in_own_oil: boolean | null;
  kind: VehicleKind | null;
  /** What is other about a vehicle that is here; null where nothing is. */
  change?: VehicleChange | null;
  entries: ImportedEntry[];
}

/** New entries of a vehicle that is here. */
export type KnownEntries = Pick<ImportedVehicle, "entries"> & { id: string };

/** A vehicle that is here, by one of the names under which files may speak of it. */
export interface KnownVehicle {
  key: string;
  id: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  fleet_group: string | null;
  depot: string | null;
  electric_compressor: boolean;
  dye_in_own_oil: boolean | null;
  kind: VehicleKind | null;
  /** The day of its newest entry; null without one. */
  last_date?: string | null;
}

/** Counts of what an import adds and of what exists already. */
export interface ImportCounts {
  vehicles_added: number;
  vehicles_known: number;
  entries_added: number;
  entries_known: number;
  entries_corrected: number;
  vehicles_changed: number;
}

/** An entry that a file corrects: what it says here, and what the file says. */
export interface Correction {
  label: string;
  order: string;
  here: ChargeEntryInput;
  file: ChargeEntryInput;
}

export interface ImportOptions {
  /** The import that what is written belongs to, so that it can be taken back; null for none. */
  import_id?: string | null;
  /** Whether entries are corrected by the number of their order; true unless said. */
  corrections?: boolean;
  /** Whether groups, depots and kinds are changed; true unless said. */
  changes?: boolean;
}

/** A vehicle's name as files are matched by it: case, accents and the number of spaces make no difference. */
export function vehicleKey(label: string): string {
  return searchText(label).replace(/\s+/g, " ").trim();
}

/** A change of the database holds no more than these, so that others wait no longer than a tenth of a second. */
const SLICE_ENTRIES = 1500;
const SLICE_VEHICLES = 500;
/** How often a slice is planned anew when someone writes at the same time. */
const ATTEMPTS = 3;
const MOST_CORRECTIONS_SHOWN = 200;

/**
 * Fleet files into the workspace. An event is the same as one that is here when vehicle, date and everything it says
 * are the same in any line ever written, so a file that was imported before adds nothing, not even what was corrected
 * or removed since. An event of a known order that says something else corrects its entry.
 */
export class FleetImport {
  readonly #scope: Scope;
  readonly #undo: (import_id: string) => Promise<unknown>;

  /** `undo` takes back what an import wrote. */
  constructor(scope: Scope, undo: (import_id: string) => Promise<unknown>) {
    this.#scope = scope;
    this.#undo = undo;
  }

  /** Every vehicle by its label, and by the name that a file gave it when it came in, should it have been renamed. */
  async known(): Promise<KnownVehicle[]> {
    const rows = await this.#scope.all<
      Omit<KnownVehicle, "key" | "electric_compressor" | "dye_in_own_oil"> & {
        label: string;
        source_key: string | null;
        electric_compressor: number;
        dye_in_own_oil: number | null;
      }
    >(
      `SELECT v.id, v.label, v.refrigerant, v.nameplate_g, v.fleet_group, v.depot, v.kind,
         v.electric_compressor, v.dye_in_own_oil, k.source_key, c.last_date
       FROM vehicles AS v LEFT JOIN import_keys AS k ON k.workspace_id = v.workspace_id AND k.vehicle_id = v.id
       LEFT JOIN (SELECT vehicle_id, max(date) AS last_date FROM charge_log WHERE workspace_id = :workspace
         GROUP BY vehicle_id) AS c ON c.vehicle_id = v.id
       WHERE v.workspace_id = :workspace ORDER BY v.archived_at IS NOT NULL, v.sort_key, v.id`,
    );
    return rows.flatMap(({ label, source_key, electric_compressor, dye_in_own_oil, ...rest }) => {
      const known = {
        ...rest,
        electric_compressor: flag.read(electric_compressor),
        dye_in_own_oil: nullable(flag).read(dye_in_own_oil),
      };
      const keys = new Set([vehicleKey(label), ...(source_key === null ? [] : [source_key])]);
      return [...keys].map((key) => ({ ...known, key }));
    });
  }

  /** The counts that `add` would give, and the entries that it would correct. */
  async preview(vehicles: readonly ImportedVehicle[]): Promise<{ counts: ImportCounts; corrections: Correction[] }> {
    const counts = noCounts();
    const corrections: Correction[] = [];
    const pace = new Pace();
    for (const slice of slices(vehicles)) {
      const plan = await this.#plan(slice, {});
      addCounts(counts, plan.counts);
      for (const one of plan.corrections) if (corrections.length < MOST_CORRECTIONS_SHOWN) corrections.push(one);
      if (pace.due) await pace.rest();
    }
    return { counts, corrections };
  }

  /**
   * Adds the vehicles and events that are not here yet, in slices between which others get their turn. What belongs to
   * an import comes in whole: when a slice fails, the others are taken back. Without an import it is one slice. Throws
   * `Problem` changed when someone writes at the same time: then nothing was added, and the import can be repeated.
   */
  async add(vehicles: readonly (ImportedVehicle | KnownEntries)[], options: ImportOptions = {}): Promise<ImportCounts> {
    this.#scope.require("editor");
    const { import_id = null } = options;
    const counts = noCounts();
    const pace = new Pace();
    try {
      for (const slice of import_id === null ? [vehicles] : slices(vehicles)) {
        addCounts(counts, await this.#addSlice(slice, options));
        if (pace.due) await pace.rest();
      }
    } catch (error) {
      if (import_id !== null) await this.#undo(import_id);
      throw error;
    }
    return counts;
  }

  async #addSlice(slice: readonly (ImportedVehicle | KnownEntries)[], options: ImportOptions): Promise<ImportCounts> {
    for (let attempt = 1; ; attempt++) {
      const plan = await this.#plan(slice, options);
      if (plan.statements.length === 0) return plan.counts;
      try {
        await this.#scope.batch(plan.statements);
        return plan.counts;
      } catch (error) {
        if (!(error instanceof ConstraintFailed)) throw error;
        if (error.what === "guard" && attempt < ATTEMPTS) continue;
        if (error.kind !== "unique" && error.what !== "guard") throw error;
        throw new Problem(
          "changed",
          "The records were changed while the file was read, so nothing was added. Import it again.",
        );
      }
    }
  }

  async #plan(
    vehicles: readonly (ImportedVehicle | KnownEntries)[],
    { import_id = null, corrections: correcting = true, changes = true }: ImportOptions,
  ) {
    const ids = vehicles.flatMap(({ id }) => (id === null ? [] : [id]));
    const { here, seen } = await this.#here(ids);
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const made = { version: 1, created_at: at, created_by: by, updated_at: at, updated_by: by };
    const counts = noCounts();
    const rows = {
      vehicles: [] as Record<string, Param>[],
      import_keys: [] as Record<string, Param>[],
      charge_log: [] as Record<string, Param>[],
      entry_orders: [] as Record<string, Param>[],
      import_rows: [] as Record<string, Param>[],
    };
    const updates: Statement[] = [];
    const corrections: Correction[] = [];
    const written = (
      kind: WrittenKind,
      subject_id: string,
      vehicle_id: string,
      version = 1,
      before: string | null = null,
    ) => {
      if (import_id !== null) rows.import_rows.push({ import_id, kind, subject_id, vehicle_id, version, before });
    };
    for (const one of vehicles) {
      const vehicle_id = one.id ?? this.#scope.newId();
      const ours = here.get(vehicle_id) ?? { vehicle: null, entries: [], last_number: 0 };
      here.set(vehicle_id, ours);
      if (one.id === null && "key" in one) {
        const { key, id: _, entries: _of_file, change: _none, ...particulars } = one;
        counts.vehicles_added++;
        rows.vehicles.push(
          vehicleRow({ ...NEW_VEHICLE, ...particulars, ...made, id: vehicle_id, example: false, archived_at: null }),
        );
        rows.import_keys.push({ source_key: key, vehicle_id });
        written("vehicle", vehicle_id, vehicle_id);
      } else {
        counts.vehicles_known++;
        const changed =
          changes && "change" in one && one.change != null ? changedVehicle(ours.vehicle, one.change) : null;
        if (changed !== null) {
          counts.vehicles_changed++;
          updates.push(...particularsUpdate(changed, at, by));
          written("particulars", vehicle_id, vehicle_id, changed.version + 1, JSON.stringify(changed.before));
        }
      }
      for (const { entry, order } of unknownEntries(one.entries, ours.entries, counts)) {
        const content = contentOf(chargeLogTable, entry);
        const order_key = order == null ? null : vehicleKey(order);
        const meant =
          order_key === null ? undefined : ours.entries.find((candidate) => isMeant(candidate, order_key, content));
        const here_now = meant?.lines.at(-1);
        if (meant !== undefined && here_now !== undefined) {
          meant.matched = true;
          if (here_now.change === "removed" || !correcting) {
            counts.entries_known++;
            continue;
          }
          counts.entries_corrected++;
          const version = here_now.version + 1;
          const head = { id: meant.id, version, change: "corrected" as const, vehicle_id, number: meant.number };
          rows.charge_log.push(lineRow(chargeLogTable, { ...content, ...head, recorded_at: at, recorded_by: by }));
          written("correction", meant.id, vehicle_id, version);
          corrections.push({ label: "label" in one ? one.label : "", order: order!, here: here_now, file: entry });
          continue;
        }
        counts.entries_added++;
        const id = this.#scope.newId();
        const head = { id, version: 1, change: "added" as const, vehicle_id, number: ++ours.last_number };
        rows.charge_log.push(lineRow(chargeLogTable, { ...content, ...head, recorded_at: at, recorded_by: by }));
        if (order_key !== null) rows.entry_orders.push({ entry_id: id, vehicle_id, order_key });
        written("entry", id, vehicle_id);
      }
    }
    const inserts = Object.entries(rows).flatMap(([table, of_table]) => insertRows(table, of_table));
    const unchanged = guard(
      `(SELECT count(*) FROM vehicles WHERE workspace_id = :workspace) IS ?
       AND (SELECT count(*) FROM charge_log WHERE workspace_id = :workspace) IS ?`,
      [seen.vehicles, seen.lines],
    );
    const changing = [...updates, ...inserts];
    return { counts, corrections, statements: changing.length === 0 ? [] : [unchanged, ...changing] };
  }

  /** What is here of some vehicles: every line that an entry ever had; and the state that this was read in. */
  async #here(ids: readonly string[]) {
    const here = new Map<string, VehicleHere>();
    const [[vehicle_count], [line_count], vehicles, lines] = (await this.#scope.batch([
      { sql: "SELECT count(*) AS n FROM vehicles WHERE workspace_id = :workspace" },
      { sql: "SELECT count(*) AS n FROM charge_log WHERE workspace_id = :workspace" },
      {
        sql: `SELECT id, version, label, fleet_group, depot, kind FROM vehicles
          WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))`,
        params: [JSON.stringify(ids)],
      },
      {
        sql: `${select(chargeLogTable).replace(" FROM ", ", o.order_key FROM ")}
          LEFT JOIN entry_orders AS o ON o.workspace_id = line.workspace_id AND o.entry_id = line.id
          WHERE line.workspace_id = :workspace AND line.vehicle_id IN (SELECT value FROM json_each(?))
          ORDER BY line.vehicle_id, line.number, line.id, line.version`,
        params: [JSON.stringify(ids)],
      },
    ])) as unknown as [
      { n: number }[],
      { n: number }[],
      VehicleNow[],
      (Line<ChargeEntry> & { order_key: string | null })[],
    ];
    for (const vehicle of vehicles) here.set(vehicle.id, { vehicle, entries: [], last_number: 0 });
    for (const { order_key, ...line } of lines) {
      const of_vehicle = here.get(line.vehicle_id)!;
      of_vehicle.last_number = Math.max(of_vehicle.last_number, line.number);
      let entry = of_vehicle.entries.at(-1);
      if (entry?.id !== line.id) {
        entry = { id: line.id, number: line.number, order_key, lines: [], contents: new Set(), matched: false };
        of_vehicle.entries.push(entry);
      }
      entry.lines.push(line);
      entry.contents.add(JSON.stringify(contentOf(chargeLogTable, line)));
    }
    return { here, seen: { vehicles: vehicle_count!.n, lines: line_count!.n } };
  }
}

/** What an import can have written: a vehicle, other particulars of one, an entry, another version of one. */
export type WrittenKind = "vehicle" | "particulars" | "entry" | "correction";

type VehicleNow = Pick<Vehicle, "id" | "version" | "label" | "fleet_group" | "depot" | "kind">;

interface EntryHere {
  id: string;
  number: number;
  order_key: string | null;
  /** Every version of it, oldest first. */
  lines: Line<ChargeEntry>[];
  contents: Set<string>;
  /** Whether an event of the file is this entry. */
  matched: boolean;
}

interface VehicleHere {
  vehicle: VehicleNow | null;
  entries: EntryHere[];
  last_number: number;
}

function noCounts(): ImportCounts {
  return {
    vehicles_added: 0,
    vehicles_known: 0,
    entries_added: 0,
    entries_known: 0,
    entries_corrected: 0,
    vehicles_changed: 0,
  };
}

function addCounts(counts: ImportCounts, more: ImportCounts): void {
  for (const name of Object.keys(counts) as (keyof ImportCounts)[]) counts[name] += more[name];
}

function* slices<V extends { entries: readonly unknown[] }>(vehicles: readonly V[]): Generator<V[]> {
  let slice: V[] = [];
  let entries = 0;
  for (const vehicle of vehicles) {
    slice.push(vehicle);
    entries += vehicle.entries.length;
    if (entries < SLICE_ENTRIES && slice.length < SLICE_VEHICLES) continue;
    yield slice;
    slice = [];
    entries = 0;
  }
  if (slice.length > 0) yield slice;
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
function isMeant({ matched, order_key, lines }: EntryHere, order: string, content: ChargeEntry): boolean {
  if (matched) return false;
  if (order_key !== null) return order_key === order;
  const now = lines.at(-1)!;
  const note = vehicleKey(now.note ?? "");
  return now.date === content.date && (note === order || note.startsWith(`${order}: `));
}

function changedVehicle(ours: VehicleNow | null, change: VehicleChange) {
  if (ours === null) return null;
  const now = { fleet_group: ours.fleet_group, depot: ours.depot, kind: ours.kind };
  const then = { ...now, ...change };
  if (JSON.stringify(now) === JSON.stringify(then)) return null;
  return { ...ours, ...then, before: now };
}

/** Puts other particulars in place of those of a version. */
export function particularsUpdate(vehicle: VehicleNow, at: string, by: string): Statement[] {
  const { id, version, label, fleet_group, depot, kind } = vehicle;
  return [
    atVersion("vehicles", version, { id }),
    {
      sql: `UPDATE vehicles SET fleet_group = ?, depot = ?, kind = ?, search_text = ?, version = version + 1,
        updated_at = ?, updated_by = ? WHERE workspace_id = :workspace AND id = ?`,
      params: [fleet_group, depot, kind, searchText(label, fleet_group, depot), at, by, id],
    },
  ];
}
