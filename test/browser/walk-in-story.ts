import type { Locator, Page } from "playwright-core";
import { expect } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import { BLANK_LETTERHEAD } from "../../src/core/quotes/quote-document.ts";
import type { SetClock } from "./at.ts";
import { expectGoodEverywhere, expectNoSidewaysScroll, openPage, PHONE } from "./support.ts";

/** A customer at the counter: the steps that every walk-in's story is told in, on the shop's phone. */

export interface Arrival {
  name: string;
  phone: string;
  /** Year, make and model, as the paper has it. */
  car: string;
  plate: string;
  vin?: string;
  refrigerant: "R-134a" | "R-1234yf";
  nameplate: string;
}

/** A shop of one letterhead and one price book of its own, and its cylinders. */
export async function openShop({ app }: SetClock): Promise<void> {
  const { letterheads, priceBooks, refrigerantLog } = app.store;
  const head = { shop: "North Yard Cooling", address: "12 Mill Lane\nEastbrook 40210", phone: "555 0134" };
  await letterheads.update({ ...BLANK_LETTERHEAD, ...head, invoice_prefix: "2026-", pay_days: "14" }, 0);
  const taxes = {
    parts: { name: "Sales tax", rate_ppm: 75_000 },
    labor: { name: "Labor tax", rate_ppm: 0 },
  };
  await priceBooks.update("retail", 0, { ...RETAIL_BOOK, labor_rate_micro: 148_500_000, taxes });
  // A pair for each customer who is charged, so that what is left in them is worked by hand in that story.
  for (const [name, condition] of [
    ["C-17", "new"],
    ["R-02", "recovered"],
    ["C-18", "new"],
    ["R-03", "recovered"],
  ] as const) {
    const { id } = await refrigerantLog.create({
      ...{ name, refrigerant: "R-134a", condition },
      ...{ most_g: 13_600, retired: false },
    });
    if (condition === "new")
      await refrigerantLog.addMove(id, { kind: "received", date: "2026-06-01", amount_g: 13_600, note: "" });
  }
}

export const press = (on: Page | Locator, name: string | RegExp) =>
  on.getByRole("button", { name, exact: typeof name === "string" }).click();
export const headed = (page: Page, name: string | RegExp) =>
  page.getByRole("heading", { name, level: 1 }).first().waitFor();

/** The page with its words in one line. */
export async function wordsOf(page: Page): Promise<string> {
  // As it is shown: what is folded is not said.
  // biome-ignore lint/performance/useDomNodeTextContent: only this leaves out what is not shown
  return (await page.locator("main").innerText()).replace(/\s+/g, " ");
}

/** Types into a field, or chooses: by value, or by what a choice's label begins with. */
async function fill(field: Locator, value: string): Promise<void> {
  if ((await field.evaluate(({ tagName }) => tagName)) !== "SELECT") return field.fill(value);
  const choices = await field
    .locator("option")
    .evaluateAll((all) => all.map((one) => one as HTMLOptionElement).map(({ value, label }) => ({ value, label })));
  const chosen = choices.find((one) => one.value === value) ?? choices.find(({ label }) => label.startsWith(value));
  await field.selectOption(chosen?.value ?? value);
}

/** Looks at the page everywhere, and goes on with the phone. */
export async function lookedAt(page: Page, name: string): Promise<void> {
  await expectGoodEverywhere(page, name);
  await page.setViewportSize(PHONE);
}

/**
 * Fails unless the page takes as many sheets as said, of A4 and of Letter, wherever it was scrolled to; the PDFs are
 * kept to look at.
 */
export async function onPaper(page: Page, name: string, sheets: number): Promise<void> {
  for (const format of ["A4", "Letter"] as const) {
    const pdf = await page.pdf({ format, path: `dist/shots/${name}-${format}.pdf` });
    // Each sheet of a PDF is an object of its own.
    expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g), `${name}, ${format}`).toHaveLength(sheets);
  }
}

