import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { NO_LIMITS, tokenBuckets } from "../../../src/web/edge/rate-limit.ts";
import { newStore } from "../../store/engines.ts";
import { VAN } from "../../store/samples.ts";
import { browser, type LinksApp, linksOnNode } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Person } from "../../support/person.ts";
import { LETTERHEAD, LOG } from "./shop-desk.ts";

describe("on Node, with a clock that can be set", () => {
  let now = "2026-05-01T12:00:00Z";
  let app: LinksApp;
  beforeAll(async () => {
    app = await linksOnNode({
      now: () => new Date(now),
      limits: () => limits,
    });
  });
  const guesses = tokenBuckets({ now: () => new Date(now), burst: 5, refill_ms: 6000 });
  const limits = { ...NO_LIMITS, guesses };
  afterAll(() => app.close());

  async function sent(time_zone = "UTC") {
    const store = await newStore(app.sql, () => new Date(now));
    const settings = await store.settings.get();
    await store.settings.update({ ...settingsOf(settings), time_zone }, settings.version);
    const shop = new Person(app, (await browser(app, store, "editor")).headers);
    const { id } = await store.vehicles.create(VAN, { charge_log: LOG });
    await shop.post("/prices/letterhead", LETTERHEAD);
    await store.priceBooks.update("retail", 0, (await store.priceBooks.get("retail")).book);
    const begun = await shop.post(`/vehicles/${id}/quotes`, { customer: "", keep_years: "5", book: "retail" });
    const path = begun.headers.get("Location") ?? "";
    const form = formIn(await shop.page(path), "builder");
    const page = await (await shop.post(`${path}/send`, form)).text();
    return { shop, path, link: new URL(/href="([^"]*\/q\/[\w-]{43,86})"/.exec(page)?.[1] ?? "").pathname };
  }

  test("on its last day a quote can be accepted, after it the page says that it expired", async () => {
    const { shop, path, link } = await sent();
    const customer = new Person(app);
    now = "2026-05-31T23:59:00Z"; // 30 days
    expect(await customer.page(link)).toContain("Send my answer");
    now = "2026-06-01T00:01:00Z";
    const page = textOf(await customer.page(link));
    expect(page).toContain("This quote expired on 31 May 2026");
    expect(page).not.toContain("Send my answer");
    const late = await customer.post(link, { choice: "a", name: "Robin" });
    expect(late.status).toBe(409);
    expect(textOf(await late.text())).toContain("Your answer came too late and was not taken.");
    expect(textOf(await shop.page(path))).toContain("expired");
    now = "2026-05-31T23:59:00Z";
    expect((await customer.post(link, { choice: "a", name: "Robin" })).status).toBe(303);
    expect(textOf(await customer.page(link))).toContain("accepted by Robin on 31 May 2026 at 23:59");
    now = "2026-05-01T12:00:00Z";
  });

  test("the last day is that of the shop, not of the server", async () => {
    const { link } = await sent("America/Los_Angeles");
    now = "2026-06-01T06:00:00Z"; // still 31 May there
    expect(await new Person(app).page(link)).toContain("Send my answer");
    now = "2026-06-01T07:30:00Z";
    expect(textOf(await new Person(app).page(link))).toContain("This quote expired on 31 May 2026");
    now = "2026-05-01T12:00:00Z";
  });

  test("whoever guesses is slowed down", async () => {
    const { link } = await sent();
    const guesser = new Person(app);
    const statuses: number[] = [];
    for (let i = 0; i < 8; i++) statuses.push((await guesser.get(`/q/${"A".repeat(42)}${i}`)).status);
    expect(statuses.slice(0, 5)).toEqual([404, 404, 404, 404, 404]);
    expect(statuses.slice(5)).toEqual([429, 429, 429]);
    // A link that is one opens for everyone at that address, whoever guesses there.
    expect((await guesser.get(link)).status).toBe(200);
    now = "2026-05-01T12:10:00Z";
    expect((await guesser.get(`/q/${"A".repeat(42)}9`)).status).toBe(404);
  });
});
