import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import type { VehicleInput } from "../../src/core/question/record.ts";
import { VAN } from "../store/samples.ts";
import { SetClock } from "./at.ts";
import { DESK, expectGoodEverywhere, keepShot, openPage, PHONE, sharedPage } from "./support.ts";

const TODAY = "2026-05-04T09:30:00Z";

const at = new SetClock(TODAY);

/** Full by weight two years ago, and weak today. */
async function lowVan(changes: Partial<VehicleInput> = {}) {
  const { id } = await at.app.store.vehicles.create(
    { ...VAN, ...changes },
    {
      charge_log: [
        { date: "2024-06-14", finish: "weighed" },
        { date: "2026-05-04", cooling: "weak" },
      ],
    },
  );
  return { id, url: `${at.app.url}/vehicles/${id}` };
}

/**
 * 85 °F; low/low is undercharge, high/high with the fan stopped poor airflow (trade training text T-22/8). kPa
 * absolute.
 */
const LOW = { date: "2026-05-04", ambient_c: 29.44, low_kpa: 204.7, high_kpa: 928.7 };
const NO_AIR = { ...LOW, low_kpa: 515, high_kpa: 2721, fan: "stopped", more_air: "drops" } as const;

const verdict = (page: Page) => page.locator(".page-verdict h2").textContent();

