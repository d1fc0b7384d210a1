import * as z from "zod";
import { INVOICE_KINDS } from "../../core/quotes/invoice.ts";
import { QUOTE_STATES } from "../../core/quotes/quote.ts";
import type { CustomerSummary } from "../../store/customers.ts";
import type { InvoiceAccount, InvoiceSummary } from "../../store/invoices.ts";
import type { Page } from "../../store/page.ts";
import type { QuoteSummary } from "../../store/quote-lists.ts";
import { WEBHOOK_EVENTS } from "../../store/webhook-outbox.ts";
import { invoiceStored, paymentStored } from "../schemas/invoice-schema.ts";
import { vehicleOnPaper } from "../schemas/quote-schema.ts";
import { currencyCode, instant, recordId } from "../schemas/record-schema.ts";
import { fleetNews } from "./fleet-answers.ts";

/** What the API answers about customers, quotes and invoices, for its description. Amounts are in the smallest unit. */

const day = z.string().meta({ format: "date" });
const minor = z.int();

function pageOf<Item extends z.ZodType>(item: Item) {
  return z.strictObject({ items: z.array(item), next: z.string().nullable() });
}

export const customerPage = pageOf(
  z.strictObject({
    id: recordId,
    name: z.string(),
    phone: z.string(),
    email: z.string(),
    vehicles: z.array(z.strictObject({ id: recordId, label: z.string(), ...vehicleOnPaper.shape })),
  }),
) satisfies z.ZodType<Page<CustomerSummary>>;

export const quotePage = pageOf(
  z.strictObject({
    id: recordId,
    vehicle_id: recordId,
    number: z.int(),
    status: z.enum(QUOTE_STATES).exclude(["expired"]),
    valid_until: day.nullable().describe("A quote that was sent runs out after this day; null for a draft."),
    sent_at: instant.nullable(),
    decided_at: instant.nullable(),
    decided_name: z.string().nullable(),
    work_at: instant.nullable().describe("When the work was logged."),
    version: z.int(),
    updated_at: instant,
    vehicle_label: z.string(),
    customer: z.string(),
    decided_title: z.string().nullable().describe("Title of the option that was accepted."),
    total_minor: minor.nullable().describe("Of the option that was accepted, else of the one that is recommended."),
    currency: currencyCode,
  }),
) satisfies z.ZodType<Page<QuoteSummary>>;

const balance = { total_minor: minor, credited_minor: minor, paid_minor: minor };

export const invoicePage = pageOf(
  z.strictObject({
    id: recordId,
    kind: z.enum(INVOICE_KINDS),
    number: z.int(),
    prefix: z.string(),
    quote_id: recordId,
    vehicle_id: recordId,
    vehicle_label: z.string(),
    customer: z.string(),
    currency: currencyCode,
    ...balance,
    issued_on: day,
    issued_at: instant,
    pay_by: day.nullable(),
  }),
) satisfies z.ZodType<Page<InvoiceSummary>>;

export const invoiceAccount = z.strictObject({
  invoice: invoiceStored,
  balance: z.strictObject(balance),
  payments: z.array(paymentStored),
  credit_notes: z.array(invoiceStored),
}) satisfies z.ZodType<InvoiceAccount>;

/** What a webhook is told; kinds to come may bring other parts. */
export const webhookMessage = z.strictObject({
  id: z.string().describe("The same for the same event."),
  event: z.enum(WEBHOOK_EVENTS),
  at: instant,
  quote: z
    .strictObject({
      id: recordId,
      number: z.int(),
      called: z.string().describe("The number as papers have it."),
      vehicle_id: recordId,
      state: z.enum(["sent", "accepted", "declined"]).describe("`sent` after an answer was taken back."),
      option: z.strictObject({ id: z.string(), title: z.string(), total_minor: minor }).nullable(),
      currency: currencyCode,
    })
    .optional()
    .describe("With events that begin with `quote.`."),
  fleet: fleetNews.optional().describe("With `fleet.answers-changed`: one message for all that a calculation changed."),
});
