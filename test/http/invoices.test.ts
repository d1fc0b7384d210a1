import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { QuoteContent, QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import { lineOfOne } from "../../src/core/quotes/quote-lines.ts";
import { CONTENT, SNAPSHOT } from "../store/quote-samples.ts";
import { VAN } from "../store/samples.ts";
import { linksRuntimes } from "../support/links-app.ts";
import { EditorsDesk } from "../support/links-desk.ts";
import { formIn, textOf } from "../support/page-form.ts";

/** 7.25 % on parts, nothing on labor. */
const TAXES = { parts: { name: "Sales tax", rate_ppm: 72_500 }, labor: { name: "", rate_ppm: 0 } };
/**
 * By hand: 1.75 h × 120.00 = 210.00, less 10 % = 189.00; 2 × 84.99 = 169.98; 650 g × 0.045 = 29.25; before tax 388.23.
 * 7.25 % of 169.98 + 29.25 = 199.23 is 14.444… = 14.44. Total 402.67.
 */
const OPTION = {
  ...CONTENT.options[1]!,
  title: "Repair the hose",
  lines: [
    {
      ...lineOfOne("labor", "Replace the hose", 120_000_000),
      quantity_milli: 1750,
      unit: "h",
      discount: { kind: "percent" as const, rate_ppm: 100_000 },
      tax_class: "none" as const,
    },
    { ...lineOfOne("parts", "Hose assembly", 84_990_000), quantity_milli: 2000 },
    { ...lineOfOne("refrigerant", "R-134a", 45_000), quantity_milli: 650_000, unit: "g" },
  ],
  discount: null,
};
const QUOTED: QuoteContent = {
  ...CONTENT,
  customer: "Robin Ames",
  book: { ...RETAIL_BOOK, taxes: TAXES },
  options: [OPTION],
};
const AS_SENT: QuoteSnapshot = {
  ...SNAPSHOT,
  customer: "Robin Ames",
  taxes: TAXES,
  options: [OPTION],
  vehicle: {
    ...SNAPSHOT.vehicle,
    label: "2014 sedan",
    shown: { words: "2014 sedan", plate: "XR-7 402", vin: "", odometer: "" },
  },
};

describe.each(linksRuntimes)("invoices on $name", ({ start }) => {
  const desk = new EditorsDesk(start);

  /** A quote that was accepted on paper; its address. */
  async function accepted(): Promise<string> {
    const { id } = await desk.store.vehicles.create({ ...VAN, label: "van, bad payer" });
    const draft = await desk.store.quotes.create(id, QUOTED);
    await desk.store.quotes.send(draft.id, 1, { content: QUOTED, snapshot: AS_SENT });
    await desk.store.quotes.recordAnswer(draft.id, 2, { option: "b", name: "Robin Ames", keep_years: 5, how: "paper" });
    return `/vehicles/${id}/quotes/${draft.id}`;
  }

  /** The invoice of a new quote; its address. */
  async function issued(): Promise<{ quote: string; invoice: string }> {
    const quote = await accepted();
    const form = formIn(await desk.editor.page(`${quote}/invoice`), "issue");
    form.set("address", "3 Hill Road");
    form.set("days", "14");
    const answer = await desk.editor.post(`${quote}/invoice`, form);
    expect(answer.status, textOf(await answer.clone().text())).toBe(303);
    return { quote, invoice: answer.headers.get("Location")! };
  }

  test("the accepted option is billed to the cent as it was quoted: 402.67, with 14.44 tax on 199.23", async () => {
    const { quote, invoice } = await issued();
    const paper = textOf(await desk.editor.page(`${invoice}/paper`));
    for (const words of [
      "Invoice 1",
      "Robin Ames 3 Hill Road",
      "2014 sedan",
      "XR-7 402",
      "Less 10 %: $21.00",
      "$189.00",
      "$169.98",
      "$29.25",
      "Subtotal $388.23",
      "Sales tax, 7.25 % of $199.23 $14.44",
      "Total $402.67",
      "To pay: $402.67",
    ])
      expect(paper).toContain(words);
    expect(paper).not.toContain("bad payer");
    expect(textOf(await desk.editor.page(quote))).toContain("Invoice 1");
    // Its page leads to the invoice from now on.
    expect((await desk.editor.get(`${quote}/invoice`)).headers.get("Location")).toBe(invoice);
  });

  test("what is paid, given back and owing: 402.67 − 200.00 − 100.00 = 102.67", async () => {
    const { invoice } = await issued();
    const pay = async (amount: string) => {
      const form = formIn(await desk.editor.page(invoice), "payment");
      form.set("amount", amount);
      form.set("method", "card");
      return desk.editor.post(`${invoice}/payments`, form);
    };
    expect((await pay("200")).status).toBe(303);
    const too_much = await pay("202.68");
    expect(too_much.status).toBe(422);
    expect(textOf(await too_much.text())).toContain("Enter at most $202.67");
    const credit = formIn(await desk.editor.page(invoice), "credit-note");
    credit.set("credit", "100.00");
    const unsaid = await desk.editor.post(`${invoice}/credit-notes`, credit);
    expect(unsaid.status).toBe(422);
    credit.set("reason", "one hose was not fitted");
    const note = (await desk.editor.post(`${invoice}/credit-notes`, credit)).headers.get("Location")!;
    const paper = textOf(await desk.editor.page(`${note}/paper`));
    // The parts of 100.00, worked by hand in test/core/quotes/invoice.test.ts.
    for (const words of [
      "Credit note 1",
      "invoice 1: one hose was not fitted",
      "$96.42",
      "7.25 % of $49.48 $3.58",
      "Given back $100.00",
    ])
      expect(paper).toContain(words);
    const page = textOf(await desk.editor.page(invoice));
    for (const words of ["to be paid", "Given back $100.00", "Paid $200.00", "Owing $102.67"])
      expect(page).toContain(words);
    expect((await pay("102.67")).status).toBe(303);
    expect(textOf(await desk.editor.page(invoice))).toContain("Invoice 1: paid");
    expect(textOf(await desk.editor.page(`${invoice}/paper`))).toContain("Nothing left to pay");
  });

  test("prefix and first number are the letterhead's; the list says what is overdue, and the file has it, too", async () => {
    await desk.store.letterheads.update(
      {
        ...(await desk.store.letterheads.get()).letterhead,
        shop: "North Yard",
        invoice_prefix: "2026-",
        invoice_first: "501",
      },
      0,
    );
    const { invoice } = await issued();
    expect(textOf(await desk.editor.page(invoice))).toContain("Invoice 2026-501");
    expect(textOf(await desk.editor.page("/invoices?open=1"))).toContain("Invoice 2026-501");
    const csv = await (await desk.editor.get("/invoices.csv")).text();
    expect(csv).toMatch(/^kind,number,.*\r\ninvoice,2026-501,Robin Ames,"van, bad payer",.*,402\.67,402\.67,USD\r\n$/);
  });

  test("a quote's number has its prefix on the customer's paper", async () => {
    const head = (await desk.store.letterheads.get()).letterhead;
    await desk.store.letterheads.update({ ...head, shop: "North Yard", quote_prefix: "Q-" }, 0);
    const { id } = await desk.store.vehicles.create(VAN);
    const draft = await desk.store.quotes.create(id, QUOTED);
    expect(textOf(await desk.editor.page(`/vehicles/${id}/quotes/${draft.id}/preview`))).toContain("Quote Q-1 ");
  });

  test("the work order has every line of the order and no price, and leaves the weights to be written", async () => {
    const quote = await accepted();
    const page = textOf(await desk.editor.page(`${quote}/work-order`));
    for (const words of [
      "Replace the hose, 1.75 h",
      "Hose assembly, 2",
      "ordered by Robin Ames",
      "Charged, by the scale",
      "vent nothing",
    ])
      expect(page).toContain(words);
    expect(page).not.toMatch(/\$\d/);
  });

  test("a draft has no invoice, a sample is not billed, and a viewer bills nothing", async () => {
    const { id } = await desk.store.vehicles.create(VAN, { example: true });
    const draft = await desk.store.quotes.create(id, QUOTED);
    expect((await desk.editor.get(`/vehicles/${id}/quotes/${draft.id}/invoice`)).status).toBe(404);
    await desk.store.quotes.send(draft.id, 1, { content: QUOTED, snapshot: AS_SENT });
    await desk.store.quotes.recordAnswer(draft.id, 2, { option: "b", name: "Robin", keep_years: 5, how: "paper" });
    const refused = await desk.editor.post(`/vehicles/${id}/quotes/${draft.id}/invoice`, {
      name: "Robin",
      address: "",
      days: "",
    });
    expect(refused.status).toBe(422);
    expect(textOf(await refused.text())).toContain("Sample work is not billed");
    const quote = await accepted();
    const viewer = await desk.as("viewer");
    expect((await viewer.get(`${quote}/invoice`)).status).toBe(403);
  });
});
