import { expect, test } from "vitest";
import { BLANK_LETTERHEAD } from "../../src/core/quotes/quote-document.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { offeredQuote } from "../../src/store/offered-quote.ts";
import { newStore } from "./engines.ts";
import { CONTENT, SNAPSHOT } from "./quote-samples.ts";
import { VAN } from "./samples.ts";

test("an old link tells of the newer quote, unless the shop wants it unsaid", async () => {
  const sql = await openDatabase(":memory:");
  const store = await newStore(sql);
  const { id } = await store.vehicles.create(VAN);
  const old = await store.quotes.create(id, CONTENT);
  const { token } = await store.quotes.send(old.id, 1, { content: CONTENT, snapshot: SNAPSHOT });
  const told = async () => {
    const offered = await offeredQuote({ sql }, token ?? "");
    return [offered?.status, offered?.newer_number];
  };
  expect(await told()).toEqual(["sent", null]);
  const next = await store.quotes.create(id, CONTENT, old.id);
  await store.quotes.send(next.id, 1, { content: CONTENT, snapshot: { ...SNAPSHOT, number: 2 } });
  expect(await told()).toEqual(["withdrawn", 2]);
  await store.letterheads.update({ ...BLANK_LETTERHEAD, tell_newer: "no" }, 0);
  expect(await told()).toEqual(["withdrawn", null]);
  sql.close();
});
