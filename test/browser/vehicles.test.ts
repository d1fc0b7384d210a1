import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type RunningServer, startServer } from "../support/server.ts";
import { BuiltServer } from "./at.ts";
import {
  expectAccessible,
  expectGoodEverywhere,
  expectNoSidewaysScroll,
  keepShot,
  openPage,
  PHONE,
  sharedPage,
} from "./support.ts";

const at = new BuiltServer();

/** Chromium itself calls a page with status 4xx an error on the console, and an overtaken request a failed one. */
function unexpected(problems: readonly string[]): string[] {
  return problems.filter((problem) => !/status of 4\d\d|net::ERR_ABORTED$/.test(problem));
}

/** Waits until the page has taken in a change. */
async function settled(page: Page): Promise<void> {
  await page.waitForLoadState("networkidle");
  await page.waitForTimeout(100);
}

/** Everything in sight once, so that what waits for that is there. */
async function readThrough(page: Page): Promise<void> {
  const height = await page.evaluate(() => document.body.scrollHeight);
  for (let y = 0; y < height; y += 600) {
    await page.evaluate((top) => scrollTo(0, top), y);
    await page.waitForTimeout(30);
  }
  await settled(page);
}

interface Vehicle {
  id: string;
  path: string;
}

/** A vehicle with two entries, one of them with a note, through the API. */
async function newVehicle(label: string): Promise<Vehicle> {
  const response = await fetch(`${at.server.url}/api/vehicles`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({
      label,
      refrigerant: "R-134a",
      nameplate_g: 650,
      charge_log: [
        { date: "2025-03-10", cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side" },
        { date: "2026-04-02", cooling: "weak", added_g: 300, added_by: "cans", note: "Half a can was left." },
      ],
    }),
  });
  expect(response.status).toBe(201);
  const { id } = (await response.json()) as { id: string };
  return { id, path: `${at.server.url}/vehicles/${id}` };
}

async function logOf({ id }: Vehicle): Promise<{ id: string; note: string | null; added_g: number | null }[]> {
  const response = await fetch(`${at.server.url}/api/vehicles/${id}/charge-log`);
  return ((await response.json()) as { items: { id: string; note: string | null; added_g: number | null }[] }).items;
}

const OUNCE_G = 28.349523125; // NIST SP 811 (2008), appendix B

/** Three top-offs from cans, a year apart, and poor cooling today. */
const QUESTION = `/?units=us&refrigerant=R-134a&nameplate=23+oz&${["14+Jul+2023", "1+Jul+2024", "28+Jun+2025"]
  .map((when) => `when=${when}&did=cans&amount=12+oz&cooled=weak`)
  .join("&")}&today=weak&keep=5&service=diy&tools=yes`;

