import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import { BLANK_LETTERHEAD } from "../../../src/core/quotes/quote-document.ts";
import { decideQuote, offeredQuote } from "../../../src/store/offered-quote.ts";
import { engines } from "../engines.ts";
import { CONTENT, SNAPSHOT } from "../quote-samples.ts";
import { VAN } from "../samples.ts";
import { LAST_DAY, QuoteDatabase, SENT, YES } from "./quote-database.ts";

describe.each(engines)("price books and quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);

  describe("a quote that was sent", () => {
    test("is opened by its token, and by nothing else", async () => {
      const { quote, token } = await database.sentQuote();
      expect(token).toMatch(/^[\w-]{43,86}$/);
      expect(await offeredQuote({ sql: database.sql }, token)).toEqual({
        status: "sent",
        snapshot: SNAPSHOT,
        decided_at: null,
        decided_name: null,
        decided_option: null,
        agreed: null,
        logo: "",
        newer_number: null,
        time_zone: "UTC",
      });
      for (const wrong of ["", quote.id, token.slice(1), token.toLowerCase(), `${token} `])
        expect(await offeredQuote({ sql: database.sql }, wrong)).toBeNull();
      const [row] = await database.sql.all<{ token_hash: string }>("SELECT token_hash FROM quotes WHERE id = ?", [
        quote.id,
      ]);
      expect(row!.token_hash).toMatch(/^[0-9a-f]{64}$/);
      expect(row!.token_hash).not.toContain(token);
    });

    test("a double click sends once; the token is given once", async () => {
      const { store, vehicle } = await database.storeWithVehicle();
      const { id } = await store.quotes.create(vehicle, CONTENT);
      const first = await store.quotes.send(id, 1, SENT, "key");
      const again = await store.quotes.send(id, 1, SENT, "key");
      expect(again).toEqual({ quote: first.quote, token: null });
      expect(await offeredQuote({ sql: database.sql }, first.token!)).not.toBeNull();
    });

    test("is not changed any more, by no way in", async () => {
      const { store, quote } = await database.sentQuote();
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
        await expect(
          database.sql.all(`UPDATE quotes SET ${change} WHERE id = ?`, [quote.id]),
          change,
        ).rejects.toThrow();
      await expect(database.sql.all("DELETE FROM quotes WHERE id = ?", [quote.id])).rejects.toThrow();
      expect(await store.quotes.get(quote.id)).toEqual(quote);
    });

    test("keeps its prices when the book, the vehicle and the letterhead change", async () => {
      const { store, vehicle, quote, token } = await database.sentQuote();
      await store.priceBooks.update("retail", 0, { ...RETAIL_BOOK, labor_rate_micro: 1 });
      await store.letterheads.update({ ...BLANK_LETTERHEAD, shop: "Another" }, 0);
      await store.vehicles.update(vehicle, 1, { ...VAN, label: "Renamed", nameplate_g: 900 });
      expect((await offeredQuote({ sql: database.sql }, token))!.snapshot).toEqual(SNAPSHOT);
      expect((await store.quotes.get(quote.id)).content).toEqual(CONTENT);
    });

    test("a new link ends the one before", async () => {
      const { store, quote, token } = await database.sentQuote();
      const next = await store.quotes.newLink(quote.id);
      expect(await offeredQuote({ sql: database.sql }, token)).toBeNull();
      expect((await offeredQuote({ sql: database.sql }, next))!.snapshot).toEqual(SNAPSHOT);
      expect(await decideQuote(database.edge(), token, YES, LAST_DAY)).toBeNull();
    });

    test("sent in place of an earlier one, it withdraws that one", async () => {
      const { store, vehicle, quote: first, token } = await database.sentQuote();
      const second = await store.quotes.create(vehicle, CONTENT, first.id);
      expect((await offeredQuote({ sql: database.sql }, token))!.status).toBe("sent");
      await store.quotes.send(second.id, 1, SENT);
      expect((await offeredQuote({ sql: database.sql }, token))!.status).toBe("withdrawn");
      expect(await store.quotes.get(first.id)).toMatchObject({ status: "withdrawn", withdrawn_by: "tester" });
    });

    test("… unless it was accepted before: a yes stands", async () => {
      const { store, vehicle, quote: first, token } = await database.sentQuote();
      const second = await store.quotes.create(vehicle, CONTENT, first.id);
      await decideQuote(database.edge(), token, YES, LAST_DAY);
      await store.quotes.send(second.id, 1, SENT);
      expect(await store.quotes.get(first.id)).toMatchObject({ status: "accepted" });
    });
  });
});