export class WalkIn {
  /** The vehicle's address. */
  vehicle = "";
  /** The quote's, as the shop sees it. */
  quote = "";
  /** The customer's page of it. */
  link = "";
  invoice = "";

  readonly at: SetClock;
  readonly page: Page;
  readonly customer: Arrival;

  /** `page` is the shop's. */
  constructor(at: SetClock, page: Page, customer: Arrival) {
    this.at = at;
    this.page = page;
    this.customer = customer;
  }

  /** The customer and the vehicle are written down; the page offers to begin a quote. */
  async arrives(): Promise<void> {
    const { page, customer } = this;
    await page.goto(`${this.at.app.url}/customers`);
    await page.getByRole("link", { name: "Add a customer" }).click();
    await page.getByLabel("Name").fill(customer.name);
    await page.getByLabel("Phone").fill(customer.phone);
    await press(page, "Save, then add the vehicle");
    await headed(page, `Add a vehicle for ${customer.name}`);
    await page.getByLabel("Year, make and model").fill(customer.car);
    await page.getByLabel("Plate", { exact: true }).fill(customer.plate);
    if (customer.vin !== undefined) await page.getByLabel("VIN").fill(customer.vin);
    await page.getByLabel("Refrigerant", { exact: true }).selectOption(customer.refrigerant);
    await page.getByLabel("Nameplate charge").fill(customer.nameplate);
    await press(page, "Save, then begin a quote");
    await page.getByRole("button", { name: "Begin the quote" }).waitFor();
    this.vehicle = page.url().replace(/\/quotes.*$/, "");
  }

  /** Gauges and vent are read, and judged; gives what the page says of them. */
  async read(readings: Record<string, string>): Promise<string> {
    const { page } = this;
    await page.goto(`${this.vehicle}/readings`);
    for (const [id, value] of Object.entries(readings)) await fill(page.locator(`#${id}`), value);
    await press(page, "Save and show what they mean");
    const verdict = page.locator(".page-verdict h2");
    await verdict.waitFor();
    return (await verdict.textContent()) ?? "";
  }

  /** What the vehicle's own page answers. */
  async answer(): Promise<string> {
    await this.page.goto(this.vehicle);
    return (await this.page.locator("[data-short-answer]").first().getAttribute("data-short-answer")) ?? "";
  }

  /** A draft, with the options that the record speaks for. */
  async quoted(): Promise<void> {
    const { page } = this;
    await page.goto(`${this.vehicle}/quotes`);
    expect(await page.getByLabel("Customer", { exact: true }).inputValue()).toBe(this.customer.name);
    await press(page, "Begin the quote");
    await headed(page, /^Quote \d+, a draft$/);
    this.quote = page.url();
  }

  /** The option of a draft with a title, as the shop edits it. */
  async option(title: string): Promise<Locator> {
    for (const option of await this.page.locator("form#builder > section, form#builder > article").all()) {
      const field = option.locator("input[name^='title-']");
      if ((await field.count()) === 1 && (await field.inputValue()) === title) return option;
    }
    throw new Error(`no option ${title}: ${await wordsOf(this.page)}`);
  }

  /** Types into a line of an option: the one whose text begins as said. */
  async typed(option: Locator, line: string, values: Record<string, string>): Promise<void> {
    await this.unfolded(option);
    for (const row of await option.locator(".quote-line").all()) {
      if (!(await row.locator("input[name^='text-']").inputValue()).startsWith(line)) continue;
      for (const [part, value] of Object.entries(values)) await fill(row.locator(`[name^='${part}-']`), value);
      return;
    }
    throw new Error(`no line ${line}`);
  }

  private async unfolded(option: Locator): Promise<void> {
    const fold = option.locator("details[id^='lines-']");
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").click();
  }

