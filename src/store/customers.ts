import type { Language } from "../../data/customer-words.ts";
import { UNNAMED_VEHICLE, type VehicleOnPaper } from "../core/quotes/quote-document.ts";
import { insertRows } from "./bulk.ts";
import { ERASED, erasureOf } from "./erasure.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { keyOf, type Page, pageOf } from "./page.ts";
import { guard, type Repeat, type Scope, type SubmitKey } from "./scope.ts";
import type { Param, Row, Statement } from "./sql.ts";
import { compactText, keptText, searchText, sortKey } from "./text.ts";

/** What is said of a person; all but the name may be "". */
export interface CustomerInput {
  name: string;
  phone: string;
  email: string;
  /** May have several lines. */
  address: string;
  /** For the shop alone. */
  note: string;
  /** In which language their papers are; "" or absent: in that of the shop's papers. */
  language?: Language | "" | undefined;
}

const INPUT = ["name", "phone", "email", "address", "note"] as const satisfies readonly (keyof CustomerInput)[];

/** Characters (code points) of each field. */
export const CUSTOMER_CHARS: Readonly<Record<(typeof INPUT)[number], number>> = {
  name: 120,
  phone: 60,
  email: 120,
  address: 400,
  note: 2000,
};

export interface Customer extends CustomerInput {
  id: string;
  language: Language | "";
  /** When the person was taken out of the records; null for one who is in them. */
  erased_at: string | null;
  version: number;
  created_at: string;
  created_by: string;
  updated_at: string;
  updated_by: string;
}

/** A vehicle as papers name it, and whose it is. */
export interface Particulars extends VehicleOnPaper {
  vehicle_id: string;
  customer_id: string | null;
  version: number;
  created_at: string;
  created_by: string;
  updated_at: string;
  updated_by: string;
}

export type ParticularsInput = VehicleOnPaper & Pick<Particulars, "customer_id">;

/** Characters of the particulars of a vehicle. */
export const PARTICULARS_CHARS = { words: 120, plate: 20, odometer: 20 } as const;

/** A vehicle of a customer, in a list. */
export interface OwnedVehicle extends Pick<Particulars, "words" | "plate" | "vin" | "odometer"> {
  id: string;
  /** The shop's own name for it. */
  label: string;
}

/** A line of a list of customers. */
export interface CustomerSummary extends Pick<Customer, "id" | "name" | "phone" | "email"> {
  vehicles: OwnedVehicle[];
}

const SHOWN = ["words", "plate", "vin", "odometer"] as const satisfies readonly (keyof VehicleOnPaper)[];
const KEPT = "version, created_at, created_by, updated_at, updated_by";

export const SELECT_CUSTOMERS = `SELECT id, ${INPUT.join(", ")}, language, erased_at, ${KEPT} FROM customers`;
export const SELECT_PARTICULARS = `SELECT vehicle_id, customer_id, ${SHOWN.join(", ")}, ${KEPT} FROM vehicle_particulars`;

/** Words of a search; more are ignored. */
const MAX_WORDS = 8;
/** The last digits of a phone number, which are the same with and without country and area codes. */
const PHONE_TAIL = 9;

/**
 * The customers of a workspace, and its vehicles as papers name them. Whoever changes one names the version that they
 * saw; if there is a newer one, `Conflict` carries it and nothing is stored. All methods throw `Problem` not-found for
 * an id that is not in this workspace.
 */
