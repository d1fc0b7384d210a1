import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { BLANK_LETTERHEAD } from "../../../src/core/quotes/quote-document.ts";
import { decideQuote } from "../../../src/store/offered-quote.ts";
import type { Row, Sql } from "../../../src/store/sql.ts";
import type { WorkspaceDocument } from "../../../src/store/workspace-document.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { DEFAULT_SETTINGS } from "../../../src/store/workspaces.ts";
import { newContent, withOption } from "../../../src/web/quotes/draft.ts";
import { shopQuestion } from "../../../src/web/quotes/shop-question.ts";
import { quoteSnapshot } from "../../../src/web/quotes/snapshot.ts";
import { parseWorkspaceDocument } from "../../../src/web/schemas/transfer-schema.ts";
import { Database } from "../database.ts";
import { testClock } from "../engines.ts";
import { CAN, DYE_CLEAN, HARD_TEXTS, READ_LOW, TRUCK, VAN } from "../samples.ts";

const TABLES = [
  "workspaces",
  "vehicles",
  "charge_log",
  "findings",
  "readings",
  "notes",
  "price_books",
  "letterheads",
  "quotes",
  "import_keys",
  "fleet_locks",
  "customers",
  "vehicle_particulars",
  "follow_ups_closed",
  "fleet_plans",
  "fleet_orders",
  "fleet_closed_years",
  "fleet_closed_rows",
  "fleet_terms",
  "fleet_logged",
  "external_ids",
  "import_rows",
  "entry_orders",
  "import_mappings",
] as const;

/**
 * Every row of a workspace with every column; apart from its own id, the customers' links, and the order of fields in
 * JSON.
 */
export async function rowsOf(sql: Sql, { workspaceId }: WorkspaceStore) {
  const order = {
    workspaces: "1",
    vehicles: "id",
    charge_log: "id, version",
    findings: "id, version",
    readings: "id, version",
    notes: "id, version",
    price_books: "id",
    letterheads: "1",
    quotes: "id",
    import_keys: "source_key",
    fleet_locks: "vehicle_id",
    customers: "id",
    vehicle_particulars: "vehicle_id",
    follow_ups_closed: "vehicle_id, follow_up",
    fleet_plans: "year",
    fleet_orders: "id",
    fleet_closed_years: "year",
    fleet_closed_rows: "vehicle_id",
    fleet_terms: "scope, name",
    fleet_logged: "vehicle_id",
    external_ids: "kind, external_id",
    import_rows: "kind, subject_id",
    entry_orders: "entry_id",
    import_mappings: "headers",
  };
  const parsed = (value: unknown) => (typeof value === "string" && value.startsWith("{") ? JSON.parse(value) : value);
  const tables = await sql.batch(
    TABLES.map((table) => ({
      sql: `SELECT * FROM ${table} WHERE workspace_id = ? ORDER BY ${order[table]}`,
      params: [workspaceId],
    })),
  );
  const plain = ({ workspace_id, token_hash, ...row }: Row) =>
    Object.fromEntries(Object.entries(row).map(([column, value]) => [column, parsed(value)]));
  return Object.fromEntries(TABLES.map((table, i) => [table, tables[i]!.map(plain)]));
}

/** What travels: through JSON text and the check on the way in. */
export function sent(document: WorkspaceDocument): WorkspaceDocument {
  const parsed = parseWorkspaceDocument(JSON.parse(JSON.stringify(document)));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return parsed.document;
}

export const LETTERHEAD = { ...BLANK_LETTERHEAD, shop: "North Yard Cooling", address: "1 Long Road\nNorth Yard" };
const OWN_BOOK = { ...RETAIL_BOOK, labor_rate_micro: 95_000_000 };

const NOBODY = { name: "", phone: "", email: "", address: "", note: "" };
const PLATED = { words: "2014 van", plate: "ABC-123", vin: "", odometer: "" };

const VAN_IN_FILE = {
  key: "van 31",
  label: "Van 31",
  refrigerant: "R-134a" as const,
  nameplate_g: 650,
  fleet_group: null,
  depot: "North yard",
  electric_compressor: false,
  dye_in_own_oil: null,
  kind: null,
  model_year: null,
  odometer: null,
};

/** A quote as the program writes and sends it. */
export async function writtenQuote(store: WorkspaceStore, vehicle_id: string) {
  const today = "2026-05-01";
  const record = await store.record(vehicle_id);
  const begun = newContent(record, today, { customer: "R. Ames", keep_years: 5, book_id: "retail", book: OWN_BOOK });
  // The vehicle needs nothing today, so the shop adds what it offers itself.
  const content = withOption(begun, record, today, { recharge: true, test: null, repair: null });
  const { request } = shopQuestion(record, today, content);
  const snapshot = quoteSnapshot({ number: 1, content, letterhead: LETTERHEAD, record, request, today });
  return { content, snapshot };
}

/** Workspaces that have something to take along, for the tests of a `describe`. */
export class TransferDatabase extends Database {
  /** A workspace with corrections, removals, an archived vehicle and hard texts in it. */
  async filled(): Promise<WorkspaceStore> {
    const store = await this.newStore();
    await store.settings.update({ ...DEFAULT_SETTINGS, name: "Workshop", prices: { can_price: 3 } }, 1);
    const notes = HARD_TEXTS.map((body) => ({ body }));
    const van = await store.vehicles.create(VAN, { charge_log: [CAN, CAN], findings: [DYE_CLEAN], notes });
    const truck = await store.vehicles.create(TRUCK, {
      charge_log: [{ ...CAN, added_g: 12 * 28.349523125, date_within_days: 46 }],
    });
    await store.vehicles.archive(truck.id, 1);
    const read = await store.readings.add(truck.id, READ_LOW);
    await store.readings.correct(read.id, 1, { ...READ_LOW, vent_c: 12 });
    const [first, second] = await store.chargeLog.list(van.id);
    await store.chargeLog.correct(first!.id, 1, { ...CAN, added_g: 300, note: "=1+1" });
    await store.chargeLog.undo(first!.id, 2);
    await store.chargeLog.remove(second!.id, 1);
    return store;
  }

