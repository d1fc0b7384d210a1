import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { ReadingsDesk } from "./readings-desk.ts";

describe.each(linksRuntimes)("a vehicle in a place with rules on $name", ({ start }) => {
  const desk = new ReadingsDesk(start);

  describe("the place of the workspace", () => {
    // Wis. Admin. Code ATCP 136.16(1), (2).
    test("bars what its rules bar, and the vehicle's page says which", async () => {
      const { path } = await desk.newVan({ plan: { service: "shop" } });
      expect(await desk.editor.page(path)).toContain('href="/settings#place"');
      await desk.set({ place: "us-wi" });
      const page = await desk.editor.page(path);
      expect(page).toContain("not allowed here");
      expect(textOf(page)).toContain("A shop may not top it off.");
      expect(page).toMatch(/href="\/rules\?place=us-wi&amp;date=[\d-]+#us-wi-leak-repair"/);
      // Asked what if they did it themselves, the rule does not reach them.
      expect(textOf(await desk.editor.page(`${path}?service=diy`))).toContain(
        "We know of no rule that limits these options here.",
      );
    });

    test("comes along when the first vehicle is kept from the quick question", async () => {
      const fields = { refrigerant: "R-134a", nameplate: "23 oz", where: "us-ca", today: "weak", submit_key: "k" };
      expect((await desk.editor.post("/vehicles", fields)).status).toBe(303);
      expect((await desk.store.settings.get()).place).toBe("us-ca");
      const [vehicle] = (await desk.store.vehicles.list()).items;
      expect(vehicle!.plan).not.toHaveProperty("barred");
    });

    test("what readings said to the quick question is not kept as if it held for good", async () => {
      const said = { says: "not-low", found: "airflow", where: "us-wi", service: "shop" };
      const fields = { refrigerant: "R-134a", nameplate: "23 oz", today: "weak", submit_key: "k", ...said };
      await desk.editor.post("/vehicles", fields);
      const [vehicle] = (await desk.store.vehicles.list()).items;
      expect(vehicle!.plan).not.toHaveProperty("readings");
      expect(vehicle!.plan).not.toHaveProperty("barred");
    });
  });
});
