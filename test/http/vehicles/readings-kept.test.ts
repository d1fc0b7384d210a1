import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { LOW, ReadingsDesk } from "./readings-desk.ts";

// NIST SP 811 (2008), appendix B; the standard atmosphere.
const PSI_KPA = 6.894757;

describe.each(linksRuntimes)("readings of a vehicle on $name", ({ start }) => {
  const desk = new ReadingsDesk(start);

  describe("readings", () => {
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
