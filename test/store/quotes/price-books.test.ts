import { describe, expect, test } from "vitest";
import { FLEET_BOOK, RETAIL_BOOK } from "../../../data/price-book.ts";
import { BLANK_LETTERHEAD } from "../../../src/core/quotes/quote-document.ts";
import { engines } from "../engines.ts";
import { QuoteDatabase } from "./quote-database.ts";

describe.each(engines)("price books and quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);

  describe("price books", () => {
    test("a workspace begins with invented ones, and saving one makes it its own", async () => {
      const store = await database.newStore();
      const before = await store.priceBooks.list();
      expect(before.map(({ id, sample, version }) => [id, sample, version])).toEqual([
        ["fleet", true, 0],
        ["retail", true, 0],
      ]);
      const own = { ...RETAIL_BOOK, labor_rate_micro: 95_000_000 };
      expect(await store.priceBooks.update("retail", 0, own)).toMatchObject({
        id: "retail",
        book: own,
        sample: false,
        version: 1,
        updated_by: "tester",
      });
      expect((await store.priceBooks.list()).map(({ id, sample }) => [id, sample])).toEqual([
        ["fleet", true],
        ["retail", false],
      ]);
    });

    test("of two tabs, the second is told what the first saved", async () => {
      const store = await database.newStore();
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
      const store = await database.newStore();
      const [first, second] = await Promise.all([1, 2].map(() => store.priceBooks.create(FLEET_BOOK, "key")));
      expect(second).toEqual(first);
      expect(await store.priceBooks.list()).toHaveLength(3);
    });

    test("of two books with one name at once, one is made; capitals, accents and spaces make no other name", async () => {
      const store = await database.newStore();
      const made = await Promise.allSettled(
        ["Café  Winter", "CAFE winter"].map((name) => store.priceBooks.create({ ...RETAIL_BOOK, name })),
      );
      expect(made.map(({ status }) => status).toSorted()).toEqual(["fulfilled", "rejected"]);
      const taken = { code: "changed", message: expect.stringContaining("Another book has this name by now") };
      await expect(store.priceBooks.update("retail", 0, { ...RETAIL_BOOK, name: "café winter" })).rejects.toMatchObject(
        taken,
      );
      const [winter] = (await store.priceBooks.own()).filter(({ book }) => book.name.endsWith("inter"));
      await store.priceBooks.archive(winter!.id, 1);
      // Out of the list it holds no name, and is not brought back beside one that has it.
      await store.priceBooks.create({ ...RETAIL_BOOK, name: "Cafe Winter" });
      await expect(store.priceBooks.restore(winter!.id, 2)).rejects.toMatchObject(taken);
      // One that comes in from elsewhere gets a number.
      const other = await database.newStore();
      await other.priceBooks.create({ ...RETAIL_BOOK, name: "cafe winter" });
      await store.transfer.import(await other.transfer.export());
      expect((await store.priceBooks.list()).map(({ book }) => book.name)).toContain("cafe winter 2");
    });

    test("an archived book leaves the list, an invented one too, and can still be read", async () => {
      const store = await database.newStore();
      await store.priceBooks.archive("fleet", 0);
      const { id } = await store.priceBooks.create({ ...RETAIL_BOOK, name: "Winter" });
      await store.priceBooks.archive(id, 1);
      expect((await store.priceBooks.list()).map((one) => one.id)).toEqual(["retail"]);
      expect((await store.priceBooks.get(id)).archived_at).not.toBeNull();
    });

    test("an id that every object has is no book", async () => {
      const store = await database.newStore();
      await expect(store.priceBooks.get("constructor")).rejects.toMatchObject({ code: "not-found" });
      await expect(store.priceBooks.update("constructor", 0, RETAIL_BOOK)).rejects.toMatchObject({ code: "not-found" });
    });
  });

  test("the letterhead is blank, then what was said last, in order", async () => {
    const store = await database.newStore();
    expect(await store.letterheads.get()).toEqual({ letterhead: BLANK_LETTERHEAD, version: 0 });
    const ours = { ...BLANK_LETTERHEAD, shop: "North Yard Cooling", number_format: "1.234,56" as const };
    expect(await store.letterheads.update(ours, 0, "key")).toEqual({ letterhead: ours, version: 1 });
    expect(await store.letterheads.update(ours, 0, "key")).toEqual({ letterhead: ours, version: 1 });
    await expect(store.letterheads.update(BLANK_LETTERHEAD, 0)).rejects.toMatchObject({ code: "changed" });
  });
});
