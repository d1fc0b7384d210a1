import { readFile } from "node:fs/promises";
import type { Locator, Page } from "playwright-core";
import { beforeAll, describe, expect, test } from "vitest";
import { startServer } from "../support/server.ts";
import { BuiltServer } from "./at.ts";
import { expectAccessible, expectGoodEverywhere, keepShot, openPage, sharedPage } from "./support.ts";

const at = new BuiltServer();
/** A vehicle with something to remind of. */
let van: string;
beforeAll(async () => {
  van = await newVan(at.server.url);
});

async function newVan(url: string): Promise<string> {
  const today = new Date().toISOString().slice(0, 10);
  const answer = await fetch(`${url}/api/vehicles`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({
      ...{ label: "Van 2, with a name that is long enough to need two lines on a phone", refrigerant: "R-134a" },
      nameplate_g: 650,
      charge_log: [
        { date: "2025-06-14", cooling: "weak", added_g: 340, added_by: "cans" },
        { date: today, cooling: "weak", added_g: 300, added_by: "cans", dye: "added", deposit: 10, cans_opened: 1 },
      ],
    }),
  });
  return ((await answer.json()) as { id: string }).id;
}

const PAGES = [
  { name: "settings", path: () => "/settings", heading: "Units and place" },
  { name: "access", path: () => "/settings/access", heading: "Access and calendar" },
  { name: "records", path: () => "/settings/records", heading: "Export, import, backup" },
  { name: "reminders", path: () => `/vehicles/${van}/reminders`, heading: "Reminders" },
];

const look = sharedPage(() => at.browser);

test.each(PAGES)("$name: readable by everyone, nothing blocked", async ({ name, path, heading }) => {
  const { page, problems } = await look();
  await page.goto(at.server.url + path());
  expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe(heading);
  await expectGoodEverywhere(page, name);
  expect(problems).toEqual([]);
});

test("a new key and an import report are readable by everyone", async () => {
  const { page, problems, close } = await openPage(at.browser);
  await makeKey(page, "Calendar", "the workshop", "Make a calendar link");
  await expectGoodEverywhere(page, "new-key");
  await sendFile(page, await exported(page));
  await expectGoodEverywhere(page, "import-report");
  expect(problems).toEqual([]);
  await close();
});

/**
 * Without refusals that were asked for, which Chromium calls errors, and files that a page no longer wanted when it was
 * left.
 */
function unexpected(problems: readonly string[]): string[] {
  return problems.filter((problem) => !/status of (401|404|422)|ERR_ABORTED/.test(problem));
}

/** Makes a key in one of the three parts of the access page. */
async function makeKey(page: Page, part: string, label: string, button: string): Promise<string> {
  await page.goto(`${at.server.url}/settings/access`);
  const entry = page.locator("section", { has: page.getByRole("heading", { name: part }) });
  const fold = entry.getByText("New key", { exact: true });
  if ((await fold.count()) > 0) await fold.click();
  const form = entry.locator("form.new-key");
  await form.getByRole("textbox").fill(label);
  await form.getByRole("button", { name: button }).click();
  return page.locator("#secret").inputValue();
}

/** What asks whether to revoke the key `label`. */
function revoking(page: Page, label: string): Locator {
  return page.locator(`summary[aria-label="Revoke ${label}"]`);
}

/** The exported file, as someone saves it. */
async function exported(page: Page): Promise<Buffer> {
  await page.goto(`${at.server.url}/settings/records`);
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: "All records in one file" }).click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^seepwise-\d{4}-\d\d-\d\d\.json$/);
  return readFile(await download.path());
}

async function sendFile(page: Page, buffer: Buffer): Promise<void> {
  await page.goto(`${at.server.url}/settings/records`);
  await page.getByLabel("Exported file").setInputFiles({ name: "a.json", mimeType: "application/json", buffer });
  await page.getByRole("button", { name: "Read the file" }).click();
}

describe.each([
  { how: "with scripts", javaScriptEnabled: true },
  { how: "without JavaScript", javaScriptEnabled: false },
])("$how", ({ javaScriptEnabled }) => {
  test("settings are saved, mistakes named at the top and at the field", async () => {
    const { page, problems, close } = await openPage(at.browser, { javaScriptEnabled });
    await page.goto(`${at.server.url}/settings`);
    await page.getByLabel("Grams (650 g)").check();
    await page.getByLabel("Climate").selectOption({ label: "Your own monthly averages" });
    await page.locator("summary").filter({ hasText: "Your own monthly averages" }).click();
    await page.getByLabel("Average temperature of each month").fill("1 2 3");
    await page.getByRole("button", { name: "Save" }).click();
    await expect.poll(() => page.title()).toMatch(/^Error: /);
    if (javaScriptEnabled) await expectAccessible(page);
    await page.locator("#error-summary a").click();
    await expect.poll(() => page.locator("#means:focus").count()).toBe(1);
    expect(await page.getByLabel("Average temperature of each month").getAttribute("aria-describedby")).toContain(
      "means-error",
    );
    expect(await page.getByLabel("Grams (650 g)").isChecked()).toBe(true);
    await page.getByLabel("Climate").selectOption({ index: 1 });
    await page.getByRole("button", { name: "Save" }).click();
    await page.locator("#saved").waitFor();
    expect(await page.getByLabel("Grams (650 g)").isChecked()).toBe(true);
    expect(unexpected(problems)).toEqual([]);
    await close();
  });

  test("a calendar is shared, read, and revoked", async () => {
    const { page, close } = await openPage(at.browser, { javaScriptEnabled });
    const label = `yard ${javaScriptEnabled}`;
    const address = await makeKey(page, "Calendar", label, "Make a calendar link");
    expect(await (await fetch(address)).text()).toMatch(/^BEGIN:VCALENDAR\r\n[\s\S]*look for dye/);
    await page.getByRole("link", { name: "Done" }).click();
    // It asks first: until that is agreed to, the calendar is there.
    await revoking(page, label).click();
    expect((await fetch(address)).status).toBe(200);
    await page.getByRole("button", { name: `Yes: Revoke ${label}` }).click();
    await page.getByText(/^Revoked \(\d+\)$/).waitFor();
    await expect.poll(async () => (await fetch(address)).status).toBe(404);
    await close();
  });

  test("a file goes out, and back in once it was agreed to", async () => {
    const { page, close } = await openPage(at.browser, { javaScriptEnabled, acceptDownloads: true });
    const file = await exported(page);
    const other = await startServer();
    await page.goto(`${other.url}/settings/records`);
    await page
      .getByLabel("Exported file")
      .setInputFiles({ name: "a.json", mimeType: "application/json", buffer: file });
    await page.getByRole("button", { name: "Read the file" }).click();
    await expect.poll(() => page.getByRole("heading", { level: 1 }).textContent()).toBe("3 new things to import");
    expect(await (await fetch(`${other.url}/api/vehicles`)).json()).toMatchObject({ items: [] });
    await page.getByRole("button", { name: "Import" }).click();
    await page.getByText("Imported: 1 new vehicle, 2 new lines").waitFor();
    const [here, there] = await Promise.all(
      [at.server, other].map(async ({ url }) => (await fetch(`${url}/api/vehicles/${van}/assessment`)).json()),
    );
    expect(there).toEqual(here);
    await close();
    await other.stop();
  });
});

