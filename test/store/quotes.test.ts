import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { FLEET_BOOK, RETAIL_BOOK } from "../../data/price-book.ts";
import { BLANK_LETTERHEAD } from "../../src/core/quotes/quote-document.ts";
import { decideQuote, offeredQuote } from "../../src/store/offered-quote.ts";
import type { Quote } from "../../src/store/quote-row.ts";
import type { Role } from "../../src/store/roles.ts";
import type { Sql } from "../../src/store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../src/store/workspace-store.ts";
import { engines, newStore, random, testClock } from "./engines.ts";
import { CONTENT, SNAPSHOT } from "./quote-samples.ts";
import { CAN, DYE_CLEAN, VAN } from "./samples.ts";

const SENT = { content: CONTENT, snapshot: SNAPSHOT };
const LAST_DAY = SNAPSHOT.valid_until;
const DAY_AFTER = "2026-06-01";
const YES = { option: "b", name: "Robin Ames", keep_years: 6 };

interface Ids {
  vehicle: string;
  book: string;
  draft: string;
  sent: string;
  accepted: string;
}

const WORK = { date: "2026-05-02", option: "b", follow_up_on: "2026-11-02" };
const DONE = { work: WORK, charge_log: [{ ...CAN, repair: "hose" as const }], findings: [DYE_CLEAN] };

