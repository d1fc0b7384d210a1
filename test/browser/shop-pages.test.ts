import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import type { FirstRecords } from "../../src/store/vehicles.ts";
import { VAN } from "../store/samples.ts";
import { SetClock } from "./at.ts";
import { expectGoodEverywhere, expectNoSidewaysScroll, openPage, type WatchedPage } from "./support.ts";
import { headed, onPaper, openShop, press } from "./walk-in-story.ts";

/** What a shop and its customers see beside a walk-in's way: empty, filled, refused; one page for all of it. */

// The same page in many states, while other tests run beside it.
vi.setConfig({ testTimeout: 120_000 });
const TODAY = "2026-06-15T09:00:00Z";
const LOG: FirstRecords = {
  charge_log: [
    { date: "2024-05-01", finish: "weighed" },
    { date: "2025-06-15", cooling: "weak", added_g: 250, added_by: "scale", finish: "gauges" },
    { date: "2026-06-15", cooling: "weak" },
  ],
};
const LOGO = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 40"><rect width="120" height="40" rx="6" fill="#0f5257"/><path d="M60 8v24M49 14l22 12M49 26l22-12" stroke="#fff" stroke-width="3"/></svg>`;

const at = new SetClock(TODAY);
let shop: WatchedPage;
let page: Page;
beforeAll(async () => {
  await openShop(at);
  shop = await openPage(at.browser);
  page = shop.page;
});
afterAll(() => shop.close());

/** Refused forms are answered with 422, which Chromium calls an error. */
const problems = () => shop.problems.filter((problem) => !/status of 422|\/sums net::ERR_ABORTED$/.test(problem));
const open = (path: string) => page.goto(`${at.app.url}${path}`);
const looked = (name: string) => expectGoodEverywhere(page, `shop-${name}`);

/** A customer with a van that leaks. */
async function owned(name: string, language: "" | "es" | "de" = "") {
  const { customers, vehicles } = at.app.store;
  const reach = { phone: "555 0142", email: "", address: "3 Hill Road", note: "" };
  const { id: customer_id } = await customers.create({ name, ...reach, language });
  const { id } = await vehicles.create({ ...VAN, label: `${name}’s van` }, LOG);
  const shown = { words: "2016 van, white", plate: "XR-7 402", vin: "1M8GDM9AXKP042788", odometer: "84,200 miles" };
  await customers.setParticulars(id, 0, { customer_id, ...shown });
  return id;
}

/** A quote that was sent for a customer's van; gives the customer's link. */
async function sent(vehicle: string): Promise<string> {
  await open(`/vehicles/${vehicle}/quotes`);
  await press(page, "Begin the quote");
  await headed(page, /^Quote \d+, a draft$/);
  await press(page, "Save and create the customer's link");
  return (await page.locator(".customer-link a").getAttribute("href")) ?? "";
}

test("the webhook: none, refused, its secret shown once, what was told", async () => {
  await open("/settings/webhook");
  await page.getByLabel("Where to send it").fill("http://10.0.0.1/answers");
  await press(page, "Save");
  await page.locator("#error-summary").waitFor();
  await looked("webhook-refused");
  await page.getByLabel("Where to send it").fill("https://books.shop.example/answers");
  await press(page, "Save");
  await page.locator("#secret").waitFor();
  await looked("webhook-secret");
  await press(page, "Send a test message");
  await page.getByText("Test", { exact: true }).waitFor();
  await looked("webhook-messages");
  expect(problems()).toEqual([]);
});

test("the letterhead with a logo, and one that is refused", async () => {
  await open("/prices/letterhead");
  await page.locator("input[type=file]").setInputFiles({
    ...{ name: "logo.svg", mimeType: "image/svg+xml", buffer: Buffer.from("<html></html>") },
  });
  await press(page, "Save the logo");
  await page.locator("#error-summary").waitFor();
  await page.locator("input[type=file]").setInputFiles({
    ...{ name: "logo.svg", mimeType: "image/svg+xml", buffer: Buffer.from(LOGO) },
  });
  await press(page, "Save the logo");
  await page.locator("img[src^='data:image/svg']").waitFor();
  await looked("logo");
  expect(problems()).toEqual([]);
});