describe.each([
  { name: "with JavaScript", javaScriptEnabled: true },
  { name: "without JavaScript", javaScriptEnabled: false },
])("a vehicle's life $name", ({ javaScriptEnabled }) => {
  test("kept from the quick question, an entry added, corrected, looked up and undone", async () => {
    const { page, problems, close } = await openPage(at.browser, { javaScriptEnabled });
    await page.goto(at.server.url + QUESTION);
    await page.getByLabel("Name, like the blue van").fill("The blue van");
    await page.getByRole("button", { name: "Save this vehicle" }).click();
    await page.waitForURL(/\/vehicles\/[0-9a-z]{20}\?saved=kept$/);
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("The blue van");
    const rows = page.locator("#charge-log tbody tr");
    const kept = await rows.count();
    expect(kept).toBe(4);

    await page.getByRole("link", { name: "Add an entry" }).click();
    await page.getByLabel("When").fill("2 February 2026");
    await page.getByRole("radio", { name: "Topped off" }).check();
    await page.getByRole("radio", { name: "Poorly" }).first().check();
    await page.getByLabel("Refrigerant added").fill("10 oz");
    await page.getByText("More: fill level").click();
    await page.getByLabel("How the fill level was checked").selectOption("low-side");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toContain("The entry was saved.");
    expect(await rows.count()).toBe(kept + 1);
    const row = rows.filter({ hasText: "2 February 2026" });
    expect(await row.textContent()).toContain("10 oz added from cans; level checked with a low-side gauge");

    await row.getByRole("link", { name: "Fix the entry of 2 February 2026" }).click();
    await page.getByLabel("Refrigerant added").fill("1 lb");
    await page.getByRole("button", { name: "Save the correction" }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toContain("The entry was corrected.");
    expect(await row.textContent()).toContain("1 lb added");

    await row.getByRole("link", { name: /^Fix/ }).click();
    const lines = page.locator("#versions .lines li");
    expect(await lines.allTextContents()).toMatchObject([/Corrected.*1 lb added/s, /Added.*10 oz added/s].map(text));
    await page.getByRole("button", { name: "Undo the last change" }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toContain("The entry was restored.");
    expect(await row.textContent()).toContain("10 oz added");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("a look of today is one press, and one press takes it back", async () => {
    const vehicle = await newVehicle("Looked at");
    const { page, close } = await openPage(at.browser, { javaScriptEnabled });
    await page.goto(vehicle.path);
    await page.getByRole("button", { name: "Well", exact: true }).click();
    expect(await logOf(vehicle)).toHaveLength(3);
    await page.locator("#saved").getByRole("button", { name: "Undo" }).click();
    expect(await logOf(vehicle)).toHaveLength(2);
    expect(await page.locator("#saved").textContent()).toContain("The entry was removed.");
    await close();
  });
});

function text(pattern: RegExp) {
  return expect.stringMatching(pattern);
}

describe("with the keyboard alone", () => {
  test("an entry is written down", async () => {
    const vehicle = await newVehicle("By key");
    const { page, close } = await openPage(at.browser);
    await page.goto(vehicle.path);
    const link = page.getByRole("link", { name: "Add an entry" });
    for (let i = 0; i < 80 && !(await link.evaluate((one) => one === document.activeElement)); i++)
      await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/log\/new$/);
    await page.getByRole("radio", { name: "Just checked how it cools" }).focus();
    await page.keyboard.press("Space");
    await page.getByLabel("When").focus();
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    await page.waitForURL(/saved=log/);
    expect(await page.locator("#saved").evaluate((saved) => saved === document.activeElement)).toBe(true);
    expect(await logOf(vehicle)).toHaveLength(3);
    await close();
  });
});

describe("sending a form in", () => {
  test("twice by a double click stores it once", async () => {
    const vehicle = await newVehicle("Double");
    const { page, close } = await openPage(at.browser);
    await page.goto(`${vehicle.path}/notes/new`);
    await page.getByLabel("Note").fill("Written once");
    await page.getByRole("button", { name: "Save", exact: true }).dblclick();
    await page.waitForURL(/saved=notes/);
    const notes = await (await fetch(`${at.server.url}/api/vehicles/${vehicle.id}/notes`)).json();
    expect((notes as { items: unknown[] }).items).toHaveLength(1);
    await close();
  });

  test("again after going back stores it once", async () => {
    const vehicle = await newVehicle("Back");
    const { page, close } = await openPage(at.browser);
    await page.goto(`${vehicle.path}/log/new`);
    await page.getByLabel("When").fill("2 February 2026");
    await page.getByRole("radio", { name: "Topped off" }).check();
    await page.getByLabel("Refrigerant added").fill("10 oz");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.waitForURL(/saved=log/);
    await page.goBack();
    await page.waitForURL(/log\/new$/);
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.waitForLoadState();
    const added = (await logOf(vehicle)).filter(({ added_g }) => Math.abs((added_g ?? 0) - 10 * OUNCE_G) < 1e-6);
    expect(added).toHaveLength(1);
    await page.goBack();
    await page.goBack();
    expect(await logOf(vehicle)).toHaveLength(3);
    await close();
  });

  test("with bad dates and amounts says so on top and at the field, and loses nothing", async () => {
    const vehicle = await newVehicle("Bad");
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${vehicle.path}/log/new`);
    await page.getByLabel("When").fill("31 Feb 2026");
    await page.getByRole("radio", { name: "Topped off" }).check();
    await page.getByLabel("Refrigerant added").fill("plenty");
    await page.getByText("Add a note").click();
    await page.getByLabel("Note").fill("Kept “as it is”, 🧊 & all");
    await page.getByRole("radio", { name: "Poorly" }).first().check();
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await expect.poll(() => page.title()).toMatch(/^Error: /);
    const summary = page.locator("#error-summary");
    expect(await summary.evaluate((one) => one === document.activeElement)).toBe(true);
    expect(await summary.getByRole("heading").textContent()).toBe("Fix these 2 things to continue");
    await summary.getByRole("link", { name: "Enter the amount, like 12 oz or 340 g" }).click();
    const added = page.getByLabel("Refrigerant added");
    expect(await added.evaluate((one) => one === document.activeElement)).toBe(true);
    expect(await added.getAttribute("aria-describedby")).toContain("added-error");
    expect(await page.getByLabel("When").inputValue()).toBe("31 Feb 2026");
    expect(await added.inputValue()).toBe("plenty");
    expect(await page.getByLabel("Note").inputValue()).toBe("Kept “as it is”, 🧊 & all");
    expect(await page.getByRole("radio", { name: "Poorly" }).first().isChecked()).toBe(true);
    await page.getByLabel("When").fill("28 Feb 2026");
    await added.fill("11 oz");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toContain("The entry was saved.");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("from two tabs: the second is told, loses nothing, and can apply its change again", async () => {
    const vehicle = await newVehicle("Two tabs");
    const [entry] = await logOf(vehicle);
    const first = await openPage(at.browser);
    const second = await openPage(at.browser);
    const address = `${vehicle.path}/log/${entry!.id}`;
    await Promise.all([first.page.goto(address), second.page.goto(address)]);
    await first.page.getByLabel("Refrigerant added").fill("8 oz");
    await first.page.getByRole("button", { name: "Save the correction" }).click();
    await second.page.getByLabel("Refrigerant added").fill("9 oz");
    await second.page.getByText("Add a note").click();
    await second.page.getByLabel("Note").fill("Mine");
    await second.page.getByRole("button", { name: "Save the correction" }).click();
    const conflict = second.page.locator("#conflict");
    expect(await conflict.evaluate((one) => one === document.activeElement)).toBe(true);
    expect(await conflict.textContent()).toContain("8 oz added");
    expect(await second.page.getByLabel("Refrigerant added").inputValue()).toBe("9 oz");
    expect(await second.page.getByLabel("Note").inputValue()).toBe("Mine");
    await expectAccessible(second.page);
    await keepShot(second.page, "vehicle-conflict-desk-light");
    await second.page.getByRole("button", { name: "Replace it with mine" }).click();
    await expect.poll(() => second.page.locator("#saved").textContent()).toContain("The entry was corrected.");
    expect((await logOf(vehicle))[0]).toMatchObject({ note: "Mine" });
    await first.close();
    await second.close();
  });
});

describe("words of any length, in any script", () => {
  const LONG_WORD = "x".repeat(900);
  const HEBREW = "המזגן לא מקרר היטב מאז הקיץ";

  test("fit everywhere and run in their own direction", async () => {
    const vehicle = await newVehicle(`מזגן 🚐 ${"רכב".repeat(20)}`);
    const { page, problems, close } = await openPage(at.browser, { viewport: PHONE });
    for (const note of [HEBREW, "👩🏽‍🔧 fixed it 🇩🇪\n\nSecond line", LONG_WORD, "It hums. ".repeat(2000)]) {
      await page.goto(`${vehicle.path}/notes/new`);
      await page.getByLabel("Note").fill(note);
      await page.getByRole("button", { name: "Save", exact: true }).click();
      await page.waitForURL(/saved=notes/);
    }
    await expectNoSidewaysScroll(page);
    const direction = (element: Element) => getComputedStyle(element).direction;
    expect(await page.locator("#notes .written", { hasText: HEBREW }).evaluate(direction)).toBe("rtl");
    expect(await page.getByRole("heading", { level: 1 }).evaluate(direction)).toBe("rtl");
    expect(await page.locator("#notes .written", { hasText: "fixed it" }).textContent()).toBe(
      "👩🏽‍🔧 fixed it 🇩🇪\n\nSecond line",
    );
    await page.locator("#notes > summary").click();
    await page.locator(".long-note summary").last().click();
    await page.locator(".long-note summary").first().click();
    await expectGoodEverywhere(page, "vehicle-any-script");
    await page.goto(`${at.server.url}/vehicles`);
    await expectNoSidewaysScroll(page);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });
});

describe("the answer on a vehicle's page", () => {
  test("follows a what-if in place, leaves the record alone, and goes back", async () => {
    const vehicle = await newVehicle("What if");
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(vehicle.path);
    await page.evaluate(() => {
      document.querySelector("#charge-log")!.setAttribute("data-same", "yes");
    });
    await page.locator("#what-if > summary").click();
    await page.locator("#what-if").getByRole("link", { name: "10 years" }).click();
    await page.waitForURL(/\?keep=10$/);
    await expect.poll(() => page.locator("#supposed").count()).toBe(1);
    expect(await page.locator("[data-same]").count()).toBe(1);
    expect(await page.locator("#charge-log tbody tr").count()).toBe(2);
    await page.locator("#quote").fill("$850");
    await page.locator("#quote").press("Tab");
    await page.waitForURL(/keep=10&quote=%24850$/);
    await settled(page);
    await page.goBack();
    await page.waitForURL(/\?keep=10$/);
    await page.goBack();
    await expect.poll(() => page.url()).toBe(vehicle.path);
    await expect.poll(() => page.locator("#supposed").count()).toBe(0);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("takes a what-if, and shows the sensitivity, without JavaScript", async () => {
    const vehicle = await newVehicle("Plain");
    const { page, problems, close } = await openPage(at.browser, { javaScriptEnabled: false });
    await page.goto(vehicle.path);
    await page.locator("#what-if > summary").click();
    await page.locator("#what-if-more > summary").click();
    await page.locator("#place").selectOption("hose");
    await page.getByRole("button", { name: "Show the answer" }).click();
    await page.waitForURL(/place=hose/);
    expect(await page.locator("#supposed").count()).toBe(1);
    expect(await page.locator("#place").inputValue()).toBe("hose");
    await page.locator("#more-answer > summary").click();
    await page.locator("#more-change > summary").click();
    await page.getByRole("link", { name: "Which assumption matters most?" }).click();
    await page.waitForURL(/\/sensitivity\?place=hose$/);
    expect(await page.locator("#sensitivity tbody tr").count()).toBeGreaterThan(5);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("draws its charts, the sensitivity when it comes in sight", async () => {
    const vehicle = await newVehicle("Charts");
    const { page, problems, close } = await openPage(at.browser, { reducedMotion: "reduce" });
    await page.goto(vehicle.path);
    expect(await page.locator("#sensitivity").count()).toBe(0);
    await readThrough(page);
    expect(await page.locator("#sensitivity").count()).toBe(0);
    for (const summary of await page.locator(".fold > summary").all()) await summary.click();
    await page
      .locator("#sensitivity-later")
      .scrollIntoViewIfNeeded({ timeout: 1000 })
      .catch(() => {});
    await expect.poll(() => page.locator("#sensitivity").count()).toBe(1);
    await readThrough(page);
    const drawn = await page
      .locator("figure[data-chart] canvas")
      .evaluateAll((canvases) => canvases.map((canvas) => (canvas as HTMLCanvasElement).width > 300));
    expect(drawn).toHaveLength(5);
    expect(drawn.every((wide) => wide)).toBe(true);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("prints as a record: no forms, the whole log, older entries unfolded", async () => {
    const vehicle = await newVehicle("On paper");
    for (let day = 1; day <= 25; day++) {
      const body = JSON.stringify({ date: `2025-05-${String(day).padStart(2, "0")}`, cooling: "ok" });
      await fetch(`${at.server.url}/api/vehicles/${vehicle.id}/charge-log`, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body,
      });
    }
    const { page, close } = await openPage(at.browser);
    await page.goto(vehicle.path);
    await page.emulateMedia({ media: "print" });
    for (const gone of ["#look", "#what-if-form", ".vehicle-places", "#archive", ".charge-log .change a", ".actions"])
      expect(await page.locator(gone).first().isVisible(), gone).toBe(false);
    expect(await page.locator("#older-entries tbody tr").last().isVisible()).toBe(true);
    expect(await page.getByRole("heading", { level: 1 }).isVisible()).toBe(true);
    await keepShot(page, "vehicle-print");
    await close();
  });
});

describe("the examples", () => {
  test("load and go with one button each, and are marked", async () => {
    const { page, problems, close } = await openPage(at.browser);
    const own = await newVehicle("My own");
    await page.goto(`${at.server.url}/vehicles`);
    await page.getByRole("button", { name: "Load the samples" }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toBe("The samples are on the list.");
    const examples = page.locator("tr", { has: page.locator(".tag") });
    expect(await examples.count()).toBeGreaterThanOrEqual(5);
    await examples.first().getByRole("link").click();
    await expect.poll(() => page.locator("#example").textContent()).toContain("Sample vehicle.");
    await page.getByRole("link", { name: "Remove the samples" }).click();
    await page.getByRole("button", { name: "Remove the samples" }).click();
    await expect.poll(() => page.locator("#saved").textContent()).toBe("The samples are removed.");
    expect(await page.locator(".tag").count()).toBe(0);
    expect((await page.goto(own.path))?.status()).toBe(200);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });
});

/** Ids that the addresses below are made of. */
interface Ids {
  pickup: string;
  van: string;
  entry: string;
}

/** Pages and their states. */
const STATES: { state: string; path: (ids: Ids) => string }[] = [
  { state: "list", path: () => "/vehicles" },
  { state: "nothing-found", path: () => "/vehicles?q=nowhere" },
  { state: "archived", path: () => "/vehicles?archived=1" },
  { state: "repaired", path: ({ pickup }) => `/vehicles/${pickup}` },
  { state: "found", path: ({ van }) => `/vehicles/${van}` },
  { state: "supposed", path: ({ van }) => `/vehicles/${van}?place=hose&quote=850&keep=2` },
  { state: "supposed-wrong", path: ({ van }) => `/vehicles/${van}?quote=much` },
  { state: "sensitivity", path: ({ van }) => `/vehicles/${van}/sensitivity` },
  { state: "entry", path: ({ pickup }) => `/vehicles/${pickup}/log/new` },
  { state: "correction", path: ({ pickup, entry }) => `/vehicles/${pickup}/log/${entry}` },
  { state: "finding", path: ({ pickup }) => `/vehicles/${pickup}/findings/new` },
  { state: "note", path: ({ pickup }) => `/vehicles/${pickup}/notes/new` },
  { state: "history", path: ({ pickup }) => `/vehicles/${pickup}/log/history` },
  { state: "details", path: ({ pickup }) => `/vehicles/${pickup}/details` },
  { state: "new", path: () => "/vehicles/new" },
];

describe("the pages", () => {
  let ids: Ids;
  beforeAll(async () => {
    await fetch(`${at.server.url}/vehicles/examples`, {
      method: "POST",
      headers: { "Content-Type": "application/x-www-form-urlencoded", "Sec-Fetch-Site": "same-origin" },
    });
    const found = async (label: string) => {
      const response = await fetch(`${at.server.url}/api/vehicles?${new URLSearchParams({ search: label })}`);
      return ((await response.json()) as { items: { id: string }[] }).items[0]!.id;
    };
    const [pickup, van] = [await found("Red pickup"), await found("Van 1")];
    ids = { pickup, van, entry: (await logOf({ id: pickup, path: "" }))[0]!.id };
  });

  const look = sharedPage(() => at.browser, { reducedMotion: "reduce" });

  test.each(STATES)("$state: readable by everyone, nothing blocked", async ({ state, path }) => {
    const { page, problems } = await look();
    await page.goto(at.server.url + path(ids));
    await readThrough(page);
    await expectGoodEverywhere(page, `vehicle-${state}`);
    expect(unexpected(problems)).toEqual([]);
  });
});

describe("an empty list", () => {
  let empty: RunningServer;
  beforeAll(async () => {
    empty = await startServer();
  });
  afterAll(async () => {
    await empty.stop();
  });

  test("says what to do next", async () => {
    const { page, problems, close } = await openPage(at.browser, { viewport: PHONE });
    await page.goto(`${empty.url}/vehicles`);
    expect(await page.getByRole("link", { name: "Start with the quick question" }).isVisible()).toBe(true);
    await expectGoodEverywhere(page, "vehicle-empty-list");
    expect(unexpected(problems)).toEqual([]);
    await close();
  });
});
