import type { InvoiceDocument } from "../../src/core/quotes/invoice.ts";
import { BLANK_LETTERHEAD, printedLetterhead, UNNAMED_VEHICLE } from "../../src/core/quotes/quote-document.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { CONTENT, SNAPSHOT } from "./quote-samples.ts";
import { VAN } from "./samples.ts";

/** Worked by hand: 189.00 untaxed and 199.23 with 7.25 % of tax, 14.44: 402.67. */
export const INVOICE: InvoiceDocument = {
  prefix: "",
  issued_on: "2026-05-01",
  letterhead: printedLetterhead(BLANK_LETTERHEAD),
  customer: { name: "Robin Ames", address: "3 Hill Road" },
  vehicle: { refrigerant: "R-134a", nameplate_g: 650, shown: { ...UNNAMED_VEHICLE, plate: "XR-7 402" } },
  currency: "USD",
  number_format: "1,234.56",
  title: "Repair the hose",
  lines: [],
  discount: null,
  taxes: SNAPSHOT.taxes,
  billed: {
    net_minor: 388_23,
    taxes: [{ name: "Sales tax", rate_ppm: 72_500, taxable_minor: 199_23, tax_minor: 14_44 }],
    total_minor: 402_67,
  },
  quote_number: 1,
  worked_on: null,
  pay_by: null,
  credits: null,
};

/** A quote that was accepted: what an invoice is made from. */
export async function acceptedQuote(store: WorkspaceStore, customer_id: string | null = null) {
  const { id: vehicle_id } = await store.vehicles.create(VAN);
  const draft = await store.quotes.create(vehicle_id, CONTENT);
  await store.quotes.send(draft.id, 1, { content: CONTENT, snapshot: SNAPSHOT });
  await store.quotes.recordAnswer(draft.id, 2, { option: "a", name: "Robin Ames", keep_years: 5, how: "paper" });
  return { quote_id: draft.id, vehicle_id, customer_id };
}
