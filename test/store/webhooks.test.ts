import { describe, expect, test } from "vitest";
import { decideQuote } from "../../src/store/offered-quote.ts";
import type { Sql } from "../../src/store/sql.ts";
import {
  nextMessageDue,
  RETRY_MINUTES,
  settleMessage,
  takeDueMessages,
  tellWebhook,
} from "../../src/store/webhook-outbox.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { engines, random, testClock } from "./engines.ts";
import { LAST_DAY, QuoteDatabase, YES } from "./quotes/quote-database.ts";

const URL = "https://shop.example/messages";

async function bodies(sql: Sql, workspaceId: string): Promise<Record<string, unknown>[]> {
  const rows = await sql.all<{ body: string }>(
    "SELECT body FROM webhook_messages WHERE workspace_id = ? ORDER BY created_at, id",
    [workspaceId],
  );
  return rows.map(({ body }) => JSON.parse(body));
}

class WebhookDatabase extends QuoteDatabase {
  async sentWithWebhook() {
    const all = await this.sentQuote();
    const { secret } = await all.store.webhooks.save(URL, 0);
    return { ...all, secret };
  }
}

describe.each(engines)("webhooks on $name", ({ start }) => {
  const database = new WebhookDatabase(start);

  test("an answer by the link is told in the same change, without a name", async () => {
    const { store, quote, token } = await database.sentWithWebhook();
    await decideQuote(database.edge(), token, YES, LAST_DAY);
    expect(await bodies(database.sql, store.workspaceId)).toEqual([
      {
        id: `quote-${quote.id}-3`,
        event: "quote.accepted",
        at: expect.stringMatching(/^2026-05-01T12:/),
        quote: {
          id: quote.id,
          number: 1,
          called: "1",
          vehicle_id: quote.vehicle_id,
          state: "accepted",
          option: { id: "b", title: "Replace the leaking hose", total_minor: null },
          currency: "USD",
        },
      },
    ]);
  });

  test("of many answers at once, one is told", async () => {
    const { store, token } = await database.sentWithWebhook();
    const now = () => new Date("2026-05-01T12:00:00Z");
    await Promise.all(
      [YES, { ...YES, option: null }, YES].map((said) =>
        decideQuote({ sql: database.sql, now }, token, said, LAST_DAY),
      ),
    );
    expect(await store.webhooks.messages(10)).toHaveLength(1);
  });

  test("an answer by telephone and one that is taken back are told, too", async () => {
    const { store, quote } = await database.sentWithWebhook();
    const no = { option: null, name: "Robin Ames", keep_years: 5, how: "phone" as const };
    await store.quotes.recordAnswer(quote.id, 2, no);
    await store.quotes.takeBackAnswer(quote.id, 3);
    expect(await bodies(database.sql, store.workspaceId)).toMatchObject([
      { event: "quote.declined", quote: { state: "declined", option: null } },
      { event: "quote.answer-taken-back", quote: { state: "sent", option: null } },
    ]);
  });

  test("nothing is written down without a webhook, nor by a change that is refused", async () => {
    const { store, quote } = await database.sentQuote();
    const no = { option: null, name: "Robin Ames", keep_years: 5, how: "phone" as const };
    await store.quotes.recordAnswer(quote.id, 2, no);
    const other = await database.sentWithWebhook();
    await expect(other.store.quotes.recordAnswer(other.quote.id, 1, no)).rejects.toThrow();
    for (const { workspaceId } of [store, other.store]) expect(await bodies(database.sql, workspaceId)).toEqual([]);
  });

  test("the secret is given when it is made and kept with another address; a new one can be asked for", async () => {
    const { store, secret } = await database.sentWithWebhook();
    const kept = async () => {
      const [row] = await database.sql.all<{ secret: string }>("SELECT secret FROM webhooks WHERE workspace_id = ?", [
        store.workspaceId,
      ]);
      return row!.secret;
    };
    expect(await kept()).toBe(secret);
    expect(await store.webhooks.save(`${URL}/2`, 1)).toEqual({
      webhook: { url: `${URL}/2`, version: 2 },
      secret: null,
    });
    expect(await kept()).toBe(secret);
    const renewed = await store.webhooks.save(`${URL}/2`, 2, { new_secret: true });
    expect(await kept()).toBe(renewed.secret);
    expect(renewed.secret).not.toBe(secret);
    await expect(store.webhooks.save(URL, 2)).rejects.toThrow();
  });

  test("is the owner's to change", async () => {
    const { store } = await database.sentWithWebhook();
    const as = { sql: database.sql, workspaceId: store.workspaceId, actor: "tester", now: testClock(), random };
    const { webhooks } = workspaceStore({ ...as, role: "editor" });
    for (const change of [webhooks.save(URL, 1), webhooks.remove(), webhooks.sendTest(), webhooks.sendAgain("x")])
      await expect(change).rejects.toMatchObject({ code: "forbidden" });
  });
});