export class Customers {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /**
   * One page of the customers, by name. `search`: words that all occur in what is said of a person or of a vehicle of
   * theirs, or a name, telephone number, plate or VIN however it is spaced.
   */
  async list({
    search = "",
    limit = 50,
    after = null,
  }: {
    search?: string;
    limit?: number;
    after?: string | null;
  } = {}): Promise<Page<CustomerSummary>> {
    const { condition, params } = matching(search);
    const key = after === null ? [] : keyOf(after, ["string", "string"]);
    const rows = await this.#scope.all(
      `SELECT c.id, c.name, c.phone, c.email, c.sort_key, ${VEHICLES_OF} AS vehicles FROM customers AS c
       WHERE ${condition} ${after === null ? "" : "AND (c.sort_key, c.id) > (?, ?)"} ORDER BY c.sort_key, c.id LIMIT ?`,
      [...params, ...key, limit + 1],
    );
    const { items, next } = pageOf(rows, limit, (row) => [row.sort_key as string, row.id as string]);
    return {
      items: items.map(({ sort_key, vehicles, ...row }) => ({
        ...(row as unknown as CustomerSummary),
        vehicles: JSON.parse(vehicles as string),
      })),
      next,
    };
  }

  async get(id: string): Promise<Customer> {
    const [row] = await this.#scope.all(`${SELECT_CUSTOMERS} WHERE workspace_id = :workspace AND id = ?`, [id]);
    if (row === undefined) throw notFound("customer");
    return customerOf(row);
  }

  /** The vehicles of a customer, by label. */
  async vehiclesOf(customer_id: string): Promise<OwnedVehicle[]> {
    return this.#scope.all<OwnedVehicle & Row>(
      `SELECT v.id, v.label, p.words, p.plate, p.vin, p.odometer FROM vehicle_particulars AS p
       JOIN vehicles AS v ON v.workspace_id = p.workspace_id AND v.id = p.vehicle_id
       WHERE p.workspace_id = :workspace AND p.customer_id = ? ORDER BY v.sort_key, v.id`,
      [customer_id],
    );
  }

  async create(input: CustomerInput, submit_key: SubmitKey = null): Promise<Customer> {
    const id = this.#scope.newId();
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const made = { version: 1, created_at: at, created_by: by, updated_at: at, updated_by: by };
    const insert = insertRows("customers", [
      customerRow({ ...input, language: input.language ?? "", id, erased_at: null, ...made }),
    ]);
    const submission = { key: submit_key, content: ["customer", input], subject_id: id, subject_version: 1 };
    return this.#settled(id, await this.#scope.change(insert, submission));
  }

  /** Puts `input` in place of all that was said about the person. */
  async update(id: string, version: number, input: CustomerInput, submit_key: SubmitKey = null): Promise<Customer> {
    const row = inputRow(input);
    const change = {
      sql: `UPDATE customers SET ${Object.keys(row)
        .map((column) => `${column} = ?`)
        .join(", ")}, version = version + 1, updated_at = ?, updated_by = ? WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(row), this.#scope.now(), this.#scope.actor, id],
    };
    const submission = {
      key: submit_key,
      content: [id, version, input],
      subject_id: id,
      subject_version: version + 1,
    };
    try {
      return await this.#settled(id, await this.#scope.change([unchanged(id, version), change], submission));
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard") throw new Conflict(await this.get(id));
      throw error;
    }
  }

  /** A vehicle as papers name it; version 0 where nobody has said anything yet. */
  async particulars(vehicle_id: string): Promise<Particulars> {
    const [row] = await this.#scope.ofVehicle<Row>(vehicle_id, {
      sql: `${SELECT_PARTICULARS} WHERE workspace_id = :workspace AND vehicle_id = ?`,
      params: [vehicle_id],
    });
    if (row !== undefined) return row as unknown as Particulars;
    const never = { version: 0, created_at: "", created_by: "", updated_at: "", updated_by: "" };
    return { vehicle_id, customer_id: null, ...UNNAMED_VEHICLE, ...never };
  }

  /** Puts `input` in place of version `version` (0: of nothing). */
  async setParticulars(
    vehicle_id: string,
    version: number,
    input: ParticularsInput,
    submit_key: SubmitKey = null,
  ): Promise<Particulars> {
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const row = particularsRow({
      ...input,
      vehicle_id,
      version: version + 1,
      created_at: at,
      created_by: by,
      updated_at: at,
      updated_by: by,
    });
    const columns = Object.keys(row);
    const changed = columns.filter((column) => !["vehicle_id", "created_at", "created_by"].includes(column));
    const write = {
      sql: `INSERT INTO vehicle_particulars (workspace_id, ${columns.join(", ")}) VALUES (:workspace, ${columns.map(() => "?").join(", ")})
        ON CONFLICT (workspace_id, vehicle_id) DO UPDATE SET ${changed.map((column) => `${column} = excluded.${column}`).join(", ")}`,
      params: Object.values(row),
    };
    const as_seen = guard(
      "coalesce((SELECT version FROM vehicle_particulars WHERE workspace_id = :workspace AND vehicle_id = ?), 0) = ?",
      [vehicle_id, version],
    );
    const living = guard(
      "? IS NULL OR EXISTS (SELECT 1 FROM customers WHERE workspace_id = :workspace AND id = ? AND erased_at IS NULL)",
      [input.customer_id, input.customer_id],
    );
    const submission = {
      key: submit_key,
      content: ["particulars", vehicle_id, version, input],
      subject_id: vehicle_id,
      subject_version: version + 1,
    };
    if (input.customer_id !== null && (await this.get(input.customer_id)).erased_at !== null)
      throw notFound("customer");
    try {
      const repeat = await this.#scope.change([as_seen, living, write], submission);
      const stored = await this.particulars(vehicle_id);
      if (repeat !== null && !repeat.same_content) throw new Conflict(stored, SAVED_BEFORE);
      return stored;
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("vehicle");
      if (error instanceof ConstraintFailed && error.what === "guard")
        throw new Conflict(await this.particulars(vehicle_id));
      throw error;
    }
  }

  /**
   * Takes a person out of the records: name, telephone, e-mail and address; plate, VIN and name of their vehicles; the
   * free words of those vehicles' ledgers; their name, and the words to them, in quotes. Figures, dates and what was
   * agreed stay. Links to those quotes are dead afterwards. `invoices`: name, address, plate and VIN go from what was
   * billed, too; else it stays as issued, as tax law may ask. There is no way back.
   */
  async erase(id: string, version: number, { invoices }: { invoices: boolean }): Promise<Customer> {
    this.#scope.require("owner");
    const vehicle_ids = (await this.vehiclesOf(id)).map((vehicle) => vehicle.id);
    const vehicles = JSON.stringify(vehicle_ids);
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const all_known = guard(
      `NOT EXISTS (SELECT 1 FROM vehicle_particulars WHERE workspace_id = :workspace AND customer_id = ?
        AND vehicle_id NOT IN (SELECT value FROM json_each(?)))`,
      [id, vehicles],
    );
    const begin = {
      sql: "UPDATE customers SET erasing = 1 WHERE workspace_id = :workspace AND id = ?",
      params: [id],
    };
    const gone = inputRow({ name: ERASED, phone: "", email: "", address: "", note: "" });
    const end = {
      sql: `UPDATE customers SET ${Object.keys(gone)
        .map((column) => `${column} = ?`)
        .join(", ")}, erased_at = ?, erasing = 0, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(gone), at, at, by, id],
    };
    try {
      await this.#scope.batch([
        unchanged(id, version),
        all_known,
        begin,
        ...erasureOf({ customer_id: id, vehicle_ids, invoices, at, by }),
        end,
      ]);
    } catch (error) {
      if (error instanceof ConstraintFailed && error.what === "guard") throw new Conflict(await this.get(id));
      throw error;
    }
    return this.get(id);
  }

  async #settled(id: string, repeat: Repeat | null): Promise<Customer> {
    const stored = await this.get(repeat?.subject_id ?? id);
    if (repeat !== null && !repeat.same_content) throw new Conflict(stored, SAVED_BEFORE);
    return stored;
  }
}

