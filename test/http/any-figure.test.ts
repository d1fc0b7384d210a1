import { describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { engines, newStore } from "../store/engines.ts";
import { TransferDatabase } from "../store/transfer/transfer-database.ts";
import { testDeps } from "../support/deps.ts";
import { bearer } from "../support/links-app.ts";
import { poisoned } from "../support/poisoned-document.ts";

/** An imported file may hold any figure that its schema takes: no page may break of one. */
describe("an imported document with figures out of all measure", () => {
  const database = new TransferDatabase(engines[0]!.start);

  test.each([
    ["the largest", [Number.MAX_VALUE, 2 ** 53, 1e13, 1e12, 1e8]],
    ["the most negative", [-Number.MAX_VALUE, -1e13, -1e12]],
    ["next to nothing", [Number.MIN_VALUE, 0]],
  ])(
    "%s that is taken: every page of it can be opened",
    async (_, figures) => {
      const { store } = await database.whole();
      const { document, taken } = poisoned(await store.transfer.export(), figures);
      expect(taken.length).toBeGreaterThan(10);
      const other = await newStore(database.sql);
      await other.transfer.import(document, { take_vehicles: true });

      const app = createApp(testDeps({ sql: () => database.sql, access_mode: "links" }));
      const { headers } = await bearer(other, "owner");
      for (const address of addressesOf(document)) {
        const answer = await app.request(address, { headers });
        await answer.arrayBuffer();
        expect([address, answer.status]).toEqual([address, 200]);
      }
    },
    120_000,
  );
});

type Document = Parameters<typeof poisoned>[0];

function addressesOf({ vehicles, quotes, price_books, customers }: Document): string[] {
  const lists = ["/vehicles", "/quotes", "/quotes.csv", "/prices", "/customers", "/invoices", "/follow-ups", "/shop"];
  return [
    ...[...lists, "/settings", "/settings/export.json", "/settings/charge-log.csv", "/fleet/plan", "/fleet/audit"],
    ...["/api/vehicles", "/api/quotes", "/api/customers", "/api/invoices"],
    ...vehicles.flatMap(({ id }) => [`/vehicles/${id}`, `/vehicles/${id}/details`, `/vehicles/${id}/log/history`]),
    ...quotes.flatMap(({ id, vehicle_id, status }) => {
      const quote = `/vehicles/${vehicle_id}/quotes/${id}`;
      return [quote, `${quote}/preview`, ...(status === "accepted" ? [`${quote}/work-order`, `${quote}/invoice`] : [])];
    }),
    ...price_books.map(({ id }) => `/prices/${id}`),
    ...customers.map(({ id }) => `/customers/${id}`),
  ];
}
