import type { InvoiceDocument } from "../../../src/core/quotes/invoice.ts";
import { Database } from "../database.ts";
import { acceptedQuote, INVOICE } from "../invoice-samples.ts";

export const creditNote = (total_minor: number): InvoiceDocument => ({
  ...INVOICE,
  billed: { net_minor: total_minor, taxes: [], total_minor },
  credits: { number: 1, prefix: "", reason: "billed twice" },
});

export const cash = (amount_minor: number) => ({
  amount_minor,
  paid_on: "2026-05-02",
  method: "cash" as const,
  note: "",
});
/** A database with an invoice. */
export class InvoiceDatabase extends Database {
  async issued() {
    const store = await this.newStore();
    const about = await acceptedQuote(store);
    return { store, about, invoice: await store.invoices.issue(about, INVOICE, 1) };
  }
}
