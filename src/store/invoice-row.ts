import {
  INVOICE_KINDS,
  type InvoiceDocument,
  type InvoiceKind,
  PAYMENT_METHODS,
  type PaymentMethod,
} from "../core/quotes/invoice.ts";
import { type Columns, flag, json, namesOf, nullable, number, oneOf, rowReader, rowWriter, text } from "./columns.ts";

/** An invoice or a credit note, as it was issued. */
export interface Invoice {
  id: string;
  kind: InvoiceKind;
  /** Numbered within its kind, without a gap. */
  number: number;
  quote_id: string;
  vehicle_id: string;
  customer_id: string | null;
  /** Of a credit note: the invoice that it takes back from. */
  credits: string | null;
  document: InvoiceDocument;
  currency: string;
  total_minor: number;
  issued_on: string;
  issued_at: string;
  issued_by: string;
}

export interface PaymentInput {
  /** Negative for a refund. */
  amount_minor: number;
  paid_on: string;
  method: PaymentMethod;
  note: string;
}

export interface Payment extends PaymentInput {
  id: string;
  invoice_id: string;
  /** The payment that this one reverses; null for an ordinary payment. */
  reverses: string | null;
  /** It was paid with the order, before there was an invoice. */
  deposit: boolean;
  recorded_at: string;
  recorded_by: string;
}

/** Characters of the note beside a payment. */
export const PAYMENT_NOTE_CHARS = 200;

export const INVOICE: Columns<Invoice> = {
  id: text,
  kind: oneOf(INVOICE_KINDS),
  number,
  quote_id: text,
  vehicle_id: text,
  customer_id: nullable(text),
  credits: nullable(text),
  document: json(),
  currency: text,
  total_minor: number,
  issued_on: text,
  issued_at: text,
  issued_by: text,
};

const PAYMENT: Columns<Payment> = {
  id: text,
  invoice_id: text,
  amount_minor: number,
  paid_on: text,
  method: oneOf(PAYMENT_METHODS),
  note: text,
  reverses: nullable(text),
  deposit: flag,
  recorded_at: text,
  recorded_by: text,
};

export const SELECT_INVOICES = `SELECT ${namesOf(INVOICE).join(", ")} FROM invoices`;
export const SELECT_PAYMENTS = `SELECT ${namesOf(PAYMENT).join(", ")} FROM payments`;

export const invoiceOf = rowReader(INVOICE);
/** An invoice as a row of its table, without the workspace. */
export const invoiceRow = rowWriter(INVOICE);
export const paymentOf = rowReader(PAYMENT);
export const paymentRow = rowWriter(PAYMENT);