describe.each(engines)("messages to a webhook on $name", ({ start }) => {
  const database = new WebhookDatabase(start);

  test("a message is tried at longer and longer intervals, then given up; it can be sent again", async () => {
    const { store } = await database.sentWithWebhook();
    await database.sql.batch([
      { sql: "UPDATE webhook_messages SET due_at = NULL, state = 'failed' WHERE state = 'waiting'" },
    ]);
    await store.webhooks.sendTest();
    const [sent] = await store.webhooks.messages(1);
    let now = new Date("2026-05-02T00:00:00Z");
    const waits: number[] = [];
    for (;;) {
      const [taken, ...more] = await takeDueMessages(database.sql, now, 10);
      expect(taken).toMatchObject({ id: sent!.id, url: URL, attempts: waits.length + 1 });
      expect(more).toEqual([]);
      // Nobody else gets it meanwhile.
      expect(await takeDueMessages(database.sql, now, 10)).toEqual([]);
      await settleMessage(database.sql, taken!, { delivered: false, outcome: "500" }, now);
      const due = await nextMessageDue(database.sql);
      if (due === null) break;
      waits.push((due.getTime() - now.getTime()) / 60_000);
      now = due;
    }
    expect(waits).toEqual([1, 5, 30, 120, 360, 720, 1440]);
    expect(waits).toEqual(RETRY_MINUTES);
    expect(await store.webhooks.messages(1)).toMatchObject([{ state: "failed", attempts: 8, outcome: "500" }]);

    await store.webhooks.sendAgain(sent!.id);
    const [again] = await takeDueMessages(database.sql, now, 10);
    await settleMessage(database.sql, again!, { delivered: true, outcome: "204" }, now);
    expect(await store.webhooks.messages(1)).toMatchObject([
      { id: sent!.id, state: "delivered", attempts: 1, outcome: "204", due_at: null },
    ]);
    await expect(store.webhooks.sendAgain("nowhere")).rejects.toMatchObject({ code: "not-found" });
  });

  test("one whose sender stopped half-way is due again; what is old is forgotten", async () => {
    const { store } = await database.sentWithWebhook();
    await store.webhooks.sendTest();
    const now = new Date("2026-05-01T13:00:00Z");
    const [taken] = await takeDueMessages(database.sql, now, 1);
    const [again] = await takeDueMessages(database.sql, new Date("2026-05-01T13:03:00Z"), 1);
    expect(again).toMatchObject({ id: taken!.id, attempts: 2 });
    await settleMessage(database.sql, again!, { delivered: true, outcome: "200" }, new Date("2026-09-01T00:00:00Z"));
    expect(await store.webhooks.messages(5)).toEqual([]);
  });

  test("anything can be told, under an id once", async () => {
    const { store } = await database.sentWithWebhook();
    const { workspaceId } = store;
    const news = { id: "one", event: "test" as const, at: "2026-05-01T12:00:00.000Z", about: { vehicle: { id: "v" } } };
    const { sql, params } = tellWebhook(news);
    const bound = { sql: sql.replaceAll(":workspace", "?"), params: [workspaceId, ...params!, workspaceId] };
    await database.sql.batch([bound, bound]);
    expect(await bodies(database.sql, workspaceId)).toEqual([
      { id: "one", event: "test", at: news.at, vehicle: { id: "v" } },
    ]);
  });

  test("removing it forgets what was told", async () => {
    const { store } = await database.sentWithWebhook();
    await store.webhooks.sendTest();
    await store.webhooks.remove();
    expect(await store.webhooks.get()).toEqual({ url: "", version: 0 });
    expect(await store.webhooks.messages(5)).toEqual([]);
    await expect(store.webhooks.sendTest()).rejects.toThrow("Save an address first");
  });
});