const SAVED_BEFORE = "This form was saved before, with something else in it. Look at what was saved first.";

const VEHICLES_OF = `(SELECT json_group_array(json_object('id', v.id, 'label', v.label, 'words', p.words, 'plate', p.plate,
    'vin', p.vin, 'odometer', p.odometer))
  FROM vehicle_particulars AS p JOIN vehicles AS v ON v.workspace_id = p.workspace_id AND v.id = p.vehicle_id
  WHERE p.workspace_id = c.workspace_id AND p.customer_id = c.id)`;

function unchanged(id: string, version: number): Statement {
  return guard(
    "EXISTS (SELECT 1 FROM customers WHERE workspace_id = :workspace AND id = ? AND version = ? AND erased_at IS NULL)",
    [id, version],
  );
}

/** The customers that a search means. */
function matching(search: string): { condition: string; params: Param[] } {
  const known = "c.workspace_id = :workspace AND c.erased_at IS NULL";
  const words = searchText(search)
    .split(/\s+/)
    .filter((word) => word !== "")
    .slice(0, MAX_WORDS);
  if (words.length === 0) return { condition: known, params: [] };
  const compact = compactText(search);
  const tail = /^\d+$/.test(compact) && compact.length > PHONE_TAIL ? compact.slice(-PHONE_TAIL) : compact;
  const every_word = words.map(() => OCCURS).join(" AND ");
  const run_together = tail === "" ? "0" : OCCURS;
  return {
    condition: `${known} AND ((${every_word}) OR ${run_together})`,
    params: [...words, ...(tail === "" ? [] : [tail])].flatMap((word) => [word, word, word]),
  };
}

const OCCURS = `(instr(c.search_text, ?) > 0 OR EXISTS (SELECT 1 FROM vehicle_particulars AS p
  JOIN vehicles AS v ON v.workspace_id = p.workspace_id AND v.id = p.vehicle_id
  WHERE p.workspace_id = c.workspace_id AND p.customer_id = c.id
    AND (instr(p.search_text, ?) > 0 OR instr(v.search_text, ?) > 0)))`;

function customerOf(row: Row): Customer {
  return row as unknown as Customer;
}

/** A customer as a row of its table, without the workspace. */
export function customerRow({
  id,
  erased_at,
  version,
  created_at,
  created_by,
  updated_at,
  updated_by,
  ...input
}: Customer) {
  return { id, ...inputRow(input), erased_at, version, created_at, created_by, updated_at, updated_by };
}

function inputRow(input: CustomerInput): Record<string, Param> {
  const { name, phone, email, address, note, language = "" } = input;
  return {
    ...Object.fromEntries(INPUT.map((column) => [column, keptText(input[column])])),
    language,
    sort_key: sortKey(name),
    search_text: [searchText(name, phone, email, address, note), compactText(name), compactText(phone)].join("\n"),
  };
}

/** The particulars of a vehicle as a row of their table, without the workspace. */
export function particularsRow(particulars: Particulars): Record<string, Param> {
  const { vehicle_id, customer_id, version, created_at, created_by, updated_at, updated_by } = particulars;
  const { words, plate, vin } = particulars;
  return {
    vehicle_id,
    customer_id,
    ...Object.fromEntries(SHOWN.map((column) => [column, keptText(particulars[column])])),
    version,
    created_at,
    created_by,
    updated_at,
    updated_by,
    search_text: [searchText(words, plate, vin), compactText(plate)].join("\n"),
  };
}
