import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { Role } from "../../src/store/roles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { settingsOf } from "../../src/store/workspaces.ts";
import { newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { browser, type LinksApp, linksOnNode, linksRuntimes } from "../support/links-app.ts";
import { formIn, textOf } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

// NIST SP 811 (2008), appendix B; the standard atmosphere.
const PSI_KPA = 6.894757;
const AIR_KPA = 101.325;

/** Low/low is undercharge, high/high with the fan stopped is poor airflow: trade training text T-22/8. At 85 °F. */
const LOW = { ambient: "85", low: "15", high: "120" };
const NO_AIR = { ambient: "85", low: "60", high: "380", fan: "stopped", more_air: "drops" };

describe.each(linksRuntimes)("readings and the top-off plan of a vehicle on $name", ({ start }) => {
  let app: LinksApp;
  let store: WorkspaceStore;
  let editor: Person;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());
  beforeEach(async () => {
    store = await newStore(app.sql);
    editor = await as("editor");
  });

  async function as(role: Role): Promise<Person> {
    return new Person(app, (await browser(app, store, role)).headers);
  }

  async function newVan(changes: Partial<typeof VAN> = {}) {
    const { id } = await store.vehicles.create({ ...VAN, ...changes });
    return { id, path: `/vehicles/${id}` };
  }

  async function set(settings: Partial<Parameters<WorkspaceStore["settings"]["update"]>[0]>) {
    const workspace = await store.settings.get();
    await store.settings.update({ ...settingsOf(workspace), ...settings }, workspace.version);
  }

  /** The form of the page with these fields filled in. */
  async function filled(
    page: string,
    fields: Record<string, string>,
    form_id = "record-form",
  ): Promise<URLSearchParams> {
    const form = formIn(await editor.page(page), form_id);
    for (const [name, value] of Object.entries(fields)) form.set(name, value);
    return form;
  }

  async function take(path: string, fields: Record<string, string>): Promise<string> {
    const answer = await editor.post(`${path}/readings`, await filled(`${path}/readings`, fields));
    expect(answer.status).toBe(303);
    const at = answer.headers.get("Location") ?? "";
    expect(at).toMatch(new RegExp(`^${path}/readings/[0-9a-z]{20}$`));
    return at;
  }

  const answerOf = (page: string) => textOf(/<div[^>]* id="answer"[\s\S]*?<\/h2>/.exec(page)?.[0] ?? "").trim();

  describe("readings", () => {
    test("are taken in the units of the workspace, kept with their day, and judged on a page of their own", async () => {
      const { id, path } = await newVan();
      const at = await take(path, { ...LOW, vent: "70", clutch: "cycles-fast", note: "After a drive." });
      const [line] = await store.readings.list(id);
      expect(line).toMatchObject({ clutch: "cycles-fast", fan: null, note: "After a drive.", version: 1 });
      expect(line!.ambient_c).toBeCloseTo((85 - 32) / 1.8, 9);
      expect(line!.low_kpa).toBeCloseTo(AIR_KPA + 15 * PSI_KPA, 4);
      expect(line!.high_kpa).toBeCloseTo(AIR_KPA + 120 * PSI_KPA, 4);
      const page = await editor.page(at);
      expect(textOf(page)).toContain("It is low on refrigerant.");
      expect(textOf(page)).toContain(
        "85 °F; low 15 psi, high 120 psi; vent 70 °F; clutch on and off every few seconds",
      );
      expect(page).toContain(`href="${path}/top-off"`);
    });

    test("stand on the vehicle's page, the latest marked, and count for its answer", async () => {
      const { id, path } = await newVan();
      await store.chargeLog.add(id, { date: "2024-05-01", cooling: "weak", added_g: 340 });
      await take(path, NO_AIR);
      const page = await editor.page(path);
      expect(answerOf(page)).toMatch(
        /^Don.t add refrigerant yet\. The readings show that too little air moves over the condenser/,
      );
      expect(textOf(page)).toMatch(/Check first .*Check that the fan starts/);
      expect(textOf(page)).toMatch(
        /Check first: too little air moves over the condenser\. .* used for the answer until (15 May|\d+ \w+) 20\d\d/,
      );
      await take(path, LOW);
      expect(answerOf(await editor.page(path))).toMatch(/^(Top it off|Repair it)/);
      expect((await editor.page(path)).match(/used for the answer until/g)).toHaveLength(1);
    });

    test("that say low make it low today, on the page and in the list, with no look of today in the log", async () => {
      const { id, path } = await newVan();
      const at = await take(path, LOW);
      const today = (await store.readings.list(id))[0]!.date;
      await store.chargeLog.add(id, { date: isoFromDay(dayNumber(today) - 500), finish: "weighed" });
      expect(answerOf(await editor.page(path))).toMatch(/^(Top it off|Repair it)/);
      expect(textOf(await editor.page("/vehicles"))).not.toContain("Leave it for now");
      await editor.post(`${at}/removals`, { submit_key: "r1", version: "1" });
      expect(answerOf(await editor.page(path))).toMatch(/^Leave it for now/);
    });

    test("count no more once something was added", async () => {
      const { id, path } = await newVan();
      await take(path, NO_AIR);
      const added = await filled(`${path}/log/new`, { added: "4 oz" });
      expect((await editor.post(`${path}/log`, added)).status).toBe(303);
      expect(await store.chargeLog.list(id)).toHaveLength(1);
      const page = await editor.page(path);
      expect(page).not.toContain("used for the answer until");
      expect(answerOf(page)).not.toMatch(/^Don.t add refrigerant yet/);
    });

    test("ask for neither refrigerant nor size, which the vehicle has: grams left by its own volume", async () => {
      const { path } = await newVan({ system_volume_ml: 2000 });
      await set({ mass_unit: "g", temperature_unit: "C", pressure_unit: "kPa-absolute" });
      const form = await editor.page(`${path}/readings`);
      expect(form).not.toMatch(/name="(?:refrigerant|nameplate)"/);
      expect(textOf(form)).toContain("Static pressure, kPa absolute");
      // Air pressure at 20 °C: 4.25 g a litre by the ideal-gas law with Z = 0.98, so 8.6 g in 2 L, without a range.
      const at = await take(path, { ambient: "20", static: "101.325" });
      expect(textOf(await editor.page(at))).toMatch(/About 9 g of vapor is left\./);
    });

    test("at a high-voltage compressor: a caution first, and no word of a clutch", async () => {
      const { path } = await newVan({ electric_compressor: true, refrigerant: "R-1234yf" });
      const form = await editor.page(`${path}/readings`);
      expect(textOf(form)).toContain(
        "High-voltage compressor: only a technician trained for high voltage may connect gauges",
      );
      expect(form).not.toMatch(/name="(?:clutch|rpm)"/);
      expect(textOf(await editor.page(await take(path, { ambient: "85", low: "39" })))).not.toMatch(/clutch/i);
    });

    test("what cannot be read is named, and everything comes back as it was typed", async () => {
      const { id, path } = await newVan();
      const typed = { when: "never", low: "low", high: "200", note: "x".repeat(2001) };
      const answer = await editor.post(`${path}/readings`, await filled(`${path}/readings`, typed));
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const field of ["when", "ambient", "low", "note"]) expect(page).toContain(`href="#${field}"`);
      for (const value of ["never", "low", "200"]) expect(page).toContain(`value="${value}"`);
      expect(await store.readings.list(id)).toEqual([]);
    });

    test("a double click keeps one set", async () => {
      const { id, path } = await newVan();
      const form = await filled(`${path}/readings`, LOW);
      const answers = await Promise.all([1, 2].map(() => editor.post(`${path}/readings`, form)));
      expect(new Set(answers.map(({ headers }) => headers.get("Location"))).size).toBe(1);
      expect(await store.readings.list(id)).toHaveLength(1);
    });

    test("sent back untouched they stay as they are, and the next reading makes them say more", async () => {
      const { id, path } = await newVan();
      const at = await take(path, { ...LOW, altitude: "5200", vent: "70.5", humidity: "40" });
      const untouched = formIn(await editor.page(at), "record-form");
      expect((await editor.post(`${at}/corrections`, untouched)).status).toBe(303);
      expect(await store.readings.list(id)).toMatchObject([{ version: 1 }]);
      const more = await filled(at, { static: "20" });
      expect((await editor.post(`${at}/corrections`, more)).headers.get("Location")).toBe(at);
      const [line] = await store.readings.list(id);
      expect(line!.version).toBe(2);
      // The air at 5200 ft (1585 m): 83.7 kPa, US Standard Atmosphere 1976.
      expect(line!.static_kpa).toBeCloseTo(83.7 + 20 * PSI_KPA, 0);
      expect(textOf(await editor.page(at))).toContain("This reading is lower, so no liquid is left");
    });

    test("of two who correct at once, the second is told and loses nothing", async () => {
      const { path } = await newVan();
      const at = await take(path, LOW);
      const [one, other] = [await filled(at, { vent: "70" }), await filled(at, { vent: "60" })];
      await editor.post(`${at}/corrections`, one);
      const answer = await editor.post(`${at}/corrections`, other);
      expect(answer.status).toBe(409);
      const page = await answer.text();
      expect(textOf(page)).toContain("vent 70 °F");
      expect(formIn(page, "record-form").get("vent")).toBe("60");
    });

    test("are removed, and put back", async () => {
      const { id, path } = await newVan();
      const at = await take(path, LOW);
      await editor.post(`${at}/removals`, { submit_key: "r1", version: "1" });
      expect(await store.readings.list(id)).toEqual([]);
      expect(textOf(await editor.page(at))).toContain("This set of readings was removed");
      await editor.post(`${at}/undos`, { submit_key: "r2", version: "2" });
      expect(await store.readings.list(id)).toHaveLength(1);
      expect(textOf(await editor.page(`${path}/readings/history`))).toContain("Restored");
    });

    test("who may only look sees what they mean, and no form", async () => {
      const { path } = await newVan();
      const at = await take(path, LOW);
      const viewer = await as("viewer");
      for (const address of [at, `${path}/readings`]) {
        const page = await viewer.page(address);
        expect(textOf(page)).toContain("It is low on refrigerant.");
        expect(page).not.toContain('method="post"');
      }
      expect((await viewer.post(`${path}/readings`, LOW)).status).toBe(403);
    });

    test("are not found under another vehicle", async () => {
      const [one, other] = [await newVan(), await newVan()];
      const at = await take(one.path, LOW);
      expect((await editor.get(at.replace(one.id, other.id))).status).toBe(404);
    });
  });

  describe("the place of the workspace", () => {
    // Wis. Admin. Code ATCP 136.16(1), (2).
    test("bars what its rules bar, and the vehicle's page says which", async () => {
      const { path } = await newVan({ plan: { service: "shop" } });
      expect(await editor.page(path)).toContain('href="/settings#place"');
      await set({ place: "us-wi" });
      const page = await editor.page(path);
      expect(page).toContain("not allowed here");
      expect(textOf(page)).toContain("A shop may not top it off.");
      expect(page).toMatch(/href="\/rules\?place=us-wi&amp;date=[\d-]+#us-wi-leak-repair"/);
      // Asked what if they did it themselves, the rule does not reach them.
      expect(textOf(await editor.page(`${path}?service=diy`))).toContain(
        "We know of no rule that limits these options here.",
      );
    });

    test("comes along when the first vehicle is kept from the quick question", async () => {
      const fields = { refrigerant: "R-134a", nameplate: "23 oz", where: "us-ca", today: "weak", submit_key: "k" };
      expect((await editor.post("/vehicles", fields)).status).toBe(303);
      expect((await store.settings.get()).place).toBe("us-ca");
      const [vehicle] = (await store.vehicles.list()).items;
      expect(vehicle!.plan).not.toHaveProperty("barred");
    });

    test("what readings said to the quick question is not kept as if it held for good", async () => {
      const said = { says: "not-low", found: "airflow", where: "us-wi", service: "shop" };
      const fields = { refrigerant: "R-134a", nameplate: "23 oz", today: "weak", submit_key: "k", ...said };
      await editor.post("/vehicles", fields);
      const [vehicle] = (await store.vehicles.list()).items;
      expect(vehicle!.plan).not.toHaveProperty("readings");
      expect(vehicle!.plan).not.toHaveProperty("barred");
    });
  });

  describe("the top-off plan", () => {
    /** Full by weight, and weak on the day of the plan: about as much is missing as a van of 650 g loses until then. */
    async function lowVan(changes: Partial<typeof VAN> = {}) {
      const { id, path } = await newVan(changes);
      await store.chargeLog.add(id, { date: "2024-06-14", finish: "weighed" });
      await store.chargeLog.add(id, { date: "2026-04-25", cooling: "weak" });
      return { id, path };
    }

    test("comes from the record, and is logged as it was done", async () => {
      const { id, path } = await lowVan();
      const page = await editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
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
      const twice = await Promise.all([1, 2].map(() => editor.post(`${path}/log`, form)));
      for (const answer of twice) {
        expect(answer.status).toBe(303);
        expect(answer.headers.get("Location")).toMatch(new RegExp(`^${path}\\?saved=log\\.`));
      }
      const log = await store.chargeLog.list(id);
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
      const said = textOf(await editor.page(twice[0]!.headers.get("Location") ?? ""));
      expect(said).toContain("The entry was saved.");
      expect(said).toContain("cooled well afterwards; 1 can opened; deposit of 10: return the cans by 1 January 2099");
    });

    test("what cannot be read of the entry comes back in the log's own form, as it was typed", async () => {
      const { id, path } = await lowVan();
      const wrong = { added: "much", cans: "half", deposit: "free", return_by: "soon", after: "nice" };
      const form = await filled(
        `${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`,
        wrong,
        "top-off-log",
      );
      const answer = await editor.post(`${path}/log`, form);
      expect(answer.status).toBe(422);
      const page = await answer.text();
      for (const field of ["added", "cans", "deposit", "return_by", "after"])
        expect(page).toContain(`href="#${field}"`);
      for (const typed of ["much", "half", "free", "soon"]) expect(page).toContain(`value="${typed}"`);
      expect(await store.chargeLog.list(id)).toHaveLength(2);
    });

    test("readings that say not low stop it; those that say low come in with their temperature", async () => {
      const { path } = await lowVan();
      await take(path, NO_AIR);
      const stopped = await editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(stopped).not.toContain('<ol class="steps">');
      expect(stopped).not.toContain('id="top-off-log"');
      await take(path, LOW);
      const page = await editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&where=us`);
      expect(page).toContain('<ol class="steps">');
      expect(
        formIn(page.replace('class="top-off-form"', 'class="top-off-form" id="plan"'), "plan").get("ambient"),
      ).toBe("85 °F");
    });

    test("a static pressure that shows no liquid stops it, with the grams left", async () => {
      const { path } = await lowVan();
      await take(path, { ambient: "85", static: "20" });
      const page = textOf(await editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`));
      // 9.7 g a litre by the ideal-gas law, 2.6 mL a gram of 650 g: 16 g and a little more, about half an ounce.
      expect(page).toContain("It holds about 0.5 oz");
      expect(page).not.toContain("Refrigerant goes in at the low side only.");
    });

    test("an electric compressor stops it, whatever the address says", async () => {
      const { path } = await lowVan({ electric_compressor: true });
      const page = await editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(textOf(page)).toContain("Stop: electric compressor.");
      expect(page).not.toContain('<ol class="steps">');
      expect(page).not.toContain('name="compressor"');
    });

    // 40 CFR 82.34(b).
    test("a rule of the place stops it, and says where it is written", async () => {
      const { path } = await lowVan({ refrigerant: "R-12", nameplate_g: 900 });
      await set({ place: "us" });
      const page = await editor.page(`${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
      expect(textOf(page)).toContain("40 CFR 82.34(b)");
      expect(page).not.toContain('<ol class="steps">');
      expect(textOf(page)).toContain("not legal advice");
    });

    test("who may only look sees the plan, and no form to log it", async () => {
      const { path } = await lowVan();
      const page = await (await as("viewer")).page(
        `${path}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`,
      );
      expect(page).toContain('<ol class="steps">');
      expect(page).not.toContain('method="post"');
    });

    test("what cannot be read of its own form is named", async () => {
      const { path } = await lowVan();
      const answer = await editor.get(`${path}/top-off?ambient=hot&compressor=steam&seal=wax`);
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
