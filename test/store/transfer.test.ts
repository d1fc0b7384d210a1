import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { ChargeEntryInput } from "../../src/core/question/record.ts";
import { BLANK_LETTERHEAD } from "../../src/core/quotes/quote-document.ts";
import { sha256Hex } from "../../src/store/hash.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { decideQuote, offeredQuote } from "../../src/store/offered-quote.ts";
import type { Row, Sql } from "../../src/store/sql.ts";
import type { ImportReport } from "../../src/store/transfer.ts";
import { assessRequestOf } from "../../src/store/vehicle-record.ts";
import type { WorkspaceDocument } from "../../src/store/workspace-document.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { DEFAULT_SETTINGS } from "../../src/store/workspaces.ts";
import { newContent, withOption } from "../../src/web/quotes/draft.ts";
import { shopQuestion } from "../../src/web/quotes/shop-question.ts";
import { quoteSnapshot } from "../../src/web/quotes/snapshot.ts";
import { parseWorkspaceDocument } from "../../src/web/schemas/transfer-schema.ts";
import { engines, newStore, testClock } from "./engines.ts";
import { CAN, DYE_CLEAN, HARD_TEXTS, READ_LOW, TRUCK, VAN } from "./samples.ts";

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
] as const;

/**
 * Every row of a workspace with every column; apart from its own id, the customers' links, and the order of fields in
 * JSON.
 */
async function rowsOf(sql: Sql, { workspaceId }: WorkspaceStore) {
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
function sent(document: WorkspaceDocument): WorkspaceDocument {
  const parsed = parseWorkspaceDocument(JSON.parse(JSON.stringify(document)));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return parsed.document;
}

const NOTHING = { added: 0, same: 0, differing: 0 };
const NOTHING_ELSE = {
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
  renumbered_quotes: [],
  differing_vehicles: [],
  differing_books: [],
};

const LETTERHEAD = { ...BLANK_LETTERHEAD, shop: "North Yard Cooling", address: "1 Long Road\nNorth Yard" };
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
};

/** A quote as the program writes and sends it. */
async function writtenQuote(store: WorkspaceStore, vehicle_id: string) {
  const today = "2026-05-01";
  const record = await store.record(vehicle_id);
  const begun = newContent(record, today, { customer: "R. Ames", keep_years: 5, book_id: "retail", book: OWN_BOOK });
  // The vehicle needs nothing today, so the shop adds what it offers itself.
  const content = withOption(begun, record, today, { recharge: true, test: null, repair: null });
  const { request } = shopQuestion(record, today, content);
  const snapshot = quoteSnapshot({ number: 1, content, letterhead: LETTERHEAD, record, request, today });
  return { content, snapshot };
}

