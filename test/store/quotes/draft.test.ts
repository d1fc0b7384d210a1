import { describe, expect, test } from "vitest";
import type { Quote } from "../../../src/store/quote-row.ts";
import { engines } from "../engines.ts";
import { CONTENT } from "../quote-samples.ts";
import { CAN, VAN } from "../samples.ts";
import { QuoteDatabase, SENT } from "./quote-database.ts";

describe.each(engines)("price books and quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);

  describe("a draft", () => {
    test("many at once get the numbers one after the other, without a gap and none twice", async () => {
      const { store, vehicle } = await database.storeWithVehicle();
      const made = await Promise.all(Array.from({ length: 12 }, () => store.quotes.create(vehicle, CONTENT)));
      expect(made.map(({ number }) => number).toSorted((a, b) => a - b)).toEqual([
        1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12,
      ]);
    });

    test("numbers count up in a workspace, and each has its own", async () => {
      const { store, vehicle } = await database.storeWithVehicle();
      const quotes: Quote[] = [];
      for (let i = 0; i < 3; i++) quotes.push(await store.quotes.create(vehicle, CONTENT));
      expect(quotes.map(({ number }) => number)).toEqual([1, 2, 3]);
      const other = await database.storeWithVehicle();
      expect((await other.store.quotes.create(other.vehicle, CONTENT)).number).toBe(1);
      expect((await store.quotes.list(vehicle)).map(({ number }) => number)).toEqual([3, 2, 1]);
      expect((await store.quotes.recent()).map(({ vehicle_label }) => vehicle_label)).toEqual(Array(3).fill("Van 2"));
    });

    test("is stored as it was written, changed, and thrown away", async () => {
      const { store, vehicle } = await database.storeWithVehicle();
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
      const { store, vehicle } = await database.storeWithVehicle();
      const make = () => store.quotes.create(vehicle, CONTENT, null, "key");
      const [first, second] = await Promise.all([make(), make()]);
      expect(second).toEqual(first);
      expect(await store.quotes.list(vehicle)).toHaveLength(1);
    });

    test("has no link, and none can be made", async () => {
      const { store, vehicle } = await database.storeWithVehicle();
      const { id } = await store.quotes.create(vehicle, CONTENT);
      await expect(store.quotes.newLink(id)).rejects.toMatchObject({ code: "invalid" });
    });
  });

  test("an example goes with its quotes", async () => {
    const store = await database.newStore();
    const { id } = await store.vehicles.create(VAN, { example: true, charge_log: [CAN] });
    const draft = await store.quotes.create(id, CONTENT);
    await store.quotes.send(draft.id, 1, SENT);
    expect(await store.vehicles.deleteExamples()).toBe(1);
    await expect(store.quotes.get(draft.id)).rejects.toMatchObject({ code: "not-found" });
  });
});
