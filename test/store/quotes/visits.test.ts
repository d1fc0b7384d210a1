import { describe, expect, test } from "vitest";
import { decideQuote } from "../../../src/store/offered-quote.ts";
import { type WorkspaceStore, workspaceStore } from "../../../src/store/workspace-store.ts";
import { engines, random } from "../engines.ts";
import { LAST_DAY, QuoteDatabase, YES } from "./quote-database.ts";

describe.each(engines)("what is new among quotes on $name", ({ start }) => {
  const database = new QuoteDatabase(start);
  const at = (store: WorkspaceStore, instant: string, actor = "tester") =>
    workspaceStore({
      sql: database.sql,
      workspaceId: store.workspaceId,
      role: "viewer",
      actor,
      now: () => new Date(instant),
      random,
    }).quoteVisits;

  test("is counted from the visit before; looks within half an hour are one visit", async () => {
    const { store } = await database.storeWithVehicle();
    const look = (instant: string) => at(store, instant).visit();
    expect(await look("2026-05-01T08:00:00.000Z")).toBe("2026-05-01T08:00:00.000Z");
    expect(await look("2026-05-01T08:20:00.000Z")).toBe("2026-05-01T08:00:00.000Z");
    expect(await look("2026-05-01T08:45:00.000Z")).toBe("2026-05-01T08:00:00.000Z");
    expect(await look("2026-05-01T12:00:00.000Z")).toBe("2026-05-01T08:45:00.000Z");
    expect(await look("2026-05-01T12:01:00.000Z")).toBe("2026-05-01T08:45:00.000Z");
    expect(await at(store, "2026-05-01T12:01:00.000Z", "someone else").visit()).toBe("2026-05-01T12:01:00.000Z");
  });

  test("is an answer by somebody else, or a last day that has passed", async () => {
    const { store, quote, token } = await database.sentQuote();
    const news = (since: string, from: string, today: string, actor?: string) =>
      at(store, since, actor).news(since, { from, today });
    const before = "2026-05-01T00:00:00.000Z";
    expect(await news(before, "2026-05-01", "2026-05-02")).toEqual(new Map());
    expect(await news(before, "2026-05-01", "2026-06-01")).toEqual(new Map([[quote.id, "expired"]]));
    expect(await news(before, "2026-06-01", "2026-06-20")).toEqual(new Map());
    await decideQuote(database.edge(), token, YES, LAST_DAY);
    expect(await news(before, "2026-05-01", "2026-06-01")).toEqual(new Map([[quote.id, "accepted"]]));
    expect(await news("2026-05-02T00:00:00.000Z", "2026-05-02", "2026-06-01")).toEqual(new Map());
    await store.quotes.takeBackAnswer(quote.id, 3);
    await store.quotes.recordAnswer(quote.id, 4, { ...YES, option: null, how: "phone" });
    expect(await news(before, "2026-05-01", "2026-05-02")).toEqual(new Map());
    expect(await news(before, "2026-05-01", "2026-05-02", "a colleague")).toEqual(new Map([[quote.id, "declined"]]));
  });
});