describe.each(engines)("export and import on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  /** A workspace with corrections, removals, an archived vehicle and hard texts in it. */
  async function filled(): Promise<WorkspaceStore> {
    const store = await newStore(sql);
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
  async function whole() {
    const store = await filled();
    const { priceBooks, letterheads, quotes, fleet, fleetImport } = store;
    await priceBooks.update("retail", 0, OWN_BOOK);
    const winter = await priceBooks.create({ ...RETAIL_BOOK, name: "Winter שלום" });
    await priceBooks.archive(winter.id, 1);
    await letterheads.update(LETTERHEAD, 0);
    const { id: vehicle } = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const { content, snapshot } = await writtenQuote(store, vehicle);
    const draft = async (replaces: string | null = null) => (await quotes.create(vehicle, content, replaces)).id;
    const send = async (id: string) => (await quotes.send(id, 1, { content, snapshot })).token!;
    const say = (token: string, option: string | null) =>
      decideQuote({ sql, now: testClock() }, token, { option, name: "Robin Ames", keep_years: 6.5 }, "2026-05-02");
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
    await fleetImport.add([{ ...VAN_IN_FILE, id: null, entries: [CAN] }]);
    return { store, vehicle, sent, token };
  }

  describe("price books, letterhead, quotes and fleet choices", () => {
    const HELD = {
      price_books: 2,
      quotes: 5,
      fleet_names: 1,
      fleet_locks: 1,
      customers: 1,
      vehicle_particulars: 1,
      fleet_plans: 1,
      fleet_orders: 1,
      fleet_closed_years: 1,
    };
    const all = (what: keyof typeof NOTHING) =>
      Object.fromEntries(Object.entries(HELD).map(([name, count]) => [name, { ...NOTHING, [what]: count }]));

    test("go into an empty workspace as they were, after a dry run that says so", async () => {
      const { store, vehicle } = await whole();
      const document = sent(await store.transfer.export());
      expect(document.quotes.map(({ status }) => status)).toEqual([
        "withdrawn",
        "accepted",
        "declined",
        "sent",
        "draft",
      ]);
      const empty = await newStore(sql);
      const before = await rowsOf(sql, empty);
      const dry = await empty.transfer.import(document, { dry_run: true });
      expect(dry).toMatchObject({ ...all("added"), letterhead: "taken", renumbered_quotes: [] });
      expect(await rowsOf(sql, empty)).toEqual(before);
      expect(await empty.transfer.import(document)).toEqual(dry);
      expect(await rowsOf(sql, empty)).toEqual(await rowsOf(sql, store));
      expect(await empty.quotes.list(vehicle)).toEqual(await store.quotes.list(vehicle));
      expect(await empty.priceBooks.list()).toEqual(await store.priceBooks.list());
      expect(await empty.letterheads.get()).toEqual(await store.letterheads.get());
      expect(await empty.fleet.locks()).toEqual(new Map([[vehicle, { repair: "must", year: null }]]));
      expect(await writtenQuote(empty, vehicle)).toEqual(await writtenQuote(store, vehicle));
    });

    test("are not added a second time", async () => {
      const { store } = await whole();
      const before = await rowsOf(sql, store);
      const report = await store.transfer.import(sent(await store.transfer.export()));
      expect(report).toMatchObject({ ...all("same"), letterhead: "same", renumbered_quotes: [] });
      expect(await rowsOf(sql, store)).toEqual(before);
    });

    test("a customer's link does not travel: it opens the first quote, and the copy needs a new one", async () => {
      const { store, sent: id, token } = await whole();
      const text = JSON.stringify(await store.transfer.export());
      expect(text).not.toContain(token);
      expect(text).not.toContain(await sha256Hex(token));
      const copy = await newStore(sql);
      await copy.transfer.import(sent(JSON.parse(text)));
      expect(await copy.quotes.get(id)).toEqual(await store.quotes.get(id));
      await store.transfer.import(sent(await copy.transfer.export()));
      await decideQuote({ sql, now: testClock() }, token, { option: null, name: "Robin", keep_years: 5 }, "2026-05-02");
      expect((await store.quotes.get(id)).status).toBe("declined");
      expect((await copy.quotes.get(id)).status).toBe("sent");
      expect(await offeredQuote({ sql }, await copy.quotes.newLink(id))).toMatchObject({ status: "sent" });
    });

    test("that came in cannot be changed either", async () => {
      const { store, sent: id } = await whole();
      const copy = await newStore(sql);
      await copy.transfer.import(sent(await store.transfer.export()));
      const of_copy = [copy.workspaceId, id];
      for (const change of ["UPDATE quotes SET valid_until = '2030-01-01'", "DELETE FROM quotes"])
        await expect(sql.all(`${change} WHERE workspace_id = ? AND id = ?`, of_copy), change).rejects.toThrow();
    });

    test("that differ stay ours and are named", async () => {
      const { store, vehicle, sent: id } = await whole();
      const document = sent(await store.transfer.export());
      await store.quotes.withdraw(id, 4);
      await store.priceBooks.update("retail", 1, { ...RETAIL_BOOK, name: "Dearer" });
      await store.letterheads.update({ ...LETTERHEAD, shop: "Another" }, 1);
      await store.fleet.lock(vehicle, { repair: "must-not", year: 2026 });
      const before = await rowsOf(sql, store);
      expect(await store.transfer.import(document, { take_vehicles: true })).toMatchObject({
        price_books: { added: 0, same: 1, differing: 1 },
        quotes: { added: 0, same: 4, differing: 1 },
        fleet_locks: { added: 0, same: 0, differing: 1 },
        letterhead: "kept",
        differing_vehicles: [{ id: vehicle, label: VAN.label }],
        differing_books: [{ id: "retail", name: "Dearer" }],
      });
      expect(await rowsOf(sql, store)).toEqual(before);
    });

    test("a quote whose number is taken gets the next free one, once; what was sent keeps its own", async () => {
      const from = await newStore(sql);
      const { id: van } = await from.vehicles.create(VAN, { charge_log: [CAN] });
      const { content, snapshot } = await writtenQuote(from, van);
      const { id: first } = await from.quotes.create(van, content);
      await from.quotes.send(first, 1, { content, snapshot });
      const { id: second } = await from.quotes.create(van, content);
      const into = await newStore(sql);
      const { id: truck } = await into.vehicles.create(TRUCK);
      await into.quotes.create(truck, content);
      const document = sent(await from.transfer.export());
      expect(await into.transfer.import(document)).toMatchObject({
        quotes: { ...NOTHING, added: 2 },
        renumbered_quotes: [{ number: 1, becomes: 3 }],
      });
      expect((await into.quotes.get(first)).number).toBe(3);
      expect((await into.quotes.get(first)).snapshot!.number).toBe(1);
      expect((await into.quotes.get(second)).number).toBe(2);
      expect(await into.transfer.import(document)).toMatchObject({
        quotes: { ...NOTHING, same: 2 },
        renumbered_quotes: [],
      });
    });
  });

  test("export, then import into an empty workspace, gives the same rows, history and all", async () => {
    const store = await filled();
    const empty = await newStore(sql);
    const report = await empty.transfer.import(sent(await store.transfer.export()));
    expect(report).toEqual({
      settings: "taken",
      vehicles: { ...NOTHING, added: 2 },
      charge_log: { ...NOTHING, added: 6 },
      findings: { ...NOTHING, added: 1 },
      readings: { ...NOTHING, added: 2 },
      notes: { ...NOTHING, added: HARD_TEXTS.length },
      ...NOTHING_ELSE,
    } satisfies ImportReport);
    expect(await rowsOf(sql, empty)).toEqual(await rowsOf(sql, store));
  });

  test("the same vehicles put the same questions to the model, and are found by the same words", async () => {
    const store = await filled();
    const empty = await newStore(sql);
    await empty.transfer.import(sent(await store.transfer.export()));
    for (const { id } of (await store.vehicles.list()).items) {
      const question = async (from: WorkspaceStore) => assessRequestOf(await from.record(id), "2026-05-01", () => null);
      expect(await question(empty)).toEqual(await question(store));
    }
    expect(await empty.vehicles.count({ search: "שלום" })).toBe(1);
  });

  test("the same document a second time adds nothing", async () => {
    const store = await filled();
    const document = sent(await store.transfer.export());
    const before = await rowsOf(sql, store);
    expect(await store.transfer.import(document)).toEqual({
      settings: "same",
      vehicles: { ...NOTHING, same: 2 },
      charge_log: { ...NOTHING, same: 6 },
      findings: { ...NOTHING, same: 1 },
      readings: { ...NOTHING, same: 2 },
      notes: { ...NOTHING, same: HARD_TEXTS.length },
      ...NOTHING_ELSE,
    });
    expect(await rowsOf(sql, store)).toEqual(before);
  });

  test("a dry run tells what would happen, and changes nothing", async () => {
    const document = sent(await (await filled()).transfer.export());
    const empty = await newStore(sql);
    const before = await rowsOf(sql, empty);
    const dry = await empty.transfer.import(document, { dry_run: true });
    expect(await rowsOf(sql, empty)).toEqual(before);
    expect(await empty.transfer.import(document)).toEqual(dry);
  });

  test("what was added since on either side comes together", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    await copy.chargeLog.add(van.id, { ...CAN, added_g: 50 });
    await store.chargeLog.add(van.id, { ...CAN, added_g: 60 });
    const report = await store.transfer.import(sent(await copy.transfer.export()));
    expect(report.charge_log).toEqual({ added: 1, same: 1, differing: 0 });
    const grams = (await store.chargeLog.list(van.id)).map(({ added_g }) => added_g);
    expect(new Set(grams)).toEqual(new Set([340, 50, 60]));
  });

  test("a correction made elsewhere arrives as the newer line", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    const [line] = await copy.chargeLog.list(van.id);
    const corrected = await copy.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 300 });
    await store.transfer.import(sent(await copy.transfer.export()));
    expect(await store.chargeLog.list(van.id)).toEqual([corrected]);
  });

  test("where two copies corrected one entry, ours stays, theirs is reported, and nothing is built on top", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN, { charge_log: [CAN] });
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    const [line] = await copy.chargeLog.list(van.id);
    await copy.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 10 });
    await copy.chargeLog.correct(line!.id, 2, { ...CAN, added_g: 11 });
    const ours = await store.chargeLog.correct(line!.id, 1, { ...CAN, added_g: 20 });
    const report = await store.transfer.import(sent(await copy.transfer.export()));
    expect(report.charge_log).toEqual({ added: 0, same: 1, differing: 2 });
    expect(report.differing_vehicles).toEqual([{ id: van.id, label: VAN.label }]);
    expect(await store.chargeLog.list(van.id)).toEqual([ours]);
  });

  test("a vehicle that differs stays ours, or becomes theirs when the person says so", async () => {
    const store = await newStore(sql);
    const van = await store.vehicles.create(VAN);
    const copy = await newStore(sql);
    await copy.transfer.import(sent(await store.transfer.export()));
    await copy.vehicles.update(van.id, 1, TRUCK);
    const document = sent(await copy.transfer.export());
    const report = await store.transfer.import(document);
    expect(report).toMatchObject({
      vehicles: { differing: 1 },
      differing_vehicles: [{ id: van.id, label: VAN.label }],
    });
    expect(await store.vehicles.get(van.id)).toEqual(van);
    await store.transfer.import(document, { take_vehicles: true });
    expect(await store.vehicles.get(van.id)).toMatchObject({ ...TRUCK, version: 2 });
    expect((await store.transfer.import(document)).vehicles).toEqual({ added: 0, same: 1, differing: 0 });
    expect(await store.vehicles.count({ search: "truck" })).toBe(1);
  });

  test("settings that someone has set are kept", async () => {
    const store = await filled();
    const other = await newStore(sql);
    const set = await other.settings.update({ ...DEFAULT_SETTINGS, name: "Mine" }, 1);
    expect(await other.transfer.import(sent(await store.transfer.export()))).toMatchObject({ settings: "kept" });
    expect(await other.settings.get()).toEqual(set);
  });

  test("an import that meets another writer adds nothing and can be repeated", async () => {
    const document = sent(await (await filled()).transfer.export());
    const empty = await newStore(sql);
    const both = await Promise.allSettled([empty.transfer.import(document), empty.transfer.import(document)]);
    expect(both.filter(({ status }) => status === "fulfilled").length).toBeGreaterThanOrEqual(1);
    for (const attempt of both)
      if (attempt.status === "rejected") expect(attempt.reason).toMatchObject({ code: "changed" });
    expect((await empty.transfer.import(document)).charge_log).toEqual({ ...NOTHING, same: 6 });
  });

  test("a document whose lines hang in the air is refused whole by the tables too", async () => {
    const document = await (await filled()).transfer.export();
    const empty = await newStore(sql);
    const lines = document.charge_log.filter(({ version }) => version !== 1);
    await expect(empty.transfer.import({ ...document, charge_log: lines })).rejects.toThrow();
    expect(await empty.vehicles.count()).toBe(0);
  });

  test("charges gives the entries that hold now, by vehicle and date", async () => {
    const store = await filled();
    const charges = (await store.transfer.charges()).map(({ label, date, added_g, nameplate_g }) => [
      label,
      date,
      added_g,
      nameplate_g,
    ]);
    expect(charges).toEqual([
      ["Truck 7", "2026-04-20", 12 * 28.349523125, 1234.5],
      ["Van 2", "2026-04-20", 340, 650],
    ]);
  });

  test("several thousand lines go in as one change", async () => {
    const store = await newStore(sql);
    const body = "x".repeat(500);
    const charge_log = Array.from({ length: 200 }, () => ({ ...CAN, note: body }));
    const { id } = await store.vehicles.create(VAN, { charge_log });
    const document = sent(await store.transfer.export());
    const many = Array.from({ length: 20 }, (_, v) => v).flatMap((v) =>
      document.charge_log.map((line) => ({ ...line, id: `${line.id}-${v}`, vehicle_id: `${id}-${v}` })),
    );
    const vehicles = Array.from({ length: 20 }, (_, v) => ({ ...document.vehicles[0]!, id: `${id}-${v}` }));
    const big = await newStore(sql);
    const report = await big.transfer.import(sent({ ...document, vehicles, charge_log: many }));
    expect(report.charge_log).toEqual({ ...NOTHING, added: 4000 });
    expect(await big.chargeLog.list(`${id}-19`)).toHaveLength(200);
  });
});

