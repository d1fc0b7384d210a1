import { Problem } from "../core/problem.ts";
import type { RefrigerantId, VehicleKind } from "../core/question/contract.ts";
import { type ChargeEntry, type ChargeEntryInput, NEW_VEHICLE } from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { flag, namesOf, nullable } from "./columns.ts";
import { ConstraintFailed } from "./errors.ts";
import { contentOf, lineRow } from "./ledger.ts";
import { revisionNow } from "./revision.ts";
import { guard, type Scope } from "./scope.ts";
import type { Param } from "./sql.ts";
import { searchText } from "./text.ts";
import { vehicleRow } from "./vehicles.ts";

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
  entries: ChargeEntryInput[];
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
}

/** Counts of what an import adds and of what exists already. */
export interface ImportCounts {
  vehicles_added: number;
  vehicles_known: number;
  entries_added: number;
  entries_known: number;
}

/** A vehicle's name as files are matched by it: case, accents and the number of spaces make no difference. */
export function vehicleKey(label: string): string {
  return searchText(label).replace(/\s+/g, " ").trim();
}

/** Vehicles in one question to the database. */
const SLICE = 5000;

/**
 * Fleet files into the workspace. An event is the same as one that is here when vehicle, date and everything it says
 * are the same in any line ever written, so a file that was imported before adds nothing, not even what was corrected
 * or removed since.
 */
export class FleetImport {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
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
         v.electric_compressor, v.dye_in_own_oil, k.source_key
       FROM vehicles AS v LEFT JOIN import_keys AS k ON k.workspace_id = v.workspace_id AND k.vehicle_id = v.id
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

  /** The counts that `add` would give. */
  async preview(vehicles: readonly ImportedVehicle[]): Promise<ImportCounts> {
    return (await this.#plan(vehicles)).counts;
  }

  /**
   * Adds the vehicles and events that are not here yet, all or nothing. Throws `Problem` changed when someone writes at
   * the same time: then nothing was added, and the import can be repeated.
   */
  async add(vehicles: readonly (ImportedVehicle | KnownEntries)[]): Promise<ImportCounts> {
    this.#scope.require("editor");
    const { counts, vehicle_rows, key_rows, line_rows, seen } = await this.#plan(vehicles);
    if (counts.vehicles_added + counts.entries_added === 0) return counts;
    const unchanged = guard(
      `(SELECT count(*) FROM vehicles WHERE workspace_id = :workspace) IS ?
       AND (SELECT count(*) FROM charge_log WHERE workspace_id = :workspace) IS ?`,
      [seen.vehicles, seen.lines],
    );
    try {
      await this.#scope.batch([
        unchanged,
        ...insertRows("vehicles", vehicle_rows),
        ...insertRows("import_keys", key_rows),
        ...insertRows(chargeLogTable.table, line_rows),
      ]);
    } catch (error) {
      if (error instanceof ConstraintFailed && (error.kind === "unique" || error.what === "guard")) {
        throw new Problem(
          "changed",
          "The records were changed while the file was read, so nothing was added. Import it again.",
        );
      }
      throw error;
    }
    return counts;
  }

  async #plan(vehicles: readonly (ImportedVehicle | KnownEntries)[]) {
    const ids = vehicles.flatMap(({ id }) => (id === null ? [] : [id]));
    const { here, last_number, seen } = await this.#here(ids);
    const revision = revisionNow(this.#scope);
    const recorded = { recorded_at: revision.created_at, recorded_by: revision.created_by };
    const counts: ImportCounts = { vehicles_added: 0, vehicles_known: 0, entries_added: 0, entries_known: 0 };
    const vehicle_rows: Record<string, Param>[] = [];
    const key_rows: Record<string, Param>[] = [];
    const line_rows: Record<string, Param>[] = [];
    for (const one of vehicles) {
      const vehicle_id = one.id ?? this.#scope.newId();
      if (one.id === null && "key" in one) {
        const { key, id: _, entries: _of_file, ...particulars } = one;
        counts.vehicles_added++;
        vehicle_rows.push(
          vehicleRow({
            ...NEW_VEHICLE,
            ...particulars,
            ...revision,
            id: vehicle_id,
            example: false,
            archived_at: null,
          }),
        );
        key_rows.push({ source_key: key, vehicle_id });
      } else counts.vehicles_known++;
      const left = here.get(vehicle_id) ?? new Map<string, number>();
      let number = last_number.get(vehicle_id) ?? 0;
      for (const entry of one.entries) {
        const content = contentOf(chargeLogTable, entry);
        const text = JSON.stringify(content);
        const same = left.get(text) ?? 0;
        if (same > 0) {
          left.set(text, same - 1);
          counts.entries_known++;
          continue;
        }
        counts.entries_added++;
        const head = { id: this.#scope.newId(), version: 1, change: "added" as const, vehicle_id, number: ++number };
        line_rows.push(lineRow(chargeLogTable, { ...content, ...head, ...recorded }));
      }
    }
    return { counts, vehicle_rows, key_rows, line_rows, seen };
  }

  /** By vehicle: how many entries ever said a thing, and the last number; and the state that this was read in. */
  async #here(ids: readonly string[]) {
    const here = new Map<string, Map<string, number>>();
    const last_number = new Map<string, number>();
    const columns = namesOf(chargeLogTable.columns).join(", ");
    const counts = await this.#scope.batch([
      { sql: "SELECT count(*) AS n FROM vehicles WHERE workspace_id = :workspace" },
      { sql: "SELECT count(*) AS n FROM charge_log WHERE workspace_id = :workspace" },
    ]);
    for (let from = 0; from < ids.length; from += SLICE) {
      const lines = await this.#scope.all<ChargeEntry & { vehicle_id: string; id: string; number: number }>(
        `SELECT DISTINCT vehicle_id, id, number, ${columns} FROM charge_log
         WHERE workspace_id = :workspace AND vehicle_id IN (SELECT value FROM json_each(?))`,
        [JSON.stringify(ids.slice(from, from + SLICE))],
      );
      for (const { vehicle_id, id: _, number, ...entry } of lines) {
        const of_vehicle = here.get(vehicle_id) ?? new Map<string, number>();
        const text = JSON.stringify(contentOf(chargeLogTable, entry));
        of_vehicle.set(text, (of_vehicle.get(text) ?? 0) + 1);
        here.set(vehicle_id, of_vehicle);
        last_number.set(vehicle_id, Math.max(number, last_number.get(vehicle_id) ?? 0));
      }
    }
    const [[vehicles], [lines]] = counts as [{ n: number }[], { n: number }[]];
    return { here, last_number, seen: { vehicles: vehicles!.n, lines: lines!.n } };
  }
}
