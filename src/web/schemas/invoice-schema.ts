import * as z from "zod";
import { LANGUAGES } from "../../../data/customer-words.ts";
import { MOST_MINOR } from "../../core/quantities/money.ts";
import { LOCATION_IDS } from "../../core/question/contract.ts";
import {
  CREDIT_REASON_CHARS,
  extraBounds,
  INVOICE_KINDS,
  invoiceTotal,
  PAYMENT_METHODS,
} from "../../core/quotes/invoice.ts";
import { ANSWER_NAME_CHARS, ANSWERED_HOW } from "../../core/quotes/quote-document.ts";
import { PAYMENT_NOTE_CHARS } from "../../store/invoice-row.ts";
import { letterhead_text, number_format, quoteOption, tax, taxes, vehicleOnPaper } from "./quote-schema.ts";
import {
  actor,
  currencyCode,
  instant,
  minorAmount,
  recordId,
  text,
  textOrNone,
  vehicleStored,
  version,
} from "./record-schema.ts";

/** The shapes of invoices, credit notes and payments as they are stored and exported. */

const date = z.iso.date();
const { refrigerant, nameplate_g } = vehicleStored.shape;
const { lines, discount } = quoteOption.shape;

const document = z.strictObject({
  prefix: z.string(),
  issued_on: date,
  letterhead: z.strictObject(letterhead_text),
  customer: z.strictObject({ name: z.string(), address: z.string() }),
  vehicle: z.strictObject({ refrigerant, nameplate_g, shown: vehicleOnPaper }),
  currency: currencyCode,
  number_format,
  language: z.enum(LANGUAGES).optional(),
  title: z.string(),
  lines,
  discount,
  extra: z
    .strictObject({
      lines: lines.max(extraBounds.lines),
      agreed_minor: minorAmount,
      yes: z.strictObject({ name: text(ANSWER_NAME_CHARS), how: z.enum(ANSWERED_HOW), on: date }).nullable(),
    })
    .optional(),
  found_at: z.enum(LOCATION_IDS).optional(),
  taxes,
  billed: z.strictObject({
    net_minor: minorAmount,
    taxes: z.array(z.strictObject({ ...tax.shape, taxable_minor: minorAmount, tax_minor: minorAmount })),
    total_minor: minorAmount,
  }),
  quote_number: version,
  worked_on: date.nullable(),
  pay_by: date.nullable(),
  credits: z.strictObject({ number: version, prefix: z.string(), reason: text(CREDIT_REASON_CHARS) }).nullable(),
});

export const invoiceStored = z
  .strictObject({
    id: recordId,
    kind: z.enum(INVOICE_KINDS),
    number: version,
    quote_id: recordId,
    vehicle_id: recordId,
    customer_id: recordId.nullable(),
    credits: recordId.nullable(),
    document,
    currency: currencyCode,
    total_minor: minorAmount,
    issued_on: date,
    issued_at: instant,
    issued_by: actor,
  })
  .refine(({ kind, credits }) => (kind === "credit-note") === (credits !== null), {
    path: ["credits"],
    error: "A credit note names its invoice; an invoice names none.",
  })
  .refine(({ document: { billed }, total_minor }) => billed.total_minor === total_minor, {
    path: ["total_minor"],
    error: "The total is not the one of what was issued.",
  })
  .refine(({ kind, document: issued }) => kind === "credit-note" || addsUp(issued), {
    path: ["document", "billed"],
    error: "The lines do not add up to the total.",
  });

/** Its page works the sums out again from the lines. */
function addsUp(issued: z.infer<typeof document>): boolean {
  try {
    return invoiceTotal(issued, issued.currency).total_minor === issued.billed.total_minor;
  } catch {
    return false;
  }
}

export const paymentStored = z.strictObject({
  id: recordId,
  invoice_id: recordId,
  amount_minor: z
    .int()
    .min(-MOST_MINOR)
    .max(MOST_MINOR)
    .refine((amount) => amount !== 0, { error: "A payment is of some amount." }),
  paid_on: date,
  method: z.enum(PAYMENT_METHODS),
  note: textOrNone(PAYMENT_NOTE_CHARS),
  reverses: recordId.nullable(),
  deposit: z.boolean().default(false),
  recorded_at: instant,
  recorded_by: actor,
});
