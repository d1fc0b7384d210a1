import { describe, expect, test } from "vitest";
import { dayNumber, isoFromDay } from "../../../src/core/quantities/dates.ts";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { answerOf, LOW, ReadingsDesk } from "./readings-desk.ts";

// NIST SP 811 (2008), appendix B; the standard atmosphere.
const PSI_KPA = 6.894757;

const AIR_KPA = 101.325;

const NO_AIR = { ambient: "85", low: "60", high: "380", fan: "stopped", more_air: "drops" };

describe.each(linksRuntimes)("readings and the top-off plan of a vehicle on $name", ({ start }) => {
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

    test("what cannot be read is named, and everything comes back as it was typed", async () => {
      const { id, path } = await desk.newVan();
      const typed = { when: "never", low: "low", high: "200", note: "x".repeat(2001) };
      const answer = await desk.editor.post(`${path}/readings`, await desk.filled(`${path}/readings`, typed));
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const field of ["when", "ambient", "low", "note"]) expect(page).toContain(`href="#${field}"`);
      for (const value of ["never", "low", "200"]) expect(page).toContain(`value="${value}"`);
      expect(await desk.store.readings.list(id)).toEqual([]);
    });

    test("a double click keeps one set", async () => {
      const { id, path } = await desk.newVan();
      const form = await desk.filled(`${path}/readings`, LOW);
      const answers = await Promise.all([1, 2].map(() => desk.editor.post(`${path}/readings`, form)));
      expect(new Set(answers.map(({ headers }) => headers.get("Location"))).size).toBe(1);
      expect(await desk.store.readings.list(id)).toHaveLength(1);
    });

    test("sent back untouched they stay as they are, and the next reading makes them say more", async () => {
      const { id, path } = await desk.newVan();
      const at = await desk.take(path, { ...LOW, altitude: "5200", vent: "70.5", humidity: "40" });
      const untouched = formIn(await desk.editor.page(at), "record-form");
      expect((await desk.editor.post(`${at}/corrections`, untouched)).status).toBe(303);
      expect(await desk.store.readings.list(id)).toMatchObject([{ version: 1 }]);
      const more = await desk.filled(at, { static: "20" });
      expect((await desk.editor.post(`${at}/corrections`, more)).headers.get("Location")).toBe(at);
      const [line] = await desk.store.readings.list(id);
      expect(line!.version).toBe(2);
      // The air at 5200 ft (1585 m): 83.7 kPa, US Standard Atmosphere 1976.
      expect(line!.static_kpa).toBeCloseTo(83.7 + 20 * PSI_KPA, 0);
      expect(textOf(await desk.editor.page(at))).toContain("This reading is lower, so no liquid is left");
    });

    test("of two who correct at once, the second is told and loses nothing", async () => {
      const { path } = await desk.newVan();
      const at = await desk.take(path, LOW);
      const [one, other] = [await desk.filled(at, { vent: "70" }), await desk.filled(at, { vent: "60" })];
      await desk.editor.post(`${at}/corrections`, one);
      const answer = await desk.editor.post(`${at}/corrections`, other);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toContain("vent 70 °F");
      expect(formIn(page, "record-form").get("vent")).toBe("60");
    });

    test("are removed, and put back", async () => {
      const { id, path } = await desk.newVan();
      const at = await desk.take(path, LOW);
      await desk.editor.post(`${at}/removals`, { submit_key: "r1", version: "1" });
      expect(await desk.store.readings.list(id)).toEqual([]);
      expect(textOf(await desk.editor.page(at))).toContain("This set of readings was removed");
      await desk.editor.post(`${at}/undos`, { submit_key: "r2", version: "2" });
      expect(await desk.store.readings.list(id)).toHaveLength(1);
      expect(textOf(await desk.editor.page(`${path}/readings/history`))).toContain("Restored");
    });

    test("who may only look sees what they mean, and no form", async () => {
      const { path } = await desk.newVan();
      const at = await desk.take(path, LOW);
      const viewer = await desk.as("viewer");
      for (const address of [at, `${path}/readings`]) {
        const page = await viewer.page(address);
        expect(textOf(page)).toContain("It is low on refrigerant.");
        expect(page).not.toContain('method="post"');
      }
      expect((await viewer.post(`${path}/readings`, LOW)).status).toBe(403);
    });

    test("are not found under another vehicle", async () => {
      const [one, other] = [await desk.newVan(), await desk.newVan()];
      const at = await desk.take(one.path, LOW);
      expect((await desk.editor.get(at.replace(one.id, other.id))).status).toBe(404);
    });
  });
});
