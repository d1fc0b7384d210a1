import { describe, expect, test } from "vitest";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { ApiDesk, CAN, DYE_CLEAN } from "./api-desk.ts";

describe.each(linksRuntimes)("the records as JSON on $name", ({ start }) => {
  const desk = new ApiDesk(start);

  describe("what the model says about a vehicle", () => {
    const log = [{ ...CAN, date: "2024-06-14" }, CAN];

    const GENERAL_PRICES = { currency: "USD", book: null, wanted: null, left_out: null };

    test("is what it says to the same question asked without a record", async () => {
      const { id } = await desk.newVan({ charge_log: log, findings: [DYE_CLEAN], plan: { keep_years: 3 } });
      const answer = await desk.get(`/api/vehicles/${id}/assessment?as_of=2026-05-01`);
      const question = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } };
      const asked = await desk.post("/api/assess", {
        ...question,
        log,
        findings: [DYE_CLEAN],
        plan: { keep_years: 3 },
      });
      expect([answer.status, answer.body]).toEqual([200, { ...asked.body, prices_used: GENERAL_PRICES }]);
    });

    test("takes the workspace's climate, numbers and the rules of its place", async () => {
      const current = await desk.store.settings.get();
      const changes = { climate: "hot-desert", plan: { service: "shop" as const }, place: "us-wi" };
      await desk.store.settings.update({ ...settingsOf(current), ...changes }, current.version);
      const { id } = await desk.newVan({ charge_log: log });
      const { body } = await desk.get(`/api/vehicles/${id}/assessment?as_of=2026-05-01`);
      // Wis. Admin. Code ATCP 136.16: no refrigerant into a leaking system.
      const of = (option: string) => body.options.find(({ id }) => id === option)!;
      expect([of("top-off").not_offered_because, of("repair").offered]).toEqual(["rule", true]);
      const monthly_mean_c = [13.0, 15.7, 17.3, 23.7, 27.3, 34.0, 35.6, 33.8, 30.4, 24.8, 18.0, 11.7];
      const asked = await desk.post("/api/assess", {
        as_of: "2026-05-01",
        vehicle: { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c },
        log,
        plan: { service: "shop", barred: ["top-off", "dye-test"] },
      });
      expect(body).toEqual({ ...asked.body, prices_used: GENERAL_PRICES });
    });

    test.each(["2026-02-29", "1989-12-31", "2100-01-02", "tomorrow"])("is not asked of the day %s", async (as_of) => {
      const { id } = await desk.newVan();
      expect((await desk.get(`/api/vehicles/${id}/assessment?as_of=${as_of}`)).status).toBe(422);
    });
  });
});
