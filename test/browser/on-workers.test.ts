import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { fleetCsv } from "../support/fleet-csv.ts";
import { theWorker } from "../support/worker.ts";
import { line, sentence, unexpected, visited } from "./offline-desk.ts";
import { expectAccessible, launchChromium, openPage, PHONE, type WatchedPage } from "./support.ts";

/** What each kind of person does, in a browser against the Worker in its own runtime: an object for each of them. */

/** Where the local edge says that requests come from: a device elsewhere may have another day. */
const ZONE = "America/Chicago";

let browser: Browser;
let url: string;
beforeAll(async () => {
  const [launched, worker] = await Promise.all([launchChromium(ZONE), theWorker()]);
  browser = launched;
  // A browser keeps `Secure` cookies of its own machine by this name.
  url = `http://localhost:${worker.url.port}`;
});
afterAll(() => browser.close());

const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name }).click();

/** Someone who saves a vehicle without having any records yet, and is then in their own. */
async function begin(label: string, options: BrowserContextOptions = {}): Promise<WatchedPage & { vehicle: string }> {
  const opened = await openPage(browser, options);
  const { page } = opened;
  await page.goto(`${url}/?refrigerant=R-134a&nameplate=23+oz&today=weak&keep=5&service=diy`);
  await page.getByLabel("Name, like the blue van").fill(label);
  await press(page, "Save this vehicle");
  await page.getByRole("link", { name: "Go to the vehicle" }).click();
  await page.waitForURL(/\/vehicles\/[0-9a-z]{20}/);
  return { ...opened, vehicle: page.url().replace(/\?.*/, "") };
}

test("an owner: the question, a vehicle, an entry, and the answer that follows it", async () => {
  const { page, problems, vehicle, close } = await begin("Blue estate", { viewport: PHONE });
  await page.goto(`${vehicle}/log/new`);
  await page.getByRole("radio", { name: "Topped off" }).check();
  await page.getByRole("radio", { name: "Poorly" }).first().check();
  await page.getByLabel("Refrigerant added").fill("6 oz");
  await press(page, "Save");
  await page.getByText("6 oz").first().waitFor();
  await expectAccessible(page);
  await page.goto(`${url}/vehicles`);
  await page.getByRole("link", { name: "Blue estate" }).waitFor();
  expect(unexpected(problems)).toEqual([]);
  await close();
});

test("a shop: prices, letterhead, a quote, the customer's yes in another browser", async () => {
  const { page, problems, vehicle, close } = await begin("Silver sedan");
  await page.goto(`${url}/prices/letterhead`);
  await page.getByLabel("Name of the shop").fill("North Yard Cooling");
  await page.getByLabel("Address").fill("12 Mill Lane\nEastbrook 40210");
  await press(page, "Save");
  await page.goto(`${url}/prices/retail`);
  await press(page, "Save these prices");
  await page.goto(`${vehicle}/quotes`);
  await page.getByLabel("Customer", { exact: true }).fill("Robin Ames");
  await press(page, "Begin the quote");
  await page.getByRole("heading", { name: /^Quote \d+, a draft$/ }).waitFor();
  await press(page, "Save and create the customer's link");
  const link = (await page.locator(".customer-link a").getAttribute("href")) ?? "";
  expect(new URL(link).pathname).toMatch(/^\/q\/[\w-]{86}$/);

  const customer = await openPage(browser, { viewport: PHONE });
  await customer.page.goto(link);
  await customer.page.locator("#choice").check();
  await customer.page.getByLabel("Your name").fill("Robin Ames");
  await press(customer.page, "Send my answer");
  await customer.page.getByText("accepted by Robin Ames").waitFor();
  expect((await customer.page.goto(`${url}/vehicles`))?.status()).toBe(401);
  await customer.close();

  await page.reload();
  await page.getByRole("heading", { name: /accepted/, level: 1 }).waitFor();
  expect(unexpected(problems)).toEqual([]);
  await close();
});

test("a manager: a file of vehicles, calculated by the object's alarms, and a budget", async () => {
  const { page, problems, close } = await begin("Van 0");
  const today = new Date().toISOString().slice(0, 10);
  const csv = fleetCsv({ vehicles: 40, entries: 4, seed: 7, as_of: today });
  await page.goto(`${url}/fleet/import`);
  await page
    .locator('input[type="file"]')
    .first()
    .setInputFiles({ name: "fleet.csv", mimeType: "text/csv", buffer: Buffer.from(csv) });
  await press(page, "Read the file");
  await press(page, /^Import [\d,]+ rows/);
  await page.getByRole("heading", { name: /40 vehicles and 160 entries/ }).waitFor();
  await page.goto(`${url}/fleet`);
  await page.getByText("All 41").first().waitFor({ timeout: 60_000 });
  await page.goto(`${url}/fleet/budget`);
  await page.getByLabel("Money for repairs").fill("6k");
  await press(page, "Plan it");
  await page.getByRole("heading", { name: "Work orders" }).waitFor();
  expect(unexpected(problems)).toEqual([]);
  await close();
});

test("in the driveway: the same pages from the device when the Worker is out of reach", async () => {
  const { page, problems, close } = await visited(browser, `${url}/?example=1`);
  const said = await sentence(page);
  await page.context().setOffline(true);
  await page.reload();
  await line(page).waitFor();
  expect(await sentence(page)).toBe(said);
  expect(unexpected(problems)).toEqual([]);
  await close();
});
