import {
  type Billed,
  creditOf,
  type ExtraWork,
  type InvoiceDocument,
  invoiceTotal,
} from "../../core/quotes/invoice.ts";
import { type Letterhead, printedLetterhead, UNNAMED_VEHICLE } from "../../core/quotes/quote-document.ts";
import type { Invoice } from "../../store/invoice-row.ts";
import type { Quote } from "../../store/quote-row.ts";
import type { Order } from "./order.ts";

interface InvoiceCase {
  quote: Quote;
  /** What was accepted of it. */
  order: Order;
  customer: InvoiceDocument["customer"];
  letterhead: Letterhead;
  issued_on: string;
  pay_by: string | null;
  /** What came to it; null for nothing. */
  extra: ExtraWork | null;
}

/** The invoice for the accepted option of a quote: lines, discounts and taxes as they were sent. */
export function invoiceOfQuote(given: InvoiceCase): InvoiceDocument {
  const { quote, customer, letterhead, issued_on, pay_by, extra } = given;
  const { snapshot, option, found_at } = given.order;
  const { refrigerant, nameplate_g, shown = UNNAMED_VEHICLE } = snapshot.vehicle;
  const billed = {
    lines: option.lines,
    discount: option.discount,
    ...(extra === null ? {} : { extra }),
    taxes: snapshot.taxes,
  };
  const { net_minor, taxes, total_minor } = invoiceTotal(billed, snapshot.currency);
  return {
    prefix: letterhead.invoice_prefix,
    issued_on,
    letterhead: printedLetterhead(letterhead),
    customer,
    vehicle: { refrigerant, nameplate_g, shown },
    currency: snapshot.currency,
    number_format: snapshot.number_format,
    ...(snapshot.language === undefined ? {} : { language: snapshot.language }),
    title: option.title,
    ...billed,
    ...(found_at === null ? {} : { found_at }),
    billed: { net_minor, taxes, total_minor },
    quote_number: snapshot.number,
    worked_on: quote.work?.date ?? null,
    pay_by,
    credits: null,
  };
}

interface CreditCase {
  invoice: Invoice;
  amount_minor: number;
  /** The invoiced amount less its credit notes; the last one takes the remainder of each tax. */
  left: Billed;
  reason: string;
  issued_on: string;
}

/** The credit note for an amount of an invoice. */
export function creditNoteOf({ invoice, amount_minor, left, reason, issued_on }: CreditCase): InvoiceDocument {
  const { number } = invoice;
  const { extra: _, found_at: __, ...document } = invoice.document;
  return {
    ...document,
    issued_on,
    lines: [],
    discount: null,
    billed: creditOf(left, amount_minor),
    pay_by: null,
    credits: { number, prefix: document.prefix, reason },
  };
}

/** What is left of an invoice after its credit notes, tax by tax. */
export function leftOf(billed: Billed, given_back: readonly Billed[]): Billed {
  const sum = (of: (one: Billed) => number) => given_back.reduce((total, one) => total + of(one), 0);
  return {
    net_minor: billed.net_minor - sum(({ net_minor }) => net_minor),
    taxes: billed.taxes.map((tax, i) => ({
      ...tax,
      taxable_minor: tax.taxable_minor - sum(({ taxes }) => taxes[i]?.taxable_minor ?? 0),
      tax_minor: tax.tax_minor - sum(({ taxes }) => taxes[i]?.tax_minor ?? 0),
    })),
    total_minor: billed.total_minor - sum(({ total_minor }) => total_minor),
  };
}