test("any text and any amount survive the round trip", async () => {
  const { start } = engines[0]!;
  const { sql, close } = await start();
  expect(sql).toBeInstanceOf(NodeSql);
  const text = fc.string({ unit: "binary", minLength: 1, maxLength: 40 });
  const amount = fc.option(fc.double({ min: 0, max: 60_000, noNaN: true }));
  const entry: fc.Arbitrary<ChargeEntryInput> = fc.record({
    date: fc.constant("2026-04-20"),
    added_g: amount,
    recovered_g: amount,
    note: fc.option(text, { nil: null }),
  });
  await fc.assert(
    fc.asyncProperty(
      text,
      fc.array(entry, { maxLength: 5 }),
      fc.array(text, { maxLength: 3 }),
      async (label, log, bodies) => {
        fc.pre([label, ...bodies].every((body) => body.replaceAll("\0", "") !== ""));
        const store = await newStore(sql);
        await store.vehicles.create({ ...VAN, label }, { charge_log: log, notes: bodies.map((body) => ({ body })) });
        const empty = await newStore(sql);
        await empty.transfer.import(sent(await store.transfer.export()));
        expect(await rowsOf(sql, empty)).toEqual(await rowsOf(sql, store));
      },
    ),
    { numRuns: 300 },
  );
  await close();
});
