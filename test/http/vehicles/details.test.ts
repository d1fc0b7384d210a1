import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Desk, locationOf } from "./desk.ts";

describe.each(linksRuntimes)("vehicles on $name", ({ start }) => {
  const desk = new Desk(start);

  describe("details", () => {
    test("are edited, with what differs from the usual only", async () => {
      const { id, path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/details`), "details-form");
      form.set("label", "مكيف 🚐");
      form.set("nameplate", "1 lb 9 oz");
      form.set("fleet_group", "Vans");
      form.set("model_year", "2019");
      form.set("odometer", "84,200 miles");
      form.set("odometer_on", "2 Apr 2026");
      form.set("plan.keep_years", "3");
      form.set("plan.tools_owned", "yes");
      form.set("prices.can_price", "14.50");
      form.set("prices.locations.hose.price", "1,250");
      form.set("assumptions.heel", "0,2");
      expect(locationOf(await desk.editor.post(`${path}/details`, form)).search).toBe("?saved=details");
      expect(await desk.store.vehicles.get(id)).toMatchObject({
        label: "مكيف 🚐",
        fleet_group: "Vans",
        model_year: 2019,
        // 1.609 344 km a mile (NIST SP 811).
        odometer: { km: expect.closeTo(135_506.765, 3), on: "2026-04-02" },
        plan: { keep_years: 3, tools_owned: true },
        prices: { can_price: 14.5, locations: { hose: { price: 1250 } } },
        assumptions: { heel: 0.2 },
      });
      const again = formIn(await desk.editor.page(`${path}/details`), "details-form");
      expect(again.get("nameplate")).toBe("25 oz");
      expect([again.get("odometer"), again.get("odometer_on")]).toEqual(["84200 miles", "2026-04-02"]);
      for (const name of ["plan.keep_years", "prices.can_price", "prices.locations.hose.price", "assumptions.heel"])
        again.set(name, "");
      again.set("plan.tools_owned", "");
      await desk.editor.post(`${path}/details`, again);
      const { plan, prices, assumptions } = await desk.store.vehicles.get(id);
      expect([plan, prices, assumptions]).toEqual([{}, { locations: { hose: {} } }, {}]);
    });

    test.each([
      ["label", "", "Give it a name"],
      ["nameplate", "3 oz", "between 100 g"],
      ["nameplate", "100 g", "more than three of these charges"],
      ["plan.keep_years", "50", "from 0.25 to 20"],
      ["prices.can_price", "cheap", "Enter a number"],
      ["system_volume", "0", "Enter the volume in mL"],
      ["model_year", "19", "Enter the model year"],
      ["odometer", "a lot", "Enter the reading, like 84,200 miles"],
      ["odometer", "9,000,000 miles", "Enter at most"],
      ["odometer_on", "2 Apr 2026", "Enter the reading of that day"],
    ])("with %s “%s” are given back", async (field, typed, message) => {
      const { path } = await desk.vanWithEntry();
      const form = formIn(await desk.editor.page(`${path}/details`), "details-form");
      form.set("depot", "North yard");
      form.set(field, typed);
      const answer = await desk.editor.post(`${path}/details`, form);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      expect(textOf(/id="error-summary"[\s\S]*?<\/div>/.exec(page)?.[0] ?? "")).toContain(message);
      const back = formIn(page, "details-form");
      expect([back.get(field), back.get("depot")]).toEqual([typed, "North yard"]);
    });

    test("of two tabs, the second sees what differs and can save its own", async () => {
      const { id, path } = await desk.vanWithEntry();
      const [first, second] = [
        formIn(await desk.editor.page(`${path}/details`), "details-form"),
        formIn(await desk.editor.page(`${path}/details`), "details-form"),
      ];
      first.set("label", "Theirs");
      await desk.editor.post(`${path}/details`, first);
      second.set("label", "Mine");
      const answer = await desk.editor.post(`${path}/details`, second);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toContain("Name Theirs Mine");
      await desk.editor.post(`${path}/details`, formIn(page, "details-form"));
      expect((await desk.store.vehicles.get(id)).label).toBe("Mine");
    });

    test("a vehicle is entered without the quick question", async () => {
      const form = formIn(await desk.editor.page("/vehicles/new"), "details-form");
      form.set("label", "Bare");
      form.set("nameplate", "650 g");
      const at = locationOf(await desk.editor.post("/vehicles/new", form));
      expect(textOf(await desk.editor.page(at.pathname))).toContain("No entries yet.");
    });
  });
});
