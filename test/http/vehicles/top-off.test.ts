import { describe, expect, test } from "vitest";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { newStore } from "../../store/engines.ts";
import { VAN } from "../../store/samples.ts";
import { browser, linksOnNode, linksRuntimes } from "../../support/links-app.ts";
import { formIn, textOf } from "../../support/page-form.ts";
import { Person } from "../../support/person.ts";
import { LOW, NO_AIR, ReadingsDesk } from "./readings-desk.ts";

describe.each(linksRuntimes)("a vehicle to be topped off on $name", ({ start }) => {
  const desk = new ReadingsDesk(start);

  describe("the top-off plan", () => {
    /** Full by weight, and weak on the day of the plan: about as much is missing as a van of 650 g loses until then. */
    async function lowVan(changes: Partial<typeof VAN> = {}) {
      const { id, path } = await desk.newVan(changes);
      await desk.store.chargeLog.add(id, { date: "2024-06-14", finish: "weighed" });
      await desk.store.chargeLog.add(id, { date: "2026-04-25", cooling: "weak" });
      return { id, path };
    }

    test("comes from the record, and is logged as it was done", async () => {
      const { id, path } = await lowVan();
      const page = await desk.editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(textOf(page)).toMatch(/Add [\d.]+ oz first\. Then add small amounts, no more than [\d.]+ oz in total\./);
      expect(textOf(page)).toContain("Refrigerant goes in at the low side only.");
      const form = formIn(page, "top-off-log");
      const planned = Number(/About ([\d.]+) oz leaves the cans/.exec(textOf(page))?.[1]);
      const cans = /Buy (\d) can/.exec(textOf(page))?.[1];
      // The page rounds to the ounce, the form to a tenth.
      expect(Math.abs(Number.parseFloat(form.get("added") ?? "") - planned)).toBeLessThanOrEqual(0.55);
      expect([form.get("finish"), form.get("added_by"), form.get("cans")]).toEqual(["gauges", "cans", cans]);
      form.set("cans", "1");
      const done = {
        cooling: "weak",
        added: "9 oz",
        after: "ok",
        deposit: "10",
        return_by: "1 Jan 2099",
        dye: "added",
      };
      for (const [name, value] of Object.entries(done)) form.set(name, value);
      const twice = await Promise.all([1, 2].map(() => desk.editor.post(`${path}/log`, form)));
      for (const answer of twice) {
        expect(answer.status).toBe(303);
        expect(answer.headers.get("Location")).toMatch(new RegExp(`^${path}\\?saved=log\\.`));
      }
      const log = await desk.store.chargeLog.list(id);
      expect(log).toHaveLength(3);
      expect(log[2]).toMatchObject({
        cooling: "weak",
        added_by: "cans",
        finish: "gauges",
        dye: "added",
        cooling_after: "ok",
        cans_opened: 1,
        deposit: 10,
        deposit_return_by: "2099-01-01",
      });
      expect(log[2]!.added_g).toBeCloseTo(9 * 28.349523125, 6);
      const said = textOf(await desk.editor.page(twice[0]!.headers.get("Location") ?? ""));
      expect(said).toContain("The entry was saved.");
      expect(said).toContain("cooled well afterwards; 1 can opened; deposit of 10: return the cans by 1 January 2099");
    });

    test("what cannot be read of the entry comes back in the log's own form, as it was typed", async () => {
      const { id, path } = await lowVan();
      const wrong = { added: "much", cans: "half", deposit: "free", return_by: "soon", after: "nice" };
      const form = await desk.filled(
        `${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`,
        wrong,
        "top-off-log",
      );
      const answer = await desk.editor.post(`${path}/log`, form);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const field of ["added", "cans", "deposit", "return_by", "after"])
        expect(page).toContain(`href="#${field}"`);
      for (const typed of ["much", "half", "free", "soon"]) expect(page).toContain(`value="${typed}"`);
      expect(await desk.store.chargeLog.list(id)).toHaveLength(2);
    });

    test("readings that say not low stop it; those that say low come in with their temperature", async () => {
      const { path } = await lowVan();
      await desk.take(path, NO_AIR);
      const stopped = await desk.editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(stopped).not.toContain('<ol class="steps">');
      expect(stopped).not.toContain('id="top-off-log"');
      await desk.take(path, LOW);
      const page = await desk.editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&where=us`);
      expect(page).toContain('<ol class="steps">');
      expect(
        formIn(page.replace('class="top-off-form"', 'class="top-off-form" id="plan"'), "plan").get("ambient"),
      ).toBe("85 °F");
    });

    test("a static pressure that shows no liquid stops it, with the grams left", async () => {
      const { path } = await lowVan();
      await desk.take(path, { ambient: "85", static: "20" });
      const page = textOf(
        await desk.editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`),
      );
      // 9.7 g a litre by the ideal-gas law, 2.6 mL a gram of 650 g: 16 g and a little more, about half an ounce.
      expect(page).toContain("It holds about 0.5 oz");
      expect(page).not.toContain("Refrigerant goes in at the low side only.");
    });

    test("an electric compressor stops it, whatever the address says", async () => {
      const { path } = await lowVan({ electric_compressor: true });
      const page = await desk.editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(textOf(page)).toContain("Stop: electric compressor.");
      expect(page).not.toContain('<ol class="steps">');
      expect(page).not.toContain('name="compressor"');
    });

    // 40 CFR 82.34(b).
    test("a rule of the place stops it, and says where it is written", async () => {
      const { path } = await lowVan({ refrigerant: "R-12", nameplate_g: 900 });
      await desk.set({ place: "us" });
      const page = await desk.editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(textOf(page)).toContain("40 CFR 82.34(b)");
      expect(page).not.toContain('<ol class="steps">');
      expect(textOf(page)).toContain("not legal advice");
    });

    test("who may only look sees the plan, and no form to log it", async () => {
      const { path } = await lowVan();
      const page = await (await desk.as("viewer")).page(
        `${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`,
      );
      expect(page).toContain('<ol class="steps">');
      expect(page).not.toContain('method="post"');
    });

    test("what cannot be read of its own form is named", async () => {
      const { path } = await lowVan();
      const answer = await desk.editor.get(`${path}/top-off?ambient=hot&compressor=steam&seal=wax`);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const field of ["ambient", "compressor", "seal"]) expect(page).toContain(`href="#${field}"`);
    });
  });
});

// California Air Resources Board: $10 a can, back within 90 days, until 2025-01-01.
describe("a can deposit that applies on the day", () => {
  test.each([
    ["2024-06-01", "10", "30 August 2024"],
    ["2025-06-01", "", ""],
  ])("on %s: %s", async (today, deposit, return_by) => {
    const app = await linksOnNode({ now: () => new Date(`${today}T12:00:00Z`) });
    const store = await newStore(app.sql);
    const workspace = await store.settings.get();
    await store.settings.update({ ...settingsOf(workspace), place: "us-ca" }, workspace.version);
    const { id } = await store.vehicles.create(VAN, {
      charge_log: [
        { date: "2023-06-14", finish: "weighed" },
        { date: "2024-05-20", cooling: "weak" },
      ],
    });
    const editor = new Person(app, (await browser(app, store, "editor")).headers);
    const form = formIn(
      await editor.page(`/vehicles/${id}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`),
      "top-off-log",
    );
    expect([form.get("deposit"), form.get("return_by")]).toEqual([deposit, return_by]);
    await app.close();
  });
});
