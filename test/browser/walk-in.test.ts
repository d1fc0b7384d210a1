import type { Page } from "playwright-core";
import { beforeAll, expect, test } from "vitest";
import { BLANK_LETTERHEAD } from "../../src/core/quotes/quote-document.ts";
import { SetClock } from "./at.ts";
import { expectGoodEverywhere, openPage, PHONE } from "./support.ts";

const at = new SetClock("2026-06-15T09:00:00Z");
beforeAll(async () => {
  const head = { shop: "North Yard Cooling", address: "12 Mill Lane\nEastbrook 40210", phone: "555 0134" };
  await at.app.store.letterheads.update({ ...BLANK_LETTERHEAD, ...head, invoice_prefix: "2026-", pay_days: "14" }, 0);
  await at.app.store.priceBooks.update("retail", 0, (await at.app.store.priceBooks.get("retail")).book);
});

const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name }).click();
const heading = (page: Page, name: string | RegExp) => page.getByRole("heading", { name, level: 1 }).waitFor();
const sheets = (pdf: Buffer) => pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;

test("a walk-in, on a telephone: customer, vehicle, quote, yes, work, refrigerant log, invoice, payment", async () => {
  const { page, problems, close } = await openPage(at.browser, { viewport: PHONE });
  await page.goto(`${at.app.url}/customers`);
  await page.getByRole("link", { name: "Add a customer" }).click();
  await page.getByLabel("Name").fill("Robin Ames");
  await page.getByLabel("Phone").fill("555 0142");
  await press(page, "Save, then add the vehicle");
  await heading(page, "Add a vehicle for Robin Ames");
  await expectGoodEverywhere(page, "walk-in-vehicle");
  await page.setViewportSize(PHONE);
  await page.getByLabel("Year, make and model").fill("2014 sedan, silver");
  await page.getByLabel("Plate", { exact: true }).fill("XR-7 402");
  await page.getByLabel("VIN").fill("1M8GDM9AXKP042788");
  await page.getByLabel("Refrigerant", { exact: true }).selectOption("R-134a");
  await page.getByLabel("Nameplate charge").fill("23 oz");
  await press(page, "Save, then begin a quote");

  expect(await page.getByLabel("Customer", { exact: true }).inputValue()).toBe("Robin Ames");
  await press(page, "Begin the quote");
  await heading(page, /^Quote \d+, a draft$/);
  await press(page, "Save and create the customer's link");
  const link = (await page.locator(".customer-link a").getAttribute("href")) ?? "";
  const customer = await openPage(at.browser, { viewport: PHONE });
  await customer.page.goto(link);
  for (const words of ["2014 sedan, silver", "XR-7 402", "1M8GDM9AXKP042788"])
    await customer.page.getByText(words).first().waitFor();
  await customer.page.locator("#choice").check();
  await customer.page.getByLabel("Your name").fill("Robin Ames");
  await press(customer.page, "Send my answer");
  await customer.page.getByText("accepted by Robin Ames").waitFor();
  await customer.close();

  await page.reload();
  const [quote] = await at.app.store.quotes.recent();
  await page.goto(`${at.app.url}/vehicles/${quote!.vehicle_id}/quotes/${quote!.id}`);
  await heading(page, /accepted/);
  await page.goto(`${page.url()}/work-order`);
  await heading(page, /^Work order for quote/);
  await expectGoodEverywhere(page, "work-order");
  await page.goto(`${at.app.url}/vehicles/${quote!.vehicle_id}/quotes/${quote!.id}/invoice`);
  await heading(page, /^Invoice for/);
  await expectGoodEverywhere(page, "invoice-new");
  await page.setViewportSize(PHONE);
  await press(page, "Issue the invoice");
  await heading(page, "Invoice 2026-1: to be paid");
  await expectGoodEverywhere(page, "invoice");
  await page.setViewportSize(PHONE);
  await page.getByLabel("How", { exact: true }).selectOption("card");
  await press(page, "Record the payment");
  await heading(page, "Invoice 2026-1: paid");
  await page.getByRole("link", { name: "Open to print" }).click();
  await page.getByText("Nothing left to pay").waitFor();
  await expectGoodEverywhere(page, "invoice-paper");
  for (const format of ["A4", "Letter"] as const)
    expect(sheets(await page.pdf({ format, path: `dist/shots/invoice-${format}.pdf` }))).toBe(1);

  const full = await at.app.store.refrigerantLog.create({
    ...{ name: "C-17", refrigerant: "R-134a", condition: "new" },
    ...{ most_g: 13_600, retired: false },
  });
  await at.app.store.refrigerantLog.addMove(full.id, {
    kind: "received",
    date: "2026-06-01",
    amount_g: 13_600,
    note: "",
  });
  const entry = { date: "2026-06-15", recovered_g: 200, added_g: 652, added_by: "scale", finish: "weighed" } as const;
  const log = await at.app.store.chargeLog.add(quote!.vehicle_id, entry);
  await page.setViewportSize(PHONE);
  await page.goto(`${at.app.url}/refrigerant/work/${log.id}`);
  await page.getByLabel("Technician").fill("Alex Moss");
  await page.getByLabel("Charged from cylinder").selectOption(full.id);
  await press(page, "Save");
  await heading(page, "Refrigerant log");
  await expectGoodEverywhere(page, "refrigerant");
  await page.goto(`${at.app.url}/refrigerant/cylinders/${full.id}`);
  await heading(page, /^Cylinder C-17: 28\.55 lb of R-134a$/); // 12,948 g
  await expectGoodEverywhere(page, "cylinder");
  await page.goto(`${at.app.url}/refrigerant/years/2026`);
  await heading(page, "Refrigerant log 2026");
  await expectGoodEverywhere(page, "refrigerant-sheet");

  await page.setViewportSize(PHONE);
  await page.goto(`${at.app.url}/customers?q=xr7402`);
  await page.getByRole("link", { name: "Robin Ames" }).click();
  await heading(page, "Robin Ames");
  await expectGoodEverywhere(page, "customer");
  expect(problems).toEqual([]);
  await close();
});
