import { describe, expect, test } from "vitest";
import { FLEET_BOOK, RETAIL_BOOK } from "../../../data/price-book.ts";
import { NOTHING_AGREED } from "../../../src/core/quotes/agreement.ts";
import { BLANK_LETTERHEAD } from "../../../src/core/quotes/quote-document.ts";
import { decideQuote } from "../../../src/store/offered-quote.ts";
import type { Role } from "../../../src/store/roles.ts";
import { type WorkspaceStore, workspaceStore } from "../../../src/store/workspace-store.ts";
import { engines, random, testClock } from "../engines.ts";
import { CONTENT } from "../quote-samples.ts";
import { VAN } from "../samples.ts";
import { DONE, LAST_DAY, QuoteDatabase, SENT, YES } from "./quote-database.ts";

interface Ids {
  vehicle: string;
  book: string;
  draft: string;
  sent: string;
  accepted: string;
}

/** Every method that takes an id. */
const BY_ID: [name: string, call: (store: WorkspaceStore, ids: Ids) => Promise<unknown>][] = [
  ["priceBooks.get", (store, { book }) => store.priceBooks.get(book)],
  ["priceBooks.update", (store, { book }) => store.priceBooks.update(book, 1, FLEET_BOOK)],
  ["priceBooks.archive", (store, { book }) => store.priceBooks.archive(book, 1)],
  ["priceBooks.restore", (store, { book }) => store.priceBooks.restore(book, 1)],
  ["quotes.list", (store, { vehicle }) => store.quotes.list(vehicle)],
  ["quotes.get", (store, { draft }) => store.quotes.get(draft)],
  ["quotes.create", (store, { vehicle }) => store.quotes.create(vehicle, CONTENT)],
  ["quotes.create for an earlier one", (store, { vehicle, sent }) => store.quotes.create(vehicle, CONTENT, sent)],
  ["quotes.update", (store, { draft }) => store.quotes.update(draft, 1, { ...CONTENT, note: "x" })],
  ["quotes.discard", (store, { draft }) => store.quotes.discard(draft, 1)],
  ["quotes.send", (store, { draft }) => store.quotes.send(draft, 1, SENT)],
  ["quotes.newLink", (store, { sent }) => store.quotes.newLink(sent)],
  ["quotes.withdraw", (store, { sent }) => store.quotes.withdraw(sent, 2)],
  [
    "quotes.recordAnswer",
    (store, { sent }) => store.quotes.recordAnswer(sent, 2, { option: null, name: "R", keep_years: 5, how: "phone" }),
  ],
  ["quotes.agree", (store, { accepted }) => store.quotes.agree(accepted, 3, NOTHING_AGREED)],
  ["quotes.takeBackAnswer", (store, { accepted }) => store.quotes.takeBackAnswer(accepted, 3)],
  ["quotes.logWork", (store, { accepted }) => store.quotes.logWork(accepted, 3, DONE)],
];

/** Every other method that changes something. */
const CHANGING: typeof BY_ID = [
  ["priceBooks.create", (store) => store.priceBooks.create(FLEET_BOOK)],
  ["priceBooks.update of an invented one", (store) => store.priceBooks.update("retail", 0, FLEET_BOOK)],
  ["letterheads.update", (store) => store.letterheads.update(BLANK_LETTERHEAD, 0)],
];

describe.each(engines)("price books and quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);

  async function everything(): Promise<{ store: WorkspaceStore; ids: Ids }> {
    const { store, vehicle } = await database.storeWithVehicle();
    const [draft, sent, accepted] = [
      await store.quotes.create(vehicle, CONTENT),
      await store.quotes.create(vehicle, CONTENT),
      await store.quotes.create(vehicle, CONTENT),
    ];
    await store.quotes.send(sent.id, 1, SENT);
    const { token } = await store.quotes.send(accepted.id, 1, SENT);
    await decideQuote(database.edge(), token!, YES, LAST_DAY);
    const book = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
    return { store, ids: { vehicle, book: book.id, draft: draft.id, sent: sent.id, accepted: accepted.id } };
  }

  async function stateOf(store: WorkspaceStore, ids: Ids): Promise<unknown> {
    const quotes = await Promise.all([ids.draft, ids.sent, ids.accepted].map((id) => store.quotes.get(id)));
    return [
      quotes,
      await store.priceBooks.list(),
      await store.letterheads.get(),
      await store.quotes.list(ids.vehicle),
      await store.chargeLog.list(ids.vehicle),
    ];
  }

  describe("who may what", () => {
    test("the tables of methods leave none out", async () => {
      const store = await database.newStore();
      const named = new Set([...BY_ID, ...CHANGING].map(([name]) => name.split(" ")[0]));
      const reading = [
        "priceBooks.list",
        "priceBooks.own",
        "priceBooks.retired",
        "letterheads.get",
        "quotes.recent",
        "quotes.search",
        "quotes.ofCustomer",
        "quotes.open",
        "quotes.repairChecks",
      ];
      const methods = (["priceBooks", "letterheads", "quotes"] as const).flatMap((part) =>
        Object.getOwnPropertyNames(Object.getPrototypeOf(store[part])).map((method) => `${part}.${method}`),
      );
      expect(
        methods.filter((name) => !name.endsWith("constructor") && !named.has(name) && !reading.includes(name)),
      ).toEqual([]);
    });

    test("from another workspace, a guessed id finds nothing and changes nothing", async () => {
      const { store, ids } = await everything();
      const before = await stateOf(store, ids);
      const stranger = await database.newStore();
      for (const [name, call] of BY_ID)
        await expect(call(stranger, ids), name).rejects.toMatchObject({ code: "not-found" });
      expect(await stateOf(store, ids)).toEqual(before);
      expect(await stranger.quotes.recent()).toEqual([]);
      expect(await stranger.quotes.open(10)).toEqual([]);
      expect(await stranger.quotes.repairChecks()).toEqual([]);
    });

    test("a quote is not sent in place of another vehicle's", async () => {
      const { store, ids } = await everything();
      const { id } = await store.vehicles.create({ ...VAN, label: "Van 3" });
      await expect(store.quotes.create(id, CONTENT, ids.sent)).rejects.toMatchObject({ code: "not-found" });
    });

    test("a viewer reads all and changes nothing", async () => {
      const { store, ids } = await everything();
      const { workspaceId } = store;
      const role: Role = "viewer";
      const viewer = workspaceStore({ sql: database.sql, workspaceId, role, actor: role, now: testClock(), random });
      const before = await stateOf(store, ids);
      const reading = /\.(?:get|list)\b/;
      for (const [name, call] of [...BY_ID.filter(([method]) => !reading.test(method)), ...CHANGING])
        await expect(call(viewer, ids), name).rejects.toMatchObject({ code: "forbidden" });
      expect(await stateOf(viewer, ids)).toEqual(before);
    });
  });
});