test.each(["es", "de"] as const)(
  "a customer's page in %s: to be answered, refused, on two sheets, answered",
  async (language) => {
    const link = await sent(await owned(language === "es" ? "Inés Robledo" : "Jörg Thalheim", language));
    await page.goto(link);
    await page.locator(`html[lang=${language}]`).waitFor();
    await page.locator(".offer-fold > summary").first().click();
    await looked(`offer-${language}`);
    await onPaper(page, `shop-offer-${language}`, 2);
    await page.locator("#answer button[type=submit]").click();
    await page.locator("#error-summary").waitFor();
    await looked(`offer-refused-${language}`);
    await page.locator("#choice").check();
    await page.locator("#name").fill("Thalheim-Robledo");
    await page.locator("#answer button[type=submit]").click();
    await page.locator(".offer-standing").waitFor();
    await expectNoSidewaysScroll(page);
    expect(problems()).toEqual([]);
  },
);

test("follow-ups, due and overdue, a reason that is missing, and what was recorded", async () => {
  await owned("Robin Ames");
  for (const [label, records] of [
    [
      "Green wagon",
      { charge_log: [{ date: "2026-05-02", cooling: "weak", added_g: 340, added_by: "cans", dye: "added" }] },
    ],
    ["Old pickup", { charge_log: [...LOG.charge_log!, { date: "2026-05-10", finish: "weighed", repair: "hose" }] }],
  ] as [string, FirstRecords][])
    await at.app.store.vehicles.create({ ...VAN, label }, records);
  await open("/follow-ups?q=nobody");
  await page.getByText("Nothing is due for “nobody”").waitFor();
  await open("/follow-ups");
  await page.locator("summary", { hasText: "Dismiss" }).first().click();
  await press(page, /^(Yes: )?Dismiss/);
  await page.locator("#error-summary").waitFor();
  await looked("follow-ups-refused");
  await open("/follow-ups");
  await press(page, /^No dye seen/);
  await page.getByRole("status").waitFor();
  expect(problems()).toEqual([]);
});

test("customers: found, not found; a customer's own page, and one without a name", async () => {
  await open("/customers?q=nobody");
  await page.getByText("Nobody matches “nobody”").waitFor();
  await open("/customers?q=xr7402");
  await looked("customers-found");
  await open("/customers/new");
  await page.getByLabel("E-mail").fill("not an address");
  await press(page, "Save, then add the vehicle");
  await page.locator("#error-summary").waitFor();
  await looked("customer-refused");
  expect(problems()).toEqual([]);
});

test("invoices: none, one partly paid with a credit note, too much paid", async () => {
  await open("/invoices");
  await page.getByText("No invoice yet").waitFor();
  const [quote] = (await at.app.store.quotes.recent()).filter(({ status }) => status === "accepted");
  await open(`/vehicles/${quote!.vehicle_id}/quotes/${quote!.id}/invoice`);
  await press(page, "Issue the invoice");
  await headed(page, /to be paid$/);
  // A German customer's paper has 203,43 $; the shop reads and types amounts as it writes them.
  await page
    .locator("dd", { hasText: /^\$\d+\.\d\d$/ })
    .first()
    .waitFor();
  expect(await page.getByLabel("Amount", { exact: true }).inputValue()).toMatch(/^\d+\.\d\d$/);
  await page.getByLabel("Amount", { exact: true }).fill("1,000,000");
  await press(page, "Record the payment");
  await page.locator("#error-summary").waitFor();
  await looked("invoice-refused");
  await page.getByLabel("Amount", { exact: true }).fill("50");
  await page.getByLabel("How", { exact: true }).selectOption("cash");
  await press(page, "Record the payment");
  await page.getByText("Paid").first().waitFor();
  await page.getByText("Give back some or all of it").click();
  await page.getByLabel("Amount with tax").fill("20");
  await page.getByLabel("Why").fill("Dust cap was missing");
  await press(page, "Issue a credit note");
  await headed(page, /^Credit note/);
  await looked("credit-note");
  await open("/invoices");
  await looked("invoices");
  expect(problems()).toEqual([]);
});

test("the refrigerant log: what is not complete, an amount that is asked about, a year without entries", async () => {
  await open("/refrigerant");
  await looked("refrigerant-not-complete");
  await page.getByText("Add a cylinder").click();
  await press(page, "Add the cylinder");
  await page.locator("#error-summary").waitFor();
  await looked("refrigerant-refused");
  await open("/refrigerant/years/2020");
  await page.getByText("No refrigerant was recovered or charged in 2020.").waitFor();
  expect(problems()).toEqual([]);
});