  /** The same with price books, a letterhead, a quote in each state, and what the fleet pages were told. */
  async whole() {
    const store = await this.filled();
    const { priceBooks, letterheads, quotes, fleet } = store;
    await priceBooks.update("retail", 0, OWN_BOOK);
    const winter = await priceBooks.create({ ...RETAIL_BOOK, name: "Winter שלום" });
    await priceBooks.archive(winter.id, 1);
    await letterheads.update(LETTERHEAD, 0);
    const { id: vehicle } = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const { content, snapshot } = await writtenQuote(store, vehicle);
    const draft = async (replaces: string | null = null) => (await quotes.create(vehicle, content, replaces)).id;
    const send = async (id: string) => (await quotes.send(id, 1, { content, snapshot })).token!;
    const say = (token: string, option: string | null) =>
      decideQuote(
        { sql: this.sql, now: testClock() },
        token,
        { option, name: "Robin Ames", keep_years: 6.5 },
        "2026-05-02",
      );
    const withdrawn = await draft();
    await send(withdrawn);
    const accepted = await draft(withdrawn);
    const { id: option } = content.options[0]!;
    await say(await send(accepted), option);
    const work = { date: "2026-05-02", option, follow_up_on: "2026-11-02" };
    await quotes.logWork(accepted, 3, { work, charge_log: [{ ...CAN, added_g: 100 }], findings: [DYE_CLEAN] });
    await say(await send(await draft()), null);
    const sent = await draft();
    const token = await send(sent);
    // An answer by phone that was taken back.
    await quotes.recordAnswer(sent, 2, { option, name: "Robin Ames", keep_years: 6.5, how: "phone" });
    await quotes.takeBackAnswer(sent, 3);
    await draft();
    const robin = await store.customers.create({ ...NOBODY, name: "Robin Ames", phone: "555 0142" });
    await store.customers.setParticulars(vehicle, 0, { ...PLATED, customer_id: robin.id });
    await fleet.lock(vehicle, { repair: "must", year: null });
    const terms = { budget: 900, aim: "cost" as const, shop: null, depots: [] };
    const order = { vehicle_id: vehicle, option: "dye-test" as const, price: 250, month: "2026-06", depot: null };
    const made = { ...order, saves: 40, avoids_kg: 900, held: true, carried_from: 2025 };
    await store.fleetPlans.save({ year: 2026, terms, currency: "USD" }, [made], 0);
    await store.fleetClosings.close(2025, 0, { gwp: "AR6", model_version: "1" });
    const [planned] = await store.fleetPlans.orders(2026);
    await store.fleetPlans.tickOff(planned!.id, 1, { done_on: "2026-05-02", paid: 240 });
    await this.#imported(store);
    await store.fleetTerms.set("depot", "North yard", { climate: "hot-desert", keep_years: 3 });
    await store.fleetTerms.setLogged({ ids: [vehicle] }, { from_date: null, until_date: "2026-05-01", missed: 0.1 });
    const item = { external_id: "t 9", id: null, said: { ...VAN, label: "Truck 9" } };
    const event = { external_id: "w 1", vehicle: { external_id: "t 9" }, entry: CAN };
    const call = { source: "workshop", vehicles: [{ item }], events: [{ item: event }] };
    await store.fleetUpsert.apply(call, () => []);
    return { store, vehicle, sent, token };
  }

  /** A file that was taken in, with an order of its own. */
  async #imported({ imports, fleetImport }: WorkspaceStore): Promise<void> {
    const text = (async function* () {
      yield "vehicle,date\n";
    })();
    const file = { name: "May.csv", text, answers: {}, survey: ["secret cells"] };
    const id = await imports.keep([file]);
    const order = { ...CAN, order: "WO 31" };
    const counts = await fleetImport.add([{ ...VAN_IN_FILE, id: null, entries: [order] }], { import_id: id });
    const report = { files: [], counts, refused_rows: [{ cells: "secret cells" }], samples: [{ vehicle: "Van 31" }] };
    await imports.finish(id, report, [], [{ headers: "vehicle date", answers: { columns: {} } }]);
  }
}

export const NOTHING = { added: 0, same: 0, differing: 0 };
/** What a report says of lists that were empty. */
export const NOTHING_ELSE = {
  price_books: NOTHING,
  letterhead: null,
  quotes: NOTHING,
  fleet_names: NOTHING,
  fleet_locks: NOTHING,
  customers: NOTHING,
  vehicle_particulars: NOTHING,
  invoices: NOTHING,
  payments: NOTHING,
  cylinders: NOTHING,
  cylinder_moves: NOTHING,
  refrigerant_work: NOTHING,
  follow_ups_closed: NOTHING,
  fleet_plans: NOTHING,
  fleet_orders: NOTHING,
  fleet_closed_years: NOTHING,
  fleet_closed_rows: NOTHING,
  fleet_terms: NOTHING,
  fleet_logged: NOTHING,
  external_ids: NOTHING,
  imports: NOTHING,
  import_rows: NOTHING,
  entry_orders: NOTHING,
  import_mappings: NOTHING,
  renumbered_quotes: [],
  differing_vehicles: [],
  differing_books: [],
};