  /** A new line at the end of an option. */
  async newLine(option: Locator, values: Record<string, string>): Promise<void> {
    await this.unfolded(option);
    const lines = option.locator(".quote-line");
    const before = await lines.count();
    await press(option, /^Add a line/);
    await expect.poll(() => lines.count()).toBe(before + 1);
    await this.typed(option, "New line", values);
  }

  /** Another option at the end of the draft. */
  async added(title: string): Promise<void> {
    await this.page.getByLabel("What it does").selectOption({ label: title });
    await press(this.page, "Add it");
    await expect.poll(() => this.titles()).toContain(title);
  }

  async removed(option: Locator): Promise<void> {
    const before = (await this.titles()).length;
    await option.locator("summary").last().click();
    await press(option, /^Remove the option/);
    await expect.poll(async () => (await this.titles()).length).toBe(before - 1);
  }

  /** The options of the draft by their titles. */
  private titles(): Promise<string[]> {
    const fields = this.page.locator("#builder input[name^='title-']");
    return fields.evaluateAll((all) => all.map((field) => (field as HTMLInputElement).value));
  }

  /** What an option of the draft comes to, once what was typed is counted. */
  async comesTo(option: Locator, total: string): Promise<void> {
    await option.locator("input[name^='title-']").focus();
    await expect.poll(() => option.locator(".option-total dd").textContent()).toBe(total);
  }

  async sent(): Promise<void> {
    await press(this.page, "Save and create the customer's link");
    this.link = (await this.page.locator(".customer-link a").getAttribute("href")) ?? "";
  }

  /** The customer opens the link on a phone; `does` what is to be seen there. */
  async customerLooks(does: (page: Page) => Promise<void>): Promise<void> {
    const customer = await openPage(this.at.browser, { viewport: PHONE, hasTouch: true });
    await customer.page.goto(this.link);
    await expectNoSidewaysScroll(customer.page);
    await does(customer.page);
    expect(customer.problems).toEqual([]);
    await customer.close();
  }

  /** The customer's answer: the words that its choice begins with. */
  async answers(page: Page, choice: string | RegExp): Promise<void> {
    await page.getByRole("radio", { name: choice }).check();
    await page.getByLabel("Your name").fill(this.customer.name);
    await press(page, "Send my answer");
    await page.locator(".offer-standing").waitFor();
    await expectNoSidewaysScroll(page);
  }

  /** The work order for the bay, open on the shop's phone. */
  async ordered(order: RegExp): Promise<void> {
    await this.page.goto(`${this.quote}/work-order`);
    await headed(this.page, /^Work order for quote/);
    const words = await wordsOf(this.page);
    expect(words).toMatch(order);
    expect(words).not.toContain("$");
  }

  /** The work is logged as it was done, by the ids of the form's fields. */
  async worked(fields: Record<string, string>): Promise<void> {
    const { page } = this;
    await page.goto(this.quote);
    await headed(page, /accepted$/);
    for (const [id, value] of Object.entries(fields)) await fill(page.locator(`#${id}`), value);
    await press(page, "Log the work");
    await page.getByText("It stands in the").waitFor();
  }

  /** The invoice, issued: its address and its total. */
  async billed(total: string): Promise<void> {
    const { page } = this;
    await page.goto(`${this.quote}/invoice`);
    await headed(page, /^Invoice for/);
    await press(page, "Issue the invoice");
    await headed(page, /^Invoice 2026-\d+: to be paid$/);
    expect(await wordsOf(page)).toContain(`Billed ${total}`);
    this.invoice = page.url();
  }

  /** All that is owing is paid by card. */
  async paid(): Promise<void> {
    await this.page.getByLabel("How", { exact: true }).selectOption("card");
    await press(this.page, "Record the payment");
    await headed(this.page, /: paid$/);
  }

  /** What is due for this vehicle, in words; "" for nothing. */
  async followUps(): Promise<string> {
    const { page, customer } = this;
    await page.goto(`${this.at.app.url}/follow-ups?q=${encodeURIComponent(customer.plate)}`);
    return wordsOf(page);
  }
}
