import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { QuoteContent, QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import { lineOfOne } from "../../src/core/quotes/quote-lines.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { CONTENT, SNAPSHOT } from "../store/quote-samples.ts";

/** 7.25 % on parts, nothing on labor. */
const TAXES = { parts: { name: "Sales tax", rate_ppm: 72_500 }, labor: { name: "", rate_ppm: 0 } };

/**
 * By hand: 1.75 h × 120.00 = 210.00, less 10 % = 189.00; 2 × 84.99 = 169.98; 650 g × 0.045 = 29.25; before tax 388.23.
 * 7.25 % of 169.98 + 29.25 = 199.23 is 14.444… = 14.44. Total 402.67.
 */
export const OPTION = {
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

export const QUOTED: QuoteContent = {
  ...CONTENT,
  customer: "Robin Ames",
  book: { ...RETAIL_BOOK, taxes: TAXES },
  options: [OPTION],
};

export const AS_SENT: QuoteSnapshot = {
  ...SNAPSHOT,
  valid_until: "2199-12-31",
  customer: "Robin Ames",
  taxes: TAXES,
  options: [OPTION],
  vehicle: {
    ...SNAPSHOT.vehicle,
    label: "2014 sedan",
    shown: { words: "2014 sedan", plate: "XR-7 402", vin: "", odometer: "" },
  },
};

/** A quote of 402.67 that was sent for a vehicle, at version 2: the shop's address of it, and the customer's. */
export async function quoted(
  store: WorkspaceStore,
  vehicle_id: string,
  changes: Partial<QuoteSnapshot> = {},
  content = QUOTED,
) {
  const draft = await store.quotes.create(vehicle_id, content);
  const { token } = await store.quotes.send(draft.id, 1, { content, snapshot: { ...AS_SENT, ...changes } });
  return { id: draft.id, path: `/vehicles/${vehicle_id}/quotes/${draft.id}`, link: `/q/${token}` };
}
