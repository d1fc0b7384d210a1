import { describe, expect, test } from "vitest";
import { dayNumber, isoFromDay } from "../../../src/core/quantities/dates.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { textOf } from "../../support/page-form.ts";
import { answerOf, LOW, NO_AIR, ReadingsDesk } from "./readings-desk.ts";

// NIST SP 811 (2008), appendix B; the standard atmosphere.
const PSI_KPA = 6.894757;

const AIR_KPA = 101.325;

describe.each(linksRuntimes)("readings of a vehicle on $name", ({ start }) => {
  const desk = new ReadingsDesk(start);

  describe("readings", () => {
    test("are taken in the units of the workspace, kept with their day, and judged on a page of their own", async () => {
      const { id, path } = await desk.newVan();
      const at = await desk.take(path, { ...LOW, vent: "70", clutch: "cycles-fast", note: "After a drive." });
      const [line] = await desk.store.readings.list(id);
      expect(line).toMatchObject({ clutch: "cycles-fast", fan: null, note: "After a drive.", version: 1 });
      expect(line!.ambient_c).toBeCloseTo((85 - 32) / 1.8, 9);
      expect(line!.low_kpa).toBeCloseTo(AIR_KPA + 15 * PSI_KPA, 4);
      expect(line!.high_kpa).toBeCloseTo(AIR_KPA + 120 * PSI_KPA, 4);
      const page = await desk.editor.page(at);
      expect(textOf(page)).toContain("It is low on refrigerant.");
      expect(textOf(page)).toContain(
        "85 °F; low 15 psi, high 120 psi; vent 70 °F; clutch on and off every few seconds",
      );
      expect(page).toContain(`href="${path}/top-off"`);
    });

    test("stand on the vehicle's page, the latest marked, and count for its answer", async () => {
      const { id, path } = await desk.newVan();
      await desk.store.chargeLog.add(id, { date: "2024-05-01", cooling: "weak", added_g: 340 });
      await desk.take(path, NO_AIR);
      const page = await desk.editor.page(path);
      expect(answerOf(page)).toMatch(
        /^Don.t add refrigerant yet\. The readings show that too little air moves over the condenser/,
      );
      expect(textOf(page)).toMatch(/Check first .*Check that the fan starts/);
      expect(textOf(page)).toMatch(
        /Check first: too little air moves over the condenser\. .* used for the answer until (15 May|\d+ \w+) 20\d\d/,
      );
      await desk.take(path, LOW);
      expect(answerOf(await desk.editor.page(path))).toMatch(/^(Top it off|Repair it)/);
      expect((await desk.editor.page(path)).match(/used for the answer until/g)).toHaveLength(1);
    });

    test("that say low make it low today, on the page and in the list, with no look of today in the log", async () => {
      const { id, path } = await desk.newVan();
      const at = await desk.take(path, LOW);
      const today = (await desk.store.readings.list(id))[0]!.date;
      await desk.store.chargeLog.add(id, { date: isoFromDay(dayNumber(today) - 500), finish: "weighed" });
      expect(answerOf(await desk.editor.page(path))).toMatch(/^(Top it off|Repair it)/);
      expect(textOf(await desk.editor.page("/vehicles"))).not.toContain("Leave it for now");
      await desk.editor.post(`${at}/removals`, { submit_key: "r1", version: "1" });
      expect(answerOf(await desk.editor.page(path))).toMatch(/^Leave it for now/);
    });

    test("count no more once something was added", async () => {
      const { id, path } = await desk.newVan();
      await desk.take(path, NO_AIR);
      const added = await desk.filled(`${path}/log/new`, { added: "4 oz" });
      expect((await desk.editor.post(`${path}/log`, added)).status).toBe(303);
      expect(await desk.store.chargeLog.list(id)).toHaveLength(1);
      const page = await desk.editor.page(path);
      expect(page).not.toContain("used for the answer until");
      expect(answerOf(page)).not.toMatch(/^Don.t add refrigerant yet/);
    });

    test("ask for neither refrigerant nor size, which the vehicle has: grams left by its own volume", async () => {
      const { path } = await desk.newVan({ system_volume_ml: 2000 });
      await desk.set({ mass_unit: "g", temperature_unit: "C", pressure_unit: "kPa-absolute" });
      const form = await desk.editor.page(`${path}/readings`);
      expect(form).not.toMatch(/name="(?:refrigerant|nameplate)"/);
      expect(textOf(form)).toContain("Static pressure, kPa absolute");
      // Air pressure at 20 °C: 4.25 g a litre by the ideal-gas law with Z = 0.98, so 8.6 g in 2 L, without a range.
      const at = await desk.take(path, { ambient: "20", static: "101.325" });
      expect(textOf(await desk.editor.page(at))).toMatch(/About 9 g of vapor is left\./);
    });

    test("at a high-voltage compressor: a caution first, and no word of a clutch", async () => {
      const { path } = await desk.newVan({ electric_compressor: true, refrigerant: "R-1234yf" });
      const form = await desk.editor.page(`${path}/readings`);
      expect(textOf(form)).toContain(
        "High-voltage compressor: only a technician trained for high voltage may connect gauges",
      );
      expect(form).not.toMatch(/name="(?:clutch|rpm)"/);
      expect(textOf(await desk.editor.page(await desk.take(path, { ambient: "85", low: "39" })))).not.toMatch(
        /clutch/i,
      );
    });
  });
});
