import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { sha256Hex } from "../../../src/store/hash.ts";
import { decideQuote, offeredQuote } from "../../../src/store/offered-quote.ts";
import { engines, testClock } from "../engines.ts";
import { CAN, TRUCK, VAN } from "../samples.ts";

import { LETTERHEAD, NOTHING, rowsOf, sent, TransferDatabase, writtenQuote } from "./transfer-database.ts";

describe.each(engines)("price books, letterhead, quotes and fleet choices of an export on $name", ({ start }) => {
  const database = new TransferDatabase(start);

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
    fleet_terms: 1,
    fleet_logged: 1,
    external_ids: 2,
    imports: 1,
    import_rows: 2,
    entry_orders: 1,
    import_mappings: 1,
  };
  const all = (what: keyof typeof NOTHING) =>
    Object.fromEntries(Object.entries(HELD).map(([name, count]) => [name, { ...NOTHING, [what]: count }]));

  test("go into an empty workspace as they were, after a dry run that says so", async () => {
    const { store, vehicle } = await database.whole();
    const document = sent(await store.transfer.export());
    expect(document.quotes.map(({ status }) => status)).toEqual(["withdrawn", "accepted", "declined", "sent", "draft"]);
    const empty = await database.newStore();
    const before = await rowsOf(database.sql, empty);
    const dry = await empty.transfer.import(document, { dry_run: true });
    expect(dry).toMatchObject({ ...all("added"), letterhead: "taken", renumbered_quotes: [] });
    expect(await rowsOf(database.sql, empty)).toEqual(before);
    expect(await empty.transfer.import(document)).toEqual(dry);
    expect(await rowsOf(database.sql, empty)).toEqual(await rowsOf(database.sql, store));
    expect(await empty.quotes.list(vehicle)).toEqual(await store.quotes.list(vehicle));
    expect(await empty.priceBooks.list()).toEqual(await store.priceBooks.list());
    expect(await empty.letterheads.get()).toEqual(await store.letterheads.get());
    expect(await empty.fleet.locks()).toEqual(new Map([[vehicle, { repair: "must", year: null }]]));
    expect(await writtenQuote(empty, vehicle)).toEqual(await writtenQuote(store, vehicle));
  });

  test("an import can still be taken back there, and the rows of its file did not travel", async () => {
    const { store } = await database.whole();
    const document = sent(await store.transfer.export());
    expect(JSON.stringify(document)).not.toContain("secret cells");
    const copy = await database.newStore();
    await copy.transfer.import(document);
    const [taken] = await copy.imports.list();
    expect(taken).toMatchObject({ files: [{ name: "May.csv" }], taken_by: "tester", undone: null });
    await copy.imports.undo(taken!.id);
    expect((await copy.imports.get(taken!.id)).undone).toMatchObject({ entries_removed: 1, vehicles_removed: 1 });
  });

  test("are not added a second time", async () => {
    const { store } = await database.whole();
    const before = await rowsOf(database.sql, store);
    const report = await store.transfer.import(sent(await store.transfer.export()));
    expect(report).toMatchObject({ ...all("same"), letterhead: "same", renumbered_quotes: [] });
    expect(await rowsOf(database.sql, store)).toEqual(before);
  });

  test("a customer's link does not travel: it opens the first quote, and the copy needs a new one", async () => {
    const { store, sent: id, token } = await database.whole();
    const text = JSON.stringify(await store.transfer.export());
    expect(text).not.toContain(token);
    expect(text).not.toContain(await sha256Hex(token));
    const copy = await database.newStore();
    await copy.transfer.import(sent(JSON.parse(text)));
    expect(await copy.quotes.get(id)).toEqual(await store.quotes.get(id));
    await store.transfer.import(sent(await copy.transfer.export()));
    await decideQuote(
      { sql: database.sql, now: testClock() },
      token,
      { option: null, name: "Robin", keep_years: 5 },
      "2026-05-02",
    );
    expect((await store.quotes.get(id)).status).toBe("declined");
    expect((await copy.quotes.get(id)).status).toBe("sent");
    expect(await offeredQuote({ sql: database.sql }, await copy.quotes.newLink(id))).toMatchObject({ status: "sent" });
  });

  test("that came in cannot be changed either", async () => {
    const { store, sent: id } = await database.whole();
    const copy = await database.newStore();
    await copy.transfer.import(sent(await store.transfer.export()));
    const of_copy = [copy.workspaceId, id];
    for (const change of ["UPDATE quotes SET valid_until = '2030-01-01'", "DELETE FROM quotes"])
      await expect(database.sql.all(`${change} WHERE workspace_id = ? AND id = ?`, of_copy), change).rejects.toThrow();
  });

  test("that differ stay ours and are named", async () => {
    const { store, vehicle, sent: id } = await database.whole();
    const document = sent(await store.transfer.export());
    await store.quotes.withdraw(id, 4);
    await store.priceBooks.update("retail", 1, { ...RETAIL_BOOK, name: "Dearer" });
    await store.letterheads.update({ ...LETTERHEAD, shop: "Another" }, 1);
    await store.fleet.lock(vehicle, { repair: "must-not", year: 2026 });
    const before = await rowsOf(database.sql, store);
    expect(await store.transfer.import(document, { take_vehicles: true })).toMatchObject({
      price_books: { added: 0, same: 1, differing: 1 },
      quotes: { added: 0, same: 4, differing: 1 },
      fleet_locks: { added: 0, same: 0, differing: 1 },
      letterhead: "kept",
      differing_vehicles: [{ id: vehicle, label: VAN.label }],
      differing_books: [{ id: "retail", name: "Dearer" }],
    });
    expect(await rowsOf(database.sql, store)).toEqual(before);
  });

  test("a quote whose number is taken gets the next free one, once; what was sent keeps its own", async () => {
    const from = await database.newStore();
    const { id: van } = await from.vehicles.create(VAN, { charge_log: [CAN] });
    const { content, snapshot } = await writtenQuote(from, van);
    const { id: first } = await from.quotes.create(van, content);
    await from.quotes.send(first, 1, { content, snapshot });
    const { id: second } = await from.quotes.create(van, content);
    const into = await database.newStore();
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