/** Every method that takes an id. */
const BY_ID: [name: string, call: (store: WorkspaceStore, ids: Ids) => Promise<unknown>][] = [
  ["priceBooks.get", (store, { book }) => store.priceBooks.get(book)],
  ["priceBooks.update", (store, { book }) => store.priceBooks.update(book, 1, FLEET_BOOK)],
  ["priceBooks.archive", (store, { book }) => store.priceBooks.archive(book, 1)],
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
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  const edge = () => ({ sql, now: testClock() });

  async function storeWithVehicle() {
    const store = await newStore(sql);
    const { id: vehicle } = await store.vehicles.create(VAN, { charge_log: [CAN] });
    return { store, vehicle };
  }

  async function sentQuote() {
    const { store, vehicle } = await storeWithVehicle();
    const draft = await store.quotes.create(vehicle, CONTENT);
    const { quote, token } = await store.quotes.send(draft.id, 1, SENT);
    return { store, vehicle, quote, token: token! };
  }

  async function everything(): Promise<{ store: WorkspaceStore; ids: Ids }> {
    const { store, vehicle } = await storeWithVehicle();
    const [draft, sent, accepted] = [
      await store.quotes.create(vehicle, CONTENT),
      await store.quotes.create(vehicle, CONTENT),
      await store.quotes.create(vehicle, CONTENT),
    ];
    await store.quotes.send(sent.id, 1, SENT);
    const { token } = await store.quotes.send(accepted.id, 1, SENT);
    await decideQuote(edge(), token!, YES, LAST_DAY);
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

  describe("price books", () => {
    test("a workspace begins with invented ones, and saving one makes it its own", async () => {
      const store = await newStore(sql);
      const before = await store.priceBooks.list();
      expect(before.map(({ id, invented, version }) => [id, invented, version])).toEqual([
        ["fleet", true, 0],
        ["retail", true, 0],
      ]);
      const own = { ...RETAIL_BOOK, labor_rate_micro: 95_000_000 };
      expect(await store.priceBooks.update("retail", 0, own)).toMatchObject({
        id: "retail",
        book: own,
        invented: false,
        version: 1,
        updated_by: "tester",
      });
      expect((await store.priceBooks.list()).map(({ id, invented }) => [id, invented])).toEqual([
        ["fleet", true],
        ["retail", false],
      ]);
    });

    test("of two tabs, the second is told what the first saved", async () => {
      const store = await newStore(sql);
      const first = await store.priceBooks.update("retail", 0, FLEET_BOOK);
      await expect(store.priceBooks.update("retail", 0, RETAIL_BOOK)).rejects.toMatchObject({
        code: "changed",
        current: first,
      });
      const second = await store.priceBooks.update("retail", 1, RETAIL_BOOK);
      expect(second.version).toBe(2);
      await expect(store.priceBooks.update("retail", 1, FLEET_BOOK)).rejects.toMatchObject({ current: second });
    });

    test("a double click makes one book", async () => {
      const store = await newStore(sql);
      const [first, second] = await Promise.all([1, 2].map(() => store.priceBooks.create(FLEET_BOOK, "key")));
      expect(second).toEqual(first);
      expect(await store.priceBooks.list()).toHaveLength(3);
    });

    test("an archived book leaves the list, an invented one too, and can still be read", async () => {
      const store = await newStore(sql);
      await store.priceBooks.archive("fleet", 0);
      const { id } = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
      await store.priceBooks.archive(id, 1);
      expect((await store.priceBooks.list()).map((one) => one.id)).toEqual(["retail"]);
      expect((await store.priceBooks.get(id)).archived_at).not.toBeNull();
    });

    test("an id that every object has is no book", async () => {
      const store = await newStore(sql);
      await expect(store.priceBooks.get("constructor")).rejects.toMatchObject({ code: "not-found" });
      await expect(store.priceBooks.update("constructor", 0, RETAIL_BOOK)).rejects.toMatchObject({ code: "not-found" });
    });
  });

  test("the letterhead is blank, then what was said last, in order", async () => {
    const store = await newStore(sql);
    expect(await store.letterheads.get()).toEqual({ letterhead: BLANK_LETTERHEAD, version: 0 });
    const ours = { ...BLANK_LETTERHEAD, shop: "North Yard Cooling", number_format: "1.234,56" as const };
    expect(await store.letterheads.update(ours, 0, "key")).toEqual({ letterhead: ours, version: 1 });
    expect(await store.letterheads.update(ours, 0, "key")).toEqual({ letterhead: ours, version: 1 });
    await expect(store.letterheads.update(BLANK_LETTERHEAD, 0)).rejects.toMatchObject({ code: "changed" });
  });

  describe("a draft", () => {
    test("numbers count up in a workspace, and each has its own", async () => {
      const { store, vehicle } = await storeWithVehicle();
      const quotes: Quote[] = [];
      for (let i = 0; i < 3; i++) quotes.push(await store.quotes.create(vehicle, CONTENT));
      expect(quotes.map(({ number }) => number)).toEqual([1, 2, 3]);
      const other = await storeWithVehicle();
      expect((await other.store.quotes.create(other.vehicle, CONTENT)).number).toBe(1);
      expect((await store.quotes.list(vehicle)).map(({ number }) => number)).toEqual([3, 2, 1]);
      expect((await store.quotes.recent()).map(({ vehicle_label }) => vehicle_label)).toEqual(Array(3).fill("Van 2"));
    });

    test("is stored as it was written, changed, and thrown away", async () => {
      const { store, vehicle } = await storeWithVehicle();
      const draft = await store.quotes.create(vehicle, CONTENT);
      expect(draft).toMatchObject({ status: "draft", content: CONTENT, snapshot: null, version: 1 });
      const changed = await store.quotes.update(draft.id, 1, { ...CONTENT, note: "Brakes are fine." });
      expect(changed).toMatchObject({ content: { note: "Brakes are fine." }, version: 2 });
      await expect(store.quotes.update(draft.id, 1, CONTENT)).rejects.toMatchObject({
        code: "changed",
        current: changed,
      });
      await expect(store.quotes.discard(draft.id, 1)).rejects.toMatchObject({ code: "changed" });
      await store.quotes.discard(draft.id, 2);
      await expect(store.quotes.get(draft.id)).rejects.toMatchObject({ code: "not-found" });
    });

    test("a double click makes one", async () => {
      const { store, vehicle } = await storeWithVehicle();
      const make = () => store.quotes.create(vehicle, CONTENT, null, "key");
      const [first, second] = await Promise.all([make(), make()]);
      expect(second).toEqual(first);
      expect(await store.quotes.list(vehicle)).toHaveLength(1);
    });

    test("has no link, and none can be made", async () => {
      const { store, vehicle } = await storeWithVehicle();
      const { id } = await store.quotes.create(vehicle, CONTENT);
      await expect(store.quotes.newLink(id)).rejects.toMatchObject({ code: "invalid" });
    });
  });

  describe("a quote that was sent", () => {
    test("is opened by its token, and by nothing else", async () => {
      const { quote, token } = await sentQuote();
      expect(token).toMatch(/^[\w-]{43,86}$/);
      expect(await offeredQuote({ sql }, token)).toEqual({
        status: "sent",
        snapshot: SNAPSHOT,
        decided_at: null,
        decided_name: null,
        decided_option: null,
        newer_number: null,
        time_zone: "UTC",
      });
      for (const wrong of ["", quote.id, token.slice(1), token.toLowerCase(), `${token} `])
        expect(await offeredQuote({ sql }, wrong)).toBeNull();
      const [row] = await sql.all<{ token_hash: string }>("SELECT token_hash FROM quotes WHERE id = ?", [quote.id]);
      expect(row!.token_hash).toMatch(/^[0-9a-f]{64}$/);
      expect(row!.token_hash).not.toContain(token);
    });

    test("a double click sends once; the token is given once", async () => {
      const { store, vehicle } = await storeWithVehicle();
      const { id } = await store.quotes.create(vehicle, CONTENT);
      const first = await store.quotes.send(id, 1, SENT, "key");
      const again = await store.quotes.send(id, 1, SENT, "key");
      expect(again).toEqual({ quote: first.quote, token: null });
      expect(await offeredQuote({ sql }, first.token!)).not.toBeNull();
    });

    test("is not changed any more, by no way in", async () => {
      const { store, quote } = await sentQuote();
      await expect(store.quotes.update(quote.id, quote.version, CONTENT)).rejects.toMatchObject({ code: "changed" });
      await expect(store.quotes.send(quote.id, quote.version, SENT)).rejects.toMatchObject({ code: "changed" });
      await expect(store.quotes.discard(quote.id, quote.version)).rejects.toMatchObject({ code: "changed" });
      for (const change of [
        "snapshot = json_set(snapshot, '$.note', 'other')",
        "content = json_set(content, '$.note', 'other')",
        "valid_until = '2030-01-01'",
        "number = 99",
        "sent_at = '2020-01-01T00:00:00.000Z'",
      ])
        await expect(sql.all(`UPDATE quotes SET ${change} WHERE id = ?`, [quote.id]), change).rejects.toThrow();
      await expect(sql.all("DELETE FROM quotes WHERE id = ?", [quote.id])).rejects.toThrow();
      expect(await store.quotes.get(quote.id)).toEqual(quote);
    });

    test("keeps its prices when the book, the vehicle and the letterhead change", async () => {
      const { store, vehicle, quote, token } = await sentQuote();
      await store.priceBooks.update("retail", 0, { ...RETAIL_BOOK, labor_rate_micro: 1 });
      await store.letterheads.update({ ...BLANK_LETTERHEAD, shop: "Another" }, 0);
      await store.vehicles.update(vehicle, 1, { ...VAN, label: "Renamed", nameplate_g: 900 });
      expect((await offeredQuote({ sql }, token))!.snapshot).toEqual(SNAPSHOT);
      expect((await store.quotes.get(quote.id)).content).toEqual(CONTENT);
    });

    test("a new link ends the one before", async () => {
      const { store, quote, token } = await sentQuote();
      const next = await store.quotes.newLink(quote.id);
      expect(await offeredQuote({ sql }, token)).toBeNull();
      expect((await offeredQuote({ sql }, next))!.snapshot).toEqual(SNAPSHOT);
      expect(await decideQuote(edge(), token, YES, LAST_DAY)).toBeNull();
    });

    test("sent in place of an earlier one, it withdraws that one", async () => {
      const { store, vehicle, quote: first, token } = await sentQuote();
      const second = await store.quotes.create(vehicle, CONTENT, first.id);
      expect((await offeredQuote({ sql }, token))!.status).toBe("sent");
      await store.quotes.send(second.id, 1, SENT);
      expect((await offeredQuote({ sql }, token))!.status).toBe("withdrawn");
      expect(await store.quotes.get(first.id)).toMatchObject({ status: "withdrawn", withdrawn_by: "tester" });
    });

    test("… unless it was accepted before: a yes stands", async () => {
      const { store, vehicle, quote: first, token } = await sentQuote();
      const second = await store.quotes.create(vehicle, CONTENT, first.id);
      await decideQuote(edge(), token, YES, LAST_DAY);
      await store.quotes.send(second.id, 1, SENT);
      expect(await store.quotes.get(first.id)).toMatchObject({ status: "accepted" });
    });
  });

  describe("what the customer says", () => {
    test("a yes is written down with option, name, years and time", async () => {
      const { store, quote, token } = await sentQuote();
      const said = await decideQuote(edge(), token, YES, LAST_DAY);
      expect(said).toMatchObject({ decided: true, offered: { status: "accepted", decided_option: "b" } });
      expect(await store.quotes.get(quote.id)).toMatchObject({
        status: "accepted",
        decided_option: "b",
        decided_name: "Robin Ames",
        decided_keep_years: 6,
        decided_at: expect.stringMatching(/^2026-05-01T12:/),
        version: quote.version + 1,
      });
      expect((await store.quotes.list(quote.vehicle_id))[0]).toMatchObject({
        status: "accepted",
        decided_name: "Robin Ames",
        decided_title: "Replace the leaking hose",
      });
    });

    test("a no, too", async () => {
      const { store, quote, token } = await sentQuote();
      await decideQuote(edge(), token, { ...YES, option: null }, LAST_DAY);
      expect(await store.quotes.get(quote.id)).toMatchObject({ status: "declined", decided_option: null });
    });

    test("twice is once: the first stands", async () => {
      const { store, quote, token } = await sentQuote();
      await decideQuote(edge(), token, YES, LAST_DAY);
      const accepted = await store.quotes.get(quote.id);
      for (const next of [YES, { ...YES, option: "a" }, { ...YES, option: null, name: "Someone else" }])
        expect(await decideQuote(edge(), token, next, LAST_DAY)).toMatchObject({
          decided: false,
          offered: { status: "accepted", decided_option: "b", decided_name: "Robin Ames" },
        });
      expect(await store.quotes.get(quote.id)).toEqual(accepted);
    });

    test("of many at once, exactly one is taken", async () => {
      const { store, quote, token } = await sentQuote();
      const said = await Promise.all(
        Array.from({ length: 12 }, (_, i) =>
          decideQuote(edge(), token, { ...YES, option: i % 3 === 0 ? null : "b", name: `Person ${i}` }, LAST_DAY),
        ),
      );
      const taken = said.filter((one) => one!.decided);
      expect(taken).toHaveLength(1);
      const stored = await store.quotes.get(quote.id);
      for (const one of said) expect(one!.offered.decided_name).toBe(stored.decided_name);
      expect(stored.version).toBe(quote.version + 1);
    });

    test("on the last day it counts, after it nothing changes", async () => {
      const { store, quote, token } = await sentQuote();
      expect(await decideQuote(edge(), token, YES, DAY_AFTER)).toMatchObject({
        decided: false,
        offered: { status: "sent" },
      });
      expect(await store.quotes.get(quote.id)).toEqual(quote);
      expect(await decideQuote(edge(), token, YES, LAST_DAY)).toMatchObject({ decided: true });
    });

    test("after it was withdrawn nothing changes; after a yes it is not withdrawn", async () => {
      const { store, quote, token } = await sentQuote();
      await store.quotes.withdraw(quote.id, quote.version);
      expect(await decideQuote(edge(), token, YES, LAST_DAY)).toMatchObject({
        decided: false,
        offered: { status: "withdrawn" },
      });
      const other = await sentQuote();
      await decideQuote(edge(), other.token, YES, LAST_DAY);
      for (const version of [other.quote.version, other.quote.version + 1])
        await expect(other.store.quotes.withdraw(other.quote.id, version)).rejects.toMatchObject({
          code: "changed",
          current: { status: "accepted" },
        });
    });

    test("is not changed afterwards, by no way in", async () => {
      const { quote, token } = await sentQuote();
      await decideQuote(edge(), token, YES, LAST_DAY);
      for (const change of [
        "decided_option = 'a'",
        "decided_name = 'Other'",
        "status = 'sent', decided_at = NULL, decided_option = NULL",
        "status = 'withdrawn', withdrawn_at = 'x', decided_at = NULL, decided_option = NULL",
      ])
        await expect(sql.all(`UPDATE quotes SET ${change} WHERE id = ?`, [quote.id]), change).rejects.toThrow();
    });

    test("an unknown token says nothing", async () => {
      expect(await decideQuote(edge(), "unknown", YES, LAST_DAY)).toBeNull();
    });
  });

  describe("work after a yes", () => {
    test("entries, findings and the mark on the quote are one change, once", async () => {
      const { store, vehicle, quote, token } = await sentQuote();
      await decideQuote(edge(), token, YES, LAST_DAY);
      const done = await store.quotes.logWork(quote.id, quote.version + 1, DONE, "key");
      expect(done).toMatchObject({ status: "accepted", work: WORK, work_by: "tester" });
      expect(await store.quotes.logWork(quote.id, quote.version + 1, DONE, "key")).toEqual(done);
      await expect(store.quotes.logWork(quote.id, done.version, DONE)).rejects.toMatchObject({ code: "changed" });
      const { charge_log, findings } = await store.record(vehicle);
      expect(charge_log.map(({ repair }) => repair)).toEqual([null, "hose"]);
      expect(findings).toHaveLength(1);
      expect(charge_log[1]!.recorded_at).toBe(done.work_at);
    });

    test("of two at once, one is logged", async () => {
      const { store, vehicle, quote, token } = await sentQuote();
      await decideQuote(edge(), token, YES, LAST_DAY);
      const both = await Promise.allSettled([1, 2].map(() => store.quotes.logWork(quote.id, quote.version + 1, DONE)));
      expect(both.map(({ status }) => status).sort((a, b) => a.localeCompare(b))).toEqual(["fulfilled", "rejected"]);
      expect((await store.record(vehicle)).charge_log).toHaveLength(2);
    });

    test("nothing is logged for a quote that nobody accepted", async () => {
      const { store, vehicle, quote } = await sentQuote();
      await expect(store.quotes.logWork(quote.id, quote.version, DONE)).rejects.toMatchObject({ code: "changed" });
      expect((await store.record(vehicle)).charge_log).toHaveLength(1);
    });
  });

  test("an example goes with its quotes", async () => {
    const store = await newStore(sql);
    const { id } = await store.vehicles.create(VAN, { example: true, charge_log: [CAN] });
    const draft = await store.quotes.create(id, CONTENT);
    await store.quotes.send(draft.id, 1, SENT);
    expect(await store.vehicles.deleteExamples()).toBe(1);
    await expect(store.quotes.get(draft.id)).rejects.toMatchObject({ code: "not-found" });
  });

  describe("who may what", () => {
    test("the tables of methods leave none out", async () => {
      const store = await newStore(sql);
      const named = new Set([...BY_ID, ...CHANGING].map(([name]) => name.split(" ")[0]));
      const reading = [
        "priceBooks.list",
        "priceBooks.own",
        "letterheads.get",
        "quotes.recent",
        "quotes.search",
        "quotes.ofCustomer",
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
      const stranger = await newStore(sql);
      for (const [name, call] of BY_ID)
        await expect(call(stranger, ids), name).rejects.toMatchObject({ code: "not-found" });
      expect(await stateOf(store, ids)).toEqual(before);
      expect(await stranger.quotes.recent()).toEqual([]);
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
      const viewer = workspaceStore({ sql, workspaceId, role, actor: role, now: testClock(), random });
      const before = await stateOf(store, ids);
      const reading = /\.(?:get|list)\b/;
      for (const [name, call] of [...BY_ID.filter(([method]) => !reading.test(method)), ...CHANGING])
        await expect(call(viewer, ids), name).rejects.toMatchObject({ code: "forbidden" });
      expect(await stateOf(viewer, ids)).toEqual(before);
    });
  });
});
