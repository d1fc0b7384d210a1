import { REFRIGERANTS, VEHICLE_KINDS } from "../core/question/contract.ts";
import type { ChargeEntryInput, FindingInput, Note, Vehicle, VehicleInput } from "../core/question/record.ts";
import type { ReadingsInput } from "../core/readings/record.ts";
import { insertRows } from "./bulk.ts";
import {
  assignments,
  type Columns,
  flag,
  json,
  namesOf,
  nullable,
  number,
  oneOf,
  picked,
  rowReader,
  rowWriter,
  text,
} from "./columns.ts";
import { type ParticularsInput, particularsRow } from "./customers.ts";
import { notFound } from "./errors.ts";
import { notReplaced } from "./ledger.ts";
import { keyOf, type Page, pageOf } from "./page.ts";
import { REVISION, revisionNow } from "./revision.ts";
import type { Scope, Submission, SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { searchText, sortKey } from "./text.ts";
import type { VehicleLedgers } from "./vehicle-ledgers.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

/** What is stored together with a new vehicle. */
export interface FirstRecords {
  charge_log?: readonly ChargeEntryInput[];
  findings?: readonly FindingInput[];
  readings?: readonly ReadingsInput[];
  notes?: readonly Note[];
  /** What papers call it, and whose it is. */
  particulars?: ParticularsInput;
  example?: boolean;
}

export interface VehicleQuery {
  /** Which vehicles: those in use (the default), or those archived. */
  archived?: boolean;
  /**
   * Words that all must occur, in label, group, depot, plate, VIN, customer, notes or remarks in the ledgers; case and
   * accents do not matter.
   */
  search?: string;
  fleet_group?: string;
  depot?: string;
  limit?: number;
  /** The `next` of the page before. */
  after?: string | null;
}

/** Words of a search; more are ignored. */
const MAX_WORDS = 8;

/** The columns that a person fills in. */
const INPUT: Columns<VehicleInput> = {
  label: text,
  refrigerant: oneOf(REFRIGERANTS),
  nameplate_g: number,
  system_volume_ml: nullable(number),
  electric_compressor: flag,
  dye_in_own_oil: nullable(flag),
  kind: nullable(oneOf(VEHICLE_KINDS)),
  climate: nullable(text),
  monthly_mean_c: nullable(json()),
  fleet_group: nullable(text),
  depot: nullable(text),
  model_year: nullable(number),
  odometer: nullable(json()),
  plan: json(),
  prices: json(),
  assumptions: json(),
};

export const VEHICLE: Columns<Vehicle> = {
  id: text,
  ...INPUT,
  example: flag,
  archived_at: nullable(text),
  ...REVISION,
};

/** All that there is to a vehicle, to be narrowed by a WHERE; each row for `vehicleOf`. */
export const SELECT_VEHICLES = `SELECT ${namesOf(VEHICLE).join(", ")} FROM vehicles`;

export const vehicleOf = rowReader(VEHICLE);

/**
 * The vehicles of a workspace. Whoever changes one names the version that they saw; if there is a newer one, `Conflict`
 * carries it and nothing is stored. All methods throw `Problem` not-found for an id that is not in this workspace.
 */
export class Vehicles {
  readonly #scope: Scope;
  readonly #ledgers: VehicleLedgers;

  constructor(scope: Scope, ledgers: VehicleLedgers) {
    this.#scope = scope;
    this.#ledgers = ledgers;
  }

  /** One page of the vehicles, by label. */
  async list(query: VehicleQuery = {}): Promise<Page<Vehicle>> {
    const { limit = 100, after = null } = query;
    const { condition, params } = matching(query);
    const key = after === null ? [] : keyOf(after, ["string", "string"]);
    const rows = await this.#scope.all(
      `${SELECT_VEHICLES} WHERE ${condition} ${after === null ? "" : "AND (sort_key, id) > (?, ?)"} ORDER BY sort_key, id LIMIT ?`,
      [...params, ...key, limit + 1],
    );
    const { items, next } = pageOf(rows, limit, (row) => [sortKey(row.label as string), row.id as string]);
    return { items: items.map(vehicleOf), next };
  }

  /** How many vehicles a query finds on all its pages. */
  async count(query: VehicleQuery = {}): Promise<number> {
    const { condition, params } = matching(query);
    const [row] = await this.#scope.all<{ found: number }>(
      `SELECT count(*) AS found FROM vehicles WHERE ${condition}`,
      params,
    );
    return row!.found;
  }

  async get(id: string): Promise<Vehicle> {
    const [row] = await this.#scope.all(this.reading(id).sql, [id]);
    if (row === undefined) throw notFound("vehicle");
    return vehicleOf(row);
  }

  /** The statement of `get`, to be read in one batch with others. */
  reading(id: string): Statement {
    return { sql: `${SELECT_VEHICLES} WHERE workspace_id = :workspace AND id = ?`, params: [id] };
  }

  /** Several of them, in no order. */
  readingOfSeveral(ids: readonly string[]): Statement {
    return {
      sql: `${SELECT_VEHICLES} WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))`,
      params: [JSON.stringify(ids)],
    };
  }

  /** Stores a new vehicle and what is known about it, all or nothing. */
  async create(input: VehicleInput, first: FirstRecords = {}, submit_key: SubmitKey = null): Promise<Vehicle> {
    const id = this.#scope.newId();
    const revision = revisionNow(this.#scope);
    const at = revision.created_at;
    const row = vehicleRow({ ...input, id, ...revision, example: first.example ?? false, archived_at: null });
    const columns = Object.keys(row);
    const insert = {
      sql: `INSERT INTO vehicles (workspace_id, ${columns.join(", ")}) VALUES (:workspace, ${columns.map(() => "?").join(", ")})`,
      params: Object.values(row),
    };
    const { charge_log, findings, readings, notes } = this.#ledgers;
    const records = [
      ...(first.charge_log ?? []).map((entry) => charge_log.addition(id, entry, at)),
      ...(first.findings ?? []).map((finding) => findings.addition(id, finding, at)),
      ...(first.readings ?? []).map((read) => readings.addition(id, read, at)),
      ...(first.notes ?? []).map((note) => notes.addition(id, note, at)),
    ];
    const { particulars } = first;
    const named =
      particulars === undefined
        ? []
        : insertRows("vehicle_particulars", [particularsRow({ ...particulars, vehicle_id: id, ...revision })]);
    const statements = [insert, ...named, ...records.map(({ statement }) => statement)];
    return this.#stored({ key: submit_key, content: [input, first], subject_id: id, subject_version: 1, statements });
  }

  /** Replaces everything entered about the vehicle by `input`. */
  async update(id: string, version: number, input: VehicleInput, submit_key: SubmitKey = null): Promise<Vehicle> {
    const row = inputRow(input);
    return this.#change(id, version, assignments(row), Object.values(row), submit_key, input);
  }

  /** Takes a vehicle out of the lists, with all its records kept. */
  async archive(id: string, version: number, submit_key: SubmitKey = null): Promise<Vehicle> {
    return this.#change(id, version, "archived_at = ?", [this.#scope.now()], submit_key, "archive");
  }

  async unarchive(id: string, version: number, submit_key: SubmitKey = null): Promise<Vehicle> {
    return this.#change(id, version, "archived_at = ?", [null], submit_key, "unarchive");
  }

  /** Whether any vehicle is invented, archived ones too. */
  async hasExamples(): Promise<boolean> {
    const found = await this.#scope.all(
      "SELECT 1 FROM vehicles WHERE workspace_id = :workspace AND example = 1 LIMIT 1",
    );
    return found.length > 0;
  }

  /**
   * Deletes the invented vehicles with all their records, and gives their number. Nothing else is ever deleted. What
   * was submitted for them is forgotten, too: the same press of a button may load them again.
   */
  async deleteExamples(): Promise<number> {
    this.#scope.require("editor");
    const examples = "SELECT id FROM vehicles WHERE workspace_id = :workspace AND example = 1";
    const of_example = `workspace_id = :workspace AND vehicle_id IN (${examples})`;
    const tables = Object.keys(this.#ledgers);
    const made = [examples, ...tables.map((table) => `SELECT id FROM ${table} WHERE ${of_example}`)];
    const submissions = made.map((ids) => ({
      sql: `DELETE FROM submissions WHERE workspace_id = :workspace AND subject_id IN (${ids})`,
    }));
    const deletions = tables.map((table) => ({ sql: `DELETE FROM ${table} WHERE ${of_example}` }));
    const vehicles = { sql: "DELETE FROM vehicles WHERE workspace_id = :workspace AND example = 1 RETURNING id" };
    return (await this.#scope.batch([...submissions, ...deletions, vehicles])).at(-1)!.length;
  }

  async #change(id: string, version: number, set: string, values: Param[], submit_key: SubmitKey, content: unknown) {
    return this.#stored({
      key: submit_key,
      content: [id, version, content],
      subject_id: id,
      subject_version: version + 1,
      statements: changeOf(id, version, { set, values, at: this.#scope.now(), by: this.#scope.actor }),
    });
  }

  async #stored(change: Submission & { statements: readonly Statement[] }): Promise<Vehicle> {
    return (await versionedChange(this.#scope, { ...change, read: (id) => this.get(id) })).current;
  }
}

/** The rows of `vehicles` that a query means. */
function matching({ archived = false, search = "", fleet_group, depot }: VehicleQuery) {
  const conditions = ["workspace_id = :workspace", `archived_at IS ${archived ? "NOT NULL" : "NULL"}`];
  const params: Param[] = [];
  for (const [column, value] of Object.entries({ fleet_group, depot })) {
    if (value === undefined) continue;
    conditions.push(`${column} = ?`);
    params.push(value);
  }
  const words = searchText(search)
    .split(/\s+/)
    .filter((word) => word !== "");
  for (const word of words.slice(0, MAX_WORDS)) {
    conditions.push(OCCURS);
    params.push(...Array.from({ length: PLACES_OF_A_WORD }, () => word));
  }
  return { condition: conditions.join(" AND "), params };
}

const OCCURS = `(instr(search_text, ?) > 0 OR ${["charge_log", "findings", "readings", "notes"]
  .map(
    (table) => `EXISTS (SELECT 1 FROM ${table} AS line WHERE line.workspace_id = vehicles.workspace_id
      AND line.vehicle_id = vehicles.id AND line.change <> 'removed' AND instr(line.search_text, ?) > 0
      AND ${notReplaced(table)})`,
  )
  .join(" OR ")}
  OR EXISTS (SELECT 1 FROM vehicle_particulars AS p
    LEFT JOIN customers AS c ON c.workspace_id = p.workspace_id AND c.id = p.customer_id
    WHERE p.workspace_id = vehicles.workspace_id AND p.vehicle_id = vehicles.id
      AND (instr(p.search_text, ?) > 0 OR instr(c.search_text, ?) > 0)))`;
/** The `?` of it. */
const PLACES_OF_A_WORD = 7;

/** A vehicle as a row of its table, without the workspace. */
export function vehicleRow(vehicle: Vehicle): Record<string, Param> {
  return { ...rowWriter(VEHICLE)(vehicle), ...derivedColumns(vehicle) };
}

/** Of a vehicle, what a person says about it. */
export function vehicleInputOf(vehicle: VehicleInput): VehicleInput {
  return picked(INPUT, vehicle);
}

/** Puts `input` in place of all that was said about version `version` of a vehicle: all of the batch, or nothing. */
export function inputUpdate(
  { id, version }: Pick<Vehicle, "id" | "version">,
  input: VehicleInput,
  { at, by }: { at: string; by: string },
): Statement[] {
  const row = inputRow(input);
  return changeOf(id, version, { set: assignments(row), values: Object.values(row), at, by });
}

function changeOf(
  id: string,
  version: number,
  { set, values, at, by }: { set: string; values: readonly Param[]; at: string; by: string },
): Statement[] {
  return [
    atVersion("vehicles", version, { id }),
    {
      sql: `UPDATE vehicles SET ${set}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...values, at, by, id],
    },
  ];
}

/** What a person says about a vehicle as columns. */
function inputRow(input: VehicleInput): Record<string, Param> {
  return { ...rowWriter(INPUT)(input), ...derivedColumns(input) };
}

/** What lists and search take from what a person says. */
function derivedColumns({ label, fleet_group, depot }: VehicleInput): Record<string, Param> {
  return { sort_key: sortKey(label), search_text: searchText(label, fleet_group, depot) };
}