test("pressed twice, a button makes one link that works: the one on the page", async () => {
  const { page, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/settings/access`);
  const form = page.locator("section", { has: page.getByRole("heading", { name: "Keys for programs" }) });
  await form.getByText("New key", { exact: true }).click();
  await form.getByRole("textbox").fill("twice");
  await form.getByRole("button", { name: "Make a key" }).dblclick();
  await page.locator("#secret").waitFor();
  await page.goto(`${at.server.url}/settings/access`);
  expect(await revoking(page, "twice").count()).toBe(1);
  await close();
});

test("two tabs change the settings: the second is told what is set now, and loses nothing", async () => {
  const [first, second] = [await openPage(at.browser), await openPage(at.browser)];
  for (const { page } of [first, second]) await page.goto(`${at.server.url}/settings`);
  await first.page.getByLabel("What these records are called").fill("North yard");
  await first.page.getByRole("button", { name: "Save" }).click();
  await first.page.locator("#saved").waitFor();
  await second.page.getByLabel("Currency").selectOption("CAD");
  await second.page.getByRole("button", { name: "Save" }).click();
  await second.page.getByText("Someone else saved these settings in the meantime").waitFor();
  expect(await second.page.locator("#changed").textContent()).toContain("The name is nowNorth yard");
  expect(await second.page.getByLabel("Currency").inputValue()).toBe("CAD");
  await expectAccessible(second.page);
  await first.close();
  await second.close();
});

test("the keyboard is enough to change a setting", async () => {
  const { page, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/settings`);
  const tabTo = async (id: string) => {
    for (let i = 0; i < 60; i += 1) {
      await page.keyboard.press("Tab");
      if ((await page.evaluate(() => document.activeElement?.id)) === id) return;
    }
    throw new Error(`Tab never came to ${id}`);
  };
  await tabTo("name");
  await page.keyboard.type("Kept by keyboard");
  await tabTo("time_zone");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await page.locator("#saved").waitFor();
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("saved");
  expect(await page.getByLabel("What these records are called").inputValue()).toContain("Kept by keyboard");
  await close();
});

test("reminders on paper: what and when, without buttons", async () => {
  const { page, close } = await openPage(at.browser);
  await page.goto(`${at.server.url}/vehicles/${van}/reminders`);
  await page.emulateMedia({ media: "print" });
  expect(await page.getByText("Put them into a calendar").isVisible()).toBe(false);
  expect(await page.getByRole("heading", { name: "Look for dye" }).isVisible()).toBe(true);
  await close();
});

describe("a server that others can reach", () => {
  test("lets in who opens the link that it printed, once; and lets them leave", async () => {
    const served = await startServer({ HOST: "0.0.0.0" });
    const linkIn = () => /\/access\/[\w-]{43,86}$/m.exec(served.output())?.[0];
    await expect.poll(linkIn).toBeDefined();
    // A browser takes a cookie for HTTPS only from this name, too: it never leaves the machine.
    const url = served.url.replace("0.0.0.0", "localhost");
    const { page, problems, close } = await openPage(at.browser);
    await page.goto(`${url}/vehicles`);
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("An access link is needed");
    await expectAccessible(page);
    await keepShot(page, "sign-in");
    await page.getByLabel("Access link").fill(url + linkIn());
    await page.getByRole("button", { name: "Go on" }).click();
    await page.getByRole("button", { name: "Open" }).waitFor();
    await expectAccessible(page);
    await page.getByRole("button", { name: "Open" }).click();
    await page.waitForURL(`${url}/vehicles`);
    expect(await page.getByRole("heading", { level: 1 }).textContent()).not.toBe("An access link is needed");
    await page.goto(`${url}/settings`);
    await page.getByRole("button", { name: "Leave on this device" }).click();
    await page.waitForURL(`${url}/`);
    await page.goto(`${url}/vehicles`);
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("An access link is needed");
    await page.goto(url + linkIn());
    expect(await page.getByRole("main").textContent()).toContain("has been used");
    expect(unexpected(problems)).toEqual([]);
    await close();
    await served.stop();
  });
});
