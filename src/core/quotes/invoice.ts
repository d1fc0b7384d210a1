import type { Language } from "../../../data/customer-words.ts";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import { apportioned, sumOf } from "../quantities/money.ts";
import type { LocationId, RefrigerantId } from "../question/contract.ts";
import {
  type OptionTotal,
  optionTotal,
  orderTotal,
  type QuoteLine,
  type QuoteOption,
  type Taxes,
  type TaxTotal,
} from "./quote.ts";
import type { AnsweredHow, PrintedLetterhead, VehicleOnPaper } from "./quote-document.ts";

/** A bill for what was ordered, or an amount of one given back. Each kind has a series of numbers of its own. */
export const INVOICE_KINDS = ["invoice", "credit-note"] as const;
export type InvoiceKind = (typeof INVOICE_KINDS)[number];

/** The longest time to pay, in days, and of a credit note's reason. */
export const MOST_PAY_DAYS = 365;
export const CREDIT_REASON_CHARS = 200;

/** The most lines of extra work, and characters of each: more is no extra work any more. */
export const extraBounds = { lines: 8, text_chars: 120 } as const;

/** What an amount is made of: before tax, each tax, and with it. */
export type Billed = Pick<OptionTotal, "net_minor" | "taxes" | "total_minor">;

/** Work beyond what was accepted, and by what right it is billed. */
export interface ExtraWork {
  /** They bear none of the discount. */
  lines: QuoteLine[];
  /** What it might come to with tax without asking again. */
  agreed_minor: number;
  /** Who said yes to more than that, how and when; null where it keeps within it. */
  yes: { name: string; how: AnsweredHow; on: string } | null;
}

/** An invoice or a credit note as it was issued, once and for all. Its number stands beside it: the store counts. */
export interface InvoiceDocument {
  /** Before the number: `2026-`; "" for none. */
  prefix: string;
  issued_on: string;
  letterhead: PrintedLetterhead;
  customer: { name: string; address: string };
  vehicle: { refrigerant: RefrigerantId; nameplate_g: number; shown: VehicleOnPaper };
  currency: string;
  number_format: NumberFormatId;
  /** The customer's; absent from what was issued before it was asked for, which is in English. */
  language?: Language | undefined;
  /** What was done, as the accepted option was called. */
  title: string;
  /** As quoted, with the tax of that day; none on a credit note. */
  lines: QuoteLine[];
  discount: QuoteOption["discount"];
  /** Work that came to it; absent where none did, and from what was issued before it was asked for. */
  extra?: ExtraWork | undefined;
  /** Of a repair of what was found: where that was. Absent from every other. */
  found_at?: LocationId | undefined;
  taxes: Taxes;
  billed: Billed;
  quote_number: number;
  /** The day on which the work was done; null where none is logged. */
  worked_on: string | null;
  /** The last day to pay; null where nothing was said. */
  pay_by: string | null;
  /** Of a credit note: the invoice that it takes back from, and why. */
  credits: { number: number; prefix: string; reason: string } | null;
}

/**
 * What an order with its extra work comes to; the lines of that follow the others. Throws RangeError as `optionTotal`.
 */
export function invoiceTotal(
  { lines, discount, extra, taxes }: Pick<InvoiceDocument, "lines" | "discount" | "extra" | "taxes">,
  currency: string,
): OptionTotal {
  return orderTotal({ lines, discount, extra: extra?.lines ?? [] }, taxes, currency);
}

/** What extra work adds to the total, tax and all. */
export function extraTotal(
  order: Pick<InvoiceDocument, "lines" | "discount" | "extra" | "taxes">,
  currency: string,
): number {
  const without = optionTotal(order, order.taxes, currency).total_minor;
  return invoiceTotal(order, currency).total_minor - without;
}

/**
 * What an amount given back is made of: it is shared out over what bears no tax, each taxed sum and each tax in
 * proportion,
 * so that the parts add up to it to the smallest unit. All of `billed` gives just its parts. Throws RangeError for less
 * than the smallest unit or more than was billed.
 */
export function creditOf(billed: Billed, amount_minor: number): Billed {
  if (!Number.isSafeInteger(amount_minor) || amount_minor < 1 || amount_minor > billed.total_minor)
    throw new RangeError(`${amount_minor} of ${billed.total_minor} cannot be given back`);
  const taxed = billed.taxes.map(({ taxable_minor }) => taxable_minor);
  const untaxed = billed.net_minor - sumOf(taxed);
  const parts = apportioned(amount_minor, [
    untaxed,
    ...billed.taxes.flatMap((tax) => [tax.taxable_minor, tax.tax_minor]),
  ]);
  const taxes = billed.taxes.map(
    (tax, i): TaxTotal => ({ ...tax, taxable_minor: parts[1 + 2 * i]!, tax_minor: parts[2 + 2 * i]! }),
  );
  return {
    net_minor: sumOf([parts[0]!, ...taxes.map(({ taxable_minor }) => taxable_minor)]),
    taxes,
    total_minor: amount_minor,
  };
}

/** How an invoice stands: billed, less what was given back, less what was paid (refunds count against it). */
export interface Balance {
  total_minor: number;
  credited_minor: number;
  paid_minor: number;
}

/** What is still to be paid; under 0, what is to be paid back. */
export function owingOf({ total_minor, credited_minor, paid_minor }: Balance): number {
  return total_minor - credited_minor - paid_minor;
}

export const INVOICE_STATES = ["open", "overdue", "paid", "credited", "to-refund"] as const;
export type InvoiceState = (typeof INVOICE_STATES)[number];

/** How it stands on a day. An invoice given back whole, with nothing paid, is `credited`. */
export function invoiceState(balance: Balance, pay_by: string | null, today: string): InvoiceState {
  const owing = owingOf(balance);
  if (owing < 0) return "to-refund";
  if (owing > 0) return pay_by !== null && today > pay_by ? "overdue" : "open";
  return balance.credited_minor === balance.total_minor && balance.total_minor > 0 ? "credited" : "paid";
}

export const PAYMENT_METHODS = ["cash", "card", "transfer", "check", "other"] as const;
export type PaymentMethod = (typeof PAYMENT_METHODS)[number];
