import fc from "fast-check";
import { expect, test } from "vitest";
import type { ChargeEntryInput } from "../../../src/core/question/record.ts";
import { NodeSql } from "../../../src/store/node-sqlite.ts";
import { engines, newStore } from "../engines.ts";
import { VAN } from "../samples.ts";

import { rowsOf, sent } from "./transfer-database.ts";

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