/** Every state of the pages that looks different. */
const STATES: readonly { name: string; open: (page: Page) => Promise<void> }[] = [
  { name: "vehicle-readings-new", open: async (page) => void (await page.goto(`${(await lowVan()).url}/readings`)) },
  {
    name: "vehicle-readings-electric",
    open: async (page) => void (await page.goto(`${(await lowVan({ electric_compressor: true })).url}/readings`)),
  },
  {
    name: "vehicle-readings-before",
    open: async (page) => {
      const { id, url } = await lowVan();
      await at.app.store.readings.add(id, { ...NO_AIR, date: "2026-03-01", note: "مكيف الهواء" });
      await at.app.store.readings.add(id, LOW);
      await page.goto(`${url}/readings`);
    },
  },
  {
    name: "vehicle-readings-set",
    open: async (page) => {
      const { id, url } = await lowVan();
      const line = await at.app.store.readings.add(id, { ...LOW, static_kpa: 745, vent_c: 21, clutch: "cycles-fast" });
      await at.app.store.readings.correct(line.id, 1, { ...LOW, static_kpa: 745, vent_c: 20, clutch: "cycles-fast" });
      await page.goto(`${url}/readings/${line.id}`);
    },
  },
  {
    name: "vehicle-readings-errors",
    open: async (page) => {
      await page.goto(`${(await lowVan()).url}/readings`);
      await page.getByLabel("Low side, psi").fill("abc");
      await page.getByRole("button", { name: "Save and show what they mean" }).click();
      await page.locator("#error-summary").waitFor();
    },
  },
  {
    name: "vehicle-check-first",
    open: async (page) => {
      const { id, url } = await lowVan();
      await at.app.store.readings.add(id, NO_AIR);
      await page.goto(url);
    },
  },
  {
    name: "vehicle-top-off",
    open: async (page) => {
      const { id, url } = await lowVan();
      await at.app.store.readings.add(id, LOW);
      await page.goto(`${url}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
    },
  },
  {
    name: "vehicle-top-off-stopped",
    open: async (page) => void (await page.goto(`${(await lowVan({ electric_compressor: true })).url}/top-off`)),
  },
  {
    name: "vehicle-top-off-errors",
    open: async (page) => void (await page.goto(`${(await lowVan()).url}/top-off?ambient=hot`)),
  },
];

const look = sharedPage(() => at.browser);

test.each(STATES)("$name: readable by everyone, nothing blocked", async ({ name, open }) => {
  const { page, problems } = await look();
  await open(page);
  await expectGoodEverywhere(page, name);
  // Chromium itself calls a page with status 422 an error on the console.
  expect(problems.filter((problem) => !problem.includes("status of 422"))).toEqual([]);
});

describe.each([true, false])("with JavaScript: %s, on a phone", (javaScriptEnabled) => {
  test("readings taken, one more added to them, the plan, the top-off written down", async () => {
    const { id, url } = await lowVan();
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    await page.goto(url);
    await page.getByRole("navigation", { name: "This vehicle" }).getByRole("link", { name: "Readings" }).click();
    await expect.poll(() => page.getByLabel("When").inputValue()).toBe("4 May 2026");
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill("15");
    await page.getByLabel("High side, psi").fill("120");
    await page.getByRole("button", { name: "Save and show what they mean" }).click();
    expect(await verdict(page)).toBe("It is low on refrigerant.");

    await page.getByRole("link", { name: /^Read the static pressure/ }).click();
    await expect.poll(() => new URL(page.url()).hash).toBe("#static");
    await page.getByLabel("Static pressure, psi").fill("94");
    await page.getByRole("button", { name: "Save the correction" }).click();
    await expect.poll(() => page.getByText("The gauge can't show how much.").count()).toBe(1);
    expect(await at.app.store.readings.list(id)).toMatchObject([{ version: 2 }]);

    await page.getByRole("link", { name: "Top-off plan" }).click();
    await page.getByLabel("What drives the compressor").selectOption("belt");
    await page.getByRole("button", { name: "Make the plan" }).click();
    expect(await verdict(page)).toMatch(/^Add .* first\./);
    expect(await page.getByLabel("Air temperature, °F").inputValue()).toBe("85 °F");

    await page.getByLabel("Refrigerant added").fill("9 oz");
    await page.getByRole("group", { name: "How did it cool before?" }).getByLabel("Poorly").check();
    await page.getByRole("group", { name: "How does it cool now?" }).getByLabel("Well").check();
    await page.getByRole("button", { name: "Add to the log" }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toContain("The entry was saved.");
    const row = page.locator("table.charge-log tbody tr").first();
    expect(await row.textContent()).toMatch(/poorly.*9 oz added from cans.*cooled well afterwards; 1 can opened/);
    // What was read before it no longer counts.
    expect(await page.locator("#readings").getByText("used for the answer until").count()).toBe(0);
    await close();
  });

  test("readings taken from the answer are kept and count in it, back button or not", async () => {
    const { id } = await at.app.store.vehicles.create(VAN, {
      charge_log: [
        { date: "2026-04-24", finish: "weighed" },
        { date: "2026-05-04", cooling: "weak" },
      ],
    });
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    await page.goto(`${at.app.url}/vehicles/${id}`);
    const sentence = () => page.locator("#answer h2").textContent();
    expect(await sentence()).toMatch(/^Take readings before you buy anything/);
    await page.locator(".next-step").first().getByRole("link", { name: "Take readings" }).click();
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill("15");
    await page.getByLabel("High side, psi").fill("120");
    await page.getByRole("button", { name: "Save and show what they mean" }).click();
    await page.getByRole("link", { name: "The vehicle", exact: true }).click();
    await expect.poll(sentence).toMatch(/^(Top it off|Repair it)/);
    const counted = page.locator("#counted-readings");
    expect((await counted.textContent())?.replace(/\s+/g, " ")).toContain(
      "It counts the readings of 4 May 2026: it is low; until 18 May 2026",
    );
    await counted.getByRole("link").click();
    expect(new URL(page.url()).hash).toBe("#readings");
    expect(await page.locator("#readings").getByText("used for the answer until 18 May 2026").count()).toBe(1);

    // Back through the set to the form: the set is there once, and the vehicle's answer goes on counting it.
    for (let i = 0; i < 4; i++) await page.goBack();
    expect(await at.app.store.readings.list(id)).toHaveLength(1);
    await page.goto(`${at.app.url}/vehicles/${id}`);
    expect(await sentence()).toMatch(/^(Top it off|Repair it)/);
    await close();
  });

  test("readings that say not low: the vehicle's answer is to check first", async () => {
    const { url } = await lowVan();
    const { page, close } = await openPage(at.browser, { viewport: PHONE, javaScriptEnabled });
    await page.goto(`${url}/readings`);
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill("60");
    await page.getByLabel("High side, psi").fill("380");
    await page.getByText("Engine speed, fan, condenser").click();
    await page.getByLabel("Fan", { exact: true }).selectOption("stopped");
    await page.getByRole("button", { name: "Save and show what they mean" }).click();
    await page.getByRole("link", { name: "The vehicle", exact: true }).click();
    await expect
      .poll(() => page.locator("#answer h2").textContent())
      .toMatch(/^Don't add refrigerant yet\. The readings show that too little air/);
    expect(await page.locator("#readings").getByText("used for the answer until").count()).toBe(1);
    await close();
  });
});

describe("with the keyboard alone", () => {
  test("readings are taken, and a top-off is written down", async () => {
    const { id, url } = await lowVan();
    const { page, close } = await openPage(at.browser, { viewport: PHONE });
    await page.goto(`${url}/readings`);
    await page.getByLabel("When").focus();
    // Air temperature, what is folded away, static pressure, low side, high side.
    for (const typed of ["85", "", "", "15", "120"]) {
      await page.keyboard.press("Tab");
      if (typed !== "") await page.keyboard.type(typed);
    }
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/readings\/[0-9a-z]{20}$/);
    expect(await verdict(page)).toBe("It is low on refrigerant.");

    await page.goto(`${url}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`);
    await page.getByLabel("Refrigerant added").focus();
    await page.keyboard.press("ControlOrMeta+A");
    await page.keyboard.type("8 oz");
    await page.keyboard.press("Enter");
    await page.waitForURL(/saved=log\./);
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("saved");
    expect(await at.app.store.chargeLog.list(id)).toHaveLength(3);
    await close();
  });

  test("what is to be put right has the focus, and leads to its field", async () => {
    const { url } = await lowVan();
    const { page, close } = await openPage(at.browser);
    await page.goto(`${url}/readings`);
    await page.getByLabel("High side, psi").focus();
    await page.keyboard.type("three hundred");
    await page.keyboard.press("Enter");
    await page.locator("#error-summary").waitFor();
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("error-summary");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await expect.poll(() => new URL(page.url()).hash).toBe("#high");
    expect(await page.getByLabel("High side, psi").inputValue()).toBe("three hundred");
    await close();
  });
});

describe("sending in twice", () => {
  test("by a double click or after going back, readings are kept once", async () => {
    const { id, url } = await lowVan();
    const { page, close } = await openPage(at.browser);
    await page.goto(`${url}/readings`);
    await page.getByLabel("Air temperature, °F").fill("85");
    await page.getByLabel("Low side, psi").fill("15");
    await page.getByRole("button", { name: "Save and show what they mean" }).dblclick();
    await page.waitForURL(/\/readings\/[0-9a-z]{20}$/);
    expect(await at.app.store.readings.list(id)).toHaveLength(1);
    await close();
  });
});

describe("on paper", () => {
  test("a set of readings and a plan are ink on white: no buttons, no way onward, every caution", async () => {
    const { id, url } = await lowVan();
    const line = await at.app.store.readings.add(id, LOW);
    const { page, close } = await openPage(at.browser, { viewport: DESK, colorScheme: "dark" });
    for (const [name, address] of [
      ["vehicle-readings", `${url}/readings/${line.id}`],
      ["vehicle-top-off", `${url}/top-off?compressor=belt&contents=as-labeled&ambient=85&where=us`],
    ] as const) {
      await page.emulateMedia({ media: "screen" });
      await page.goto(address);
      await page.emulateMedia({ media: "print" });
      const paper = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
      expect(paper).toBe("rgb(255, 255, 255)");
      for (const button of await page.locator("main button").all()) expect(await button.isVisible()).toBe(false);
      expect(await page.getByText("Van 2").isVisible()).toBe(true);
      expect(await page.locator("#onward, #correct").filter({ visible: true }).count()).toBe(0);
      expect(await verdict(page)).toMatch(/^It is low|^Add /);
      await keepShot(page, `${name}-printed`);
    }
    expect(await page.locator(".steps .step-caution").first().isVisible()).toBe(true);
    expect(await page.getByText("Low side only.").isVisible()).toBe(true);
    await close();
  });
});
