import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { browser, type LinksApp, linksRuntimes } from "../support/links-app.ts";
import { textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

describe.each(linksRuntimes)("money of a workspace with prices in euros on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let editor: Person;
  let vehicle_id: string;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());
  beforeEach(async () => {
    store = await newStore(app.sql);
    const { version, ...settings } = await store.settings.get();
    await store.settings.update({ ...settings, currency: "EUR" }, version);
    await store.priceBooks.create({ ...RETAIL_BOOK, currency: "EUR" });
    ({ id: vehicle_id } = await store.vehicles.create(VAN));
    editor = new Person(app, (await browser(app, store, "editor")).headers);
  });

  test.each(["", "/details", "/top-off", "/sensitivity"])("no dollar sign on the vehicle's page %s", async (page) => {
    const text = textOf(await (await editor.get(`/vehicles/${vehicle_id}${page}`)).text());
    expect(text).not.toContain("$");
    if (page === "" || page === "/details") expect(text).toContain("€");
  });

  test.each(["€850", "850 €", "EUR 850", "850"])("%s is read as a repair quote", async (typed) => {
    const answer = await editor.get(`/vehicles/${vehicle_id}?${new URLSearchParams({ quote: typed })}`);
    expect(answer.status).toBe(200);
  });

  test("dollars are refused where money is in euros, and stay in the field", async () => {
    const answer = await editor.get(`/vehicles/${vehicle_id}?quote=%24850`);
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain("$850");
  });

  test("a vehicle's own price stays in the currency it was typed in", async () => {
    const { version, ...vehicle } = await store.vehicles.get(vehicle_id);
    await store.vehicles.update(vehicle_id, version, { ...vehicle, prices: { locations: { hose: { price: 410 } } } });
    const details = `/vehicles/${vehicle_id}/details`;
    expect(await (await editor.get(details)).text()).toContain('value="410"');
    const settings = await store.settings.get();
    await store.settings.update({ ...settings, currency: "JPY" }, settings.version);
    // There are no prices in yen: the answer is in dollars, and a price in euros has no place in it.
    expect(textOf(await (await editor.get(`/vehicles/${vehicle_id}`)).text())).toContain(
      "This vehicle's own prices are in euros, so they do not count here.",
    );
    expect(await (await editor.get(details)).text()).not.toContain('value="410"');
    await store.settings.update({ ...settings, currency: "EUR" }, settings.version + 1);
    expect(await (await editor.get(details)).text()).toContain('value="410"');
  });
});
