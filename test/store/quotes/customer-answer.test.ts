import { describe, expect, test } from "vitest";
import { decideQuote } from "../../../src/store/offered-quote.ts";
import { engines } from "../engines.ts";
import { LAST_DAY, QuoteDatabase, YES } from "./quote-database.ts";

const DAY_AFTER = "2026-06-01";

describe.each(engines)("price books and quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);

  describe("what the customer says", () => {
    test("a yes is written down with option, name, years and time", async () => {
      const { store, quote, token } = await database.sentQuote();
      const said = await decideQuote(database.edge(), token, YES, LAST_DAY);
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
      const { store, quote, token } = await database.sentQuote();
      await decideQuote(database.edge(), token, { ...YES, option: null }, LAST_DAY);
      expect(await store.quotes.get(quote.id)).toMatchObject({ status: "declined", decided_option: null });
    });

    test("twice is once: the first stands", async () => {
      const { store, quote, token } = await database.sentQuote();
      await decideQuote(database.edge(), token, YES, LAST_DAY);
      const accepted = await store.quotes.get(quote.id);
      for (const next of [YES, { ...YES, option: "a" }, { ...YES, option: null, name: "Someone else" }])
        expect(await decideQuote(database.edge(), token, next, LAST_DAY)).toMatchObject({
          decided: false,
          offered: { status: "accepted", decided_option: "b", decided_name: "Robin Ames" },
        });
      expect(await store.quotes.get(quote.id)).toEqual(accepted);
    });

    test("of many at once, exactly one is taken", async () => {
      const { store, quote, token } = await database.sentQuote();
      const said = await Promise.all(
        Array.from({ length: 12 }, (_, i) =>
          decideQuote(
            database.edge(),
            token,
            { ...YES, option: i % 3 === 0 ? null : "b", name: `Person ${i}` },
            LAST_DAY,
          ),
        ),
      );
      const taken = said.filter((one) => one!.decided);
      expect(taken).toHaveLength(1);
      const stored = await store.quotes.get(quote.id);
      for (const one of said) expect(one!.offered.decided_name).toBe(stored.decided_name);
      expect(stored.version).toBe(quote.version + 1);
    });

    test("on the last day it counts, after it nothing changes", async () => {
      const { store, quote, token } = await database.sentQuote();
      expect(await decideQuote(database.edge(), token, YES, DAY_AFTER)).toMatchObject({
        decided: false,
        offered: { status: "sent" },
      });
      expect(await store.quotes.get(quote.id)).toEqual(quote);
      expect(await decideQuote(database.edge(), token, YES, LAST_DAY)).toMatchObject({ decided: true });
    });

    test("after it was withdrawn nothing changes; after a yes it is not withdrawn", async () => {
      const { store, quote, token } = await database.sentQuote();
      await store.quotes.withdraw(quote.id, quote.version);
      expect(await decideQuote(database.edge(), token, YES, LAST_DAY)).toMatchObject({
        decided: false,
        offered: { status: "withdrawn" },
      });
      const other = await database.sentQuote();
      await decideQuote(database.edge(), other.token, YES, LAST_DAY);
      for (const version of [other.quote.version, other.quote.version + 1])
        await expect(other.store.quotes.withdraw(other.quote.id, version)).rejects.toMatchObject({
          code: "changed",
          current: { status: "accepted" },
        });
    });

    test("is not changed afterwards, by no way in", async () => {
      const { quote, token } = await database.sentQuote();
      await decideQuote(database.edge(), token, YES, LAST_DAY);
      for (const change of [
        "decided_option = 'a'",
        "decided_name = 'Other'",
        "status = 'sent', decided_at = NULL, decided_option = NULL",
        "status = 'withdrawn', withdrawn_at = 'x', decided_at = NULL, decided_option = NULL",
      ])
        await expect(
          database.sql.all(`UPDATE quotes SET ${change} WHERE id = ?`, [quote.id]),
          change,
        ).rejects.toThrow();
    });

    test("an unknown token says nothing", async () => {
      expect(await decideQuote(database.edge(), "unknown", YES, LAST_DAY)).toBeNull();
    });
  });
});
