import { LANGUAGES, type Language } from "../../data/customer-words.ts";
import type { Revision } from "../core/question/record.ts";
import { UNNAMED_VEHICLE, type VehicleOnPaper } from "../core/quotes/quote-document.ts";
import { insertRows, upsertRow } from "./bulk.ts";
import { assignments, type Columns, json, namesOf, nullable, oneOf, rowReader, rowWriter, text } from "./columns.ts";
import { ERASED, erasureOf } from "./erasure.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { keyOf, type Page, pageOf } from "./page.ts";
import { REVISION, revisionNow } from "./revision.ts";
import { guard, type Scope, type Submission, type SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { compactText, searchText, sortKey } from "./text.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

/** What is recorded about a person; all but the name may be "". */
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

type Said = Omit<CustomerInput, "language">;

/** Characters (code points) of each field. */
export const CUSTOMER_CHARS: Readonly<Record<keyof Said, number>> = {
  name: 120,
  phone: 60,
  email: 120,
  address: 400,
  note: 2000,
};

export interface Customer extends CustomerInput, Revision {
  id: string;
  language: Language | "";
  /** When the person was taken out of the records; null for one who is in them. */
  erased_at: string | null;
}

/** A vehicle as papers name it, and whose it is. */
export interface Particulars extends VehicleOnPaper, Revision {
  vehicle_id: string;
  customer_id: string | null;
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

const SAID: Columns<Said> = { name: text, phone: text, email: text, address: text, note: text };
const CUSTOMER: Columns<Customer> = {
  id: text,
  ...SAID,
  language: oneOf(["", ...LANGUAGES]),
  erased_at: nullable(text),
  ...REVISION,
};

const ON_PAPER: Columns<VehicleOnPaper> = { words: text, plate: text, vin: text, odometer: text };
const PARTICULARS: Columns<Particulars> = {
  vehicle_id: text,
  customer_id: nullable(text),
  ...ON_PAPER,
  ...REVISION,
};

export const SELECT_CUSTOMERS = `SELECT ${namesOf(CUSTOMER).join(", ")} FROM customers`;
export const SELECT_PARTICULARS = `SELECT ${namesOf(PARTICULARS).join(", ")} FROM vehicle_particulars`;

export const customerOf = rowReader(CUSTOMER);
export const particularsOf = rowReader(PARTICULARS);
const customerColumns = rowWriter(CUSTOMER);
const saidColumns = rowWriter(SAID);
const particularsColumns = rowWriter(PARTICULARS);

const ownedVehicleOf = rowReader<OwnedVehicle>({ id: text, label: text, ...ON_PAPER });
const summaryOf = rowReader<CustomerSummary>({ id: text, name: text, phone: text, email: text, vehicles: json() });

/** Words of a search; more are ignored. */
const MAX_WORDS = 8;
/** Digits at the end of a phone number that are the same with and without country and area code. */
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
    return { items: items.map(summaryOf), next };
  }

  async get(id: string): Promise<Customer> {
    const [row] = await this.#scope.all(`${SELECT_CUSTOMERS} WHERE workspace_id = :workspace AND id = ?`, [id]);
    if (row === undefined) throw notFound("customer");
    return customerOf(row);
  }

  /** The vehicles of a customer, by label. */
  async vehiclesOf(customer_id: string): Promise<OwnedVehicle[]> {
    const rows = await this.#scope.all(
      `SELECT v.id, v.label, p.words, p.plate, p.vin, p.odometer FROM vehicle_particulars AS p
       JOIN vehicles AS v ON v.workspace_id = p.workspace_id AND v.id = p.vehicle_id
       WHERE p.workspace_id = :workspace AND p.customer_id = ? ORDER BY v.sort_key, v.id`,
      [customer_id],
    );
    return rows.map(ownedVehicleOf);
  }

  async create(input: CustomerInput, submit_key: SubmitKey = null): Promise<Customer> {
    const id = this.#scope.newId();
    const row = customerRow({
      ...input,
      language: input.language ?? "",
      id,
      erased_at: null,
      ...revisionNow(this.#scope),
    });
    const submission = { key: submit_key, content: ["customer", input], subject_id: id, subject_version: 1 };
    return this.#stored(submission, insertRows("customers", [row]));
  }

  /** Replaces everything recorded about the person by `input`. */
  async update(id: string, version: number, input: CustomerInput, submit_key: SubmitKey = null): Promise<Customer> {
    const row = inputRow(input);
    const change = {
      sql: `UPDATE customers SET ${assignments(row)}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...Object.values(row), this.#scope.now(), this.#scope.actor, id],
    };
    const submission = {
      key: submit_key,
      content: [id, version, input],
      subject_id: id,
      subject_version: version + 1,
    };
    return this.#stored(submission, [unchanged(id, version), change]);
  }

  /** A vehicle as papers name it; version 0 where nothing has been entered yet. */
  async particulars(vehicle_id: string): Promise<Particulars> {
    const [row] = await this.#scope.ofVehicle(vehicle_id, {
      sql: `${SELECT_PARTICULARS} WHERE workspace_id = :workspace AND vehicle_id = ?`,
      params: [vehicle_id],
    });
    if (row !== undefined) return particularsOf(row);
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
    const row = particularsRow({ ...input, vehicle_id, ...revisionNow(this.#scope, version + 1) });
    const write = upsertRow("vehicle_particulars", "vehicle_id", ["created_at", "created_by"], row);
    const as_seen = atVersion("vehicle_particulars", version, { vehicle_id });
    const living = guard(
      "? IS NULL OR EXISTS (SELECT 1 FROM customers WHERE workspace_id = :workspace AND id = ? AND erased_at IS NULL)",
      [input.customer_id, input.customer_id],
    );
    if (input.customer_id !== null && (await this.get(input.customer_id)).erased_at !== null)
      throw notFound("customer");
    try {
      const { current } = await versionedChange(this.#scope, {
        key: submit_key,
        content: ["particulars", vehicle_id, version, input],
        subject_id: vehicle_id,
        subject_version: version + 1,
        statements: [as_seen, living, write],
        read: (id) => this.particulars(id),
      });
      return current;
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("vehicle");
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
      sql: `UPDATE customers SET ${assignments(gone)}, erased_at = ?, erasing = 0, version = version + 1, updated_at = ?,
        updated_by = ?
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

  async #stored(submission: Submission, statements: readonly Statement[]): Promise<Customer> {
    const read = (id: string) => this.get(id);
    return (await versionedChange(this.#scope, { ...submission, statements, read })).current;
  }
}

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

/** A customer as a row of its table, without the workspace. */
export function customerRow(customer: Customer): Record<string, Param> {
  return { ...customerColumns(customer), ...derivedColumns(customer) };
}

function inputRow({ language = "", ...said }: CustomerInput): Record<string, Param> {
  return { ...saidColumns(said), language, ...derivedColumns(said) };
}

/** What lists sort by and searches look in. */
function derivedColumns({ name, phone, email, address, note }: Said) {
  return {
    sort_key: sortKey(name),
    search_text: [searchText(name, phone, email, address, note), compactText(name), compactText(phone)].join("\n"),
  };
}

/** The particulars of a vehicle as a row of their table, without the workspace. */
export function particularsRow(particulars: Particulars): Record<string, Param> {
  const { words, plate, vin } = particulars;
  const search_text = [searchText(words, plate, vin), compactText(plate)].join("\n");
  return { ...particularsColumns(particulars), search_text };
}
