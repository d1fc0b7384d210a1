import type { ImportCounts } from "../core/fleet/import-counts.ts";
import { Problem } from "../core/problem.ts";
import type { Odometer } from "../core/question/record.ts";
import { flag, json, nullable } from "./columns.ts";
import { readHere } from "./entries-here.ts";
import { ConstraintFailed } from "./errors.ts";
import { addCounts, ImportPlan, noCounts } from "./fleet-import-plan.ts";
import {
  type Correction,
  type ImportedVehicle,
  type ImportOptions,
  type KnownEntries,
  type KnownVehicle,
  vehicleKey,
} from "./imported-vehicle.ts";
import { Pace } from "./pace.ts";
import { guard, type Scope } from "./scope.ts";

/** Most entries in one transaction, so that others wait no longer than a tenth of a second. */
const SLICE_ENTRIES = 1500;
const SLICE_VEHICLES = 500;
/** How many times a slice is planned when others keep writing at the same time. */
const ATTEMPTS = 3;
const odometerColumn = nullable(json<Odometer>());
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
      Omit<KnownVehicle, "key" | "electric_compressor" | "dye_in_own_oil" | "odometer"> & {
        label: string;
        source_key: string | null;
        electric_compressor: number;
        dye_in_own_oil: number | null;
        odometer: string | null;
      }
    >(
      `SELECT v.id, v.label, v.refrigerant, v.nameplate_g, v.fleet_group, v.depot, v.kind, v.model_year, v.odometer,
         v.electric_compressor, v.dye_in_own_oil, k.source_key, c.last_date
       FROM vehicles AS v LEFT JOIN import_keys AS k ON k.workspace_id = v.workspace_id AND k.vehicle_id = v.id
       LEFT JOIN (SELECT vehicle_id, max(date) AS last_date FROM charge_log WHERE workspace_id = :workspace
         GROUP BY vehicle_id) AS c ON c.vehicle_id = v.id
       WHERE v.workspace_id = :workspace ORDER BY v.archived_at IS NOT NULL, v.sort_key, v.id`,
    );
    return rows.flatMap(({ label, source_key, electric_compressor, dye_in_own_oil, odometer, ...rest }) => {
      const known = {
        ...rest,
        electric_compressor: flag.read(electric_compressor),
        dye_in_own_oil: nullable(flag).read(dye_in_own_oil),
        odometer: odometerColumn.read(odometer),
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
   * Adds the vehicles and events that are not here yet, in slices between which other requests are served. An import is
   * added as a whole: when a slice fails, the others are undone. Without an import it is one slice. Throws `Problem`
   * changed when someone writes at the same time: then nothing was added, and the import can be repeated.
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

  /** What a slice would write, provided that the state it was planned in still holds. */
  async #plan(vehicles: readonly (ImportedVehicle | KnownEntries)[], options: ImportOptions) {
    const ids = vehicles.flatMap(({ id }) => (id === null ? [] : [id]));
    const { here, seen } = await readHere(this.#scope, ids);
    const plan = new ImportPlan(this.#scope, here, options);
    for (const vehicle of vehicles) plan.add(vehicle);
    const unchanged = guard(
      `(SELECT count(*) FROM vehicles WHERE workspace_id = :workspace) IS ?
       AND (SELECT count(*) FROM charge_log WHERE workspace_id = :workspace) IS ?`,
      [seen.vehicles, seen.lines],
    );
    const { counts, corrections } = plan;
    const changing = plan.statements();
    return { counts, corrections, statements: changing.length === 0 ? [] : [unchanged, ...changing] };
  }
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
