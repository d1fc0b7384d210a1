import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { newStore } from "../store/engines.ts";
import { browser, type LinksApp, linksOnNode } from "../support/links-app.ts";
import { formFields, formsIn, textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

/** A shop's own server: a customer with a mistyped link must not begin records in its database. */
describe("where newcomers are not let in", () => {
  let app: LinksApp;
  beforeAll(async () => {
    app = await linksOnNode({ newcomers: () => false });
  });
  afterAll(() => app.close());
  const ASKED = "/?refrigerant=R-134a&nameplate=650+g&go=";

  test("a stranger may ask, sees no button to save, and is refused in words when a form is sent all the same", async () => {
    const stranger = new Person(app);
    const page = await stranger.page(ASKED);
    expect(page).not.toContain('formaction="/vehicles"');
    const form = formFields(formsIn(page)[0] ?? "");
    form.set("label", "Blue van");
    const refused = await stranger.post("/vehicles", form);
    expect(refused.status).toBe(403);
    expect(textOf(await refused.text())).toContain("Only someone with an access link can save vehicles here");
    expect(await app.sql.all("SELECT 1 FROM workspaces")).toEqual([]);
  });

  test("someone with access has the button, also after a stranger has looked", async () => {
    await new Person(app).page(ASKED);
    const store = await newStore(app.sql);
    const shop = new Person(app, (await browser(app, store, "editor")).headers);
    expect(await shop.page(ASKED)).toContain('formaction="/vehicles"');
  });
});
