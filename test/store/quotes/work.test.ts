import { describe, expect, test } from "vitest";
import { decideQuote } from "../../../src/store/offered-quote.ts";
import { engines } from "../engines.ts";
import { DONE, LAST_DAY, QuoteDatabase, WORK, YES } from "./quote-database.ts";

describe.each(engines)("price books and quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);

  describe("work after a yes", () => {
    test("entries, findings and the mark on the quote are one change, once", async () => {
      const { store, vehicle, quote, token } = await database.sentQuote();
      await decideQuote(database.edge(), token, YES, LAST_DAY);
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
      const { store, vehicle, quote, token } = await database.sentQuote();
      await decideQuote(database.edge(), token, YES, LAST_DAY);
      const both = await Promise.allSettled([1, 2].map(() => store.quotes.logWork(quote.id, quote.version + 1, DONE)));
      expect(both.map(({ status }) => status).sort((a, b) => a.localeCompare(b))).toEqual(["fulfilled", "rejected"]);
      expect((await store.record(vehicle)).charge_log).toHaveLength(2);
    });

    test("nothing is logged for a quote that nobody accepted", async () => {
      const { store, vehicle, quote } = await database.sentQuote();
      await expect(store.quotes.logWork(quote.id, quote.version, DONE)).rejects.toMatchObject({ code: "changed" });
      expect((await store.record(vehicle)).charge_log).toHaveLength(1);
    });
  });
});
