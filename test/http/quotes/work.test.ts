import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { LOG, ShopDesk } from "./shop-desk.ts";

describe.each(linksRuntimes)("quotes on $name", ({ start }) => {
  const desk = new ShopDesk(start);

  describe("the work after a yes", () => {
    async function accepted(choice: string) {
      const { path, link } = await desk.send();
      await desk.customer.post(link, { choice, name: "Robin Ames" });
      return { path, form: workForm(await desk.shop.page(path)) };
    }

    function workForm(page: string): URLSearchParams {
      return formIn(page.replace(/(<form[^>]*action="[^"]*\/work")/, '$1 id="work"'), "work");
    }

    test("is filled in as it was quoted, and becomes log entries in one step", async () => {
      const { path, form } = await accepted("c");
      // What went in is read off the scale, never filled in from the nameplate.
      expect(Object.fromEntries(form)).toMatchObject({ filled: "weighed", added: "" });
      form.set("added", "1 lb 6.9 oz");
      form.set("when", "today");
      form.set("recovered", "9 oz");
      form.set("repair", "hose");
      form.set("electronic", "hose");
      const answer = await desk.shop.post(`${path}/work`, form);
      expect(answer.status, textOf(await answer.text())).toBe(303);
      const { charge_log, findings } = await desk.store.record(desk.vehicle);
      expect(charge_log.at(-1)).toMatchObject({
        recovered_g: expect.closeTo(255.1, 1),
        added_g: expect.closeTo(649.2, 1),
        added_by: "scale",
        finish: "weighed",
        repair: "hose",
        note: "Quote 1: Find the leak and repair it",
      });
      expect(findings.at(-1)).toMatchObject({ test: "electronic", location: "hose", result: "leak" });
      const page = textOf(await desk.shop.page(path));
      expect(page).toMatch(/Did it hold\? Check around \d+ \w+ \d{4}/);
      expect(page).not.toContain("Log the work");
    });

    test("is logged once, however often the button is pressed", async () => {
      const { path, form } = await accepted("a");
      form.set("added", "9 oz");
      const answers = await Promise.all([1, 2].map(() => desk.shop.post(`${path}/work`, form)));
      for (const { status } of answers) expect(status).toBe(303);
      expect((await desk.store.record(desk.vehicle)).charge_log).toHaveLength(LOG.length + 1);
    });

    test("more recovered than a system holds, and a charge without its weight, are asked about", async () => {
      const { path, form } = await accepted("c");
      form.set("recovered", "60 oz");
      const answer = await desk.shop.post(`${path}/work`, form);
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(textOf(page)).toContain("That is more than the system holds");
      expect(textOf(page)).toContain("Enter how much was charged, as the scale showed it");
      expect((await desk.store.record(desk.vehicle)).charge_log).toHaveLength(LOG.length);
    });

    test("with something wrong is given back, and nothing is logged", async () => {
      const { path, form } = await accepted("a");
      form.set("when", "someday");
      form.set("recovered", "much");
      const answer = await desk.shop.post(`${path}/work`, form);
      const page = await answer.text();
      expect(answer.status).toBe(422);
      expect(page).toContain('value="someday"');
      expect(page).toContain('href="#recovered"');
      expect((await desk.store.record(desk.vehicle)).charge_log).toHaveLength(LOG.length);
    });
  });
});
