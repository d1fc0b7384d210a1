import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { browser, type LinksApp, linksRuntimes } from "../support/links-app.ts";
import { textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

describe.each(linksRuntimes)("money of a workspace in euros on $name", ({ start }) => {
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
});
