import type { CreditFields, IssueFields, PaymentFields } from "../../../views/invoices/invoice-fields.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import { formatAmount } from "../../core/quantities/money.ts";
import {
  CREDIT_REASON_CHARS,
  type ExtraWork,
  type InvoiceDocument,
  MOST_PAY_DAYS,
  PAYMENT_METHODS,
} from "../../core/quotes/invoice.ts";
import { CUSTOMER_CHARS } from "../../store/customers.ts";
import { PAYMENT_NOTE_CHARS, type PaymentInput } from "../../store/invoice-row.ts";
import { type DayContext, type Read, Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { type Money, readAmount } from "../forms/read-amount.ts";
import { isEmpty, oneOf } from "../forms/typed-values.ts";
import { extraFields, readExtraWork } from "./extra-work.ts";

const PAYMENT = ["amount", "paid_on", "method", "payment_note"] as const;

/** The fields for issuing an invoice as a form sent them. */
export function issueFields(form: URLSearchParams): IssueFields {
  return {
    ...typedFields(form, ["name", "address", "days", "found", "yes_name", "yes_how", "yes_on"]),
    extra: extraFields(form),
  };
}

/** What an invoice is made of besides the accepted option. */
export interface IssueInput {
  customer: InvoiceDocument["customer"];
  pay_by: string | null;
  extra: ExtraWork | null;
}

/** Who an invoice is for and until when it has to be paid, or what has to be corrected. */
export function readIssue(
  fields: IssueFields,
  order: Parameters<typeof readExtraWork>[1],
  context: DayContext,
): Read<IssueInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const words = (field: "name" | "address") => {
    const read = readWords(fields[field], CUSTOMER_CHARS[field]);
    return "words" in read ? (read.words ?? "") : (refuse(field, read.message) ?? "");
  };
  const customer = { name: words("name"), address: words("address") };
  if (customer.name === "") refuse("name", "Enter whom the invoice is for");
  const count = fields.days.trim();
  if (!/^\d{0,3}$/.test(count) || Number(count) > MOST_PAY_DAYS)
    refuse("days", `Enter the days to pay, from 0 to ${MOST_PAY_DAYS}, or leave it empty`);
  const extra = readExtraWork(fields, order, context, refusals);
  const errors = refusals.all();
  if (errors.length > 0) return { ok: false, errors };
  const pay_by = count === "" ? null : isoFromDay(dayNumber(context.today) + Number(count));
  return { ok: true, input: { customer, pay_by, extra } };
}

/** The fields of a payment as a form sent them. */
export function paymentFields(form: URLSearchParams): PaymentFields {
  return typedFields(form, PAYMENT);
}

/** A payment of what is owed or, where that is negative, a refund. */
export function readPayment(
  fields: PaymentFields,
  owing_minor: number,
  { currency, number_format }: Money,
  context: DayContext,
): Read<PaymentInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const most = Math.abs(owing_minor);
  const amount = readOpen("amount", fields.amount, most, { currency, number_format }, refuse);
  const day = readDay(fields.paid_on, context);
  const paid_on = "iso" in day ? day.iso : (refuse("paid_on", day.message) ?? context.today);
  if (paid_on > context.today) refuse("paid_on", "Enter the day on which it was paid, not one to come");
  const method = oneOf(PAYMENT_METHODS, fields.method) ?? refuse("method", "Choose how it was paid");
  const note = readWords(fields.payment_note, PAYMENT_NOTE_CHARS);
  if ("message" in note) refuse("payment_note", note.message);
  const errors = refusals.inOrder(PAYMENT);
  if (errors.length > 0 || amount === undefined || method === undefined || "message" in note)
    return { ok: false, errors };
  return {
    ok: true,
    input: { amount_minor: owing_minor < 0 ? 0 - amount : amount, paid_on, method, note: note.words ?? "" },
  };
}

/** The fields of a credit note as a form sent them. */
export function creditFields(form: URLSearchParams): CreditFields {
  return typedFields(form, ["credit", "reason"]);
}

/** A credit note: an amount, at most what is left, and the reason. */
export function readCredit(
  { credit, reason }: CreditFields,
  left_minor: number,
  money: Money,
): Read<{ amount_minor: number; reason: string }> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const amount_minor = readOpen("credit", credit, left_minor, money, refuse);
  const words = readWords(reason, CREDIT_REASON_CHARS);
  if ("message" in words) refuse("reason", words.message);
  else if (words.words === null) refuse("reason", "Say why, like billed twice or part not fitted");
  const errors = refusals.inOrder(["credit", "reason"]);
  if (errors.length > 0 || amount_minor === undefined || "message" in words) return { ok: false, errors };
  return { ok: true, input: { amount_minor, reason: words.words ?? "" } };
}

/** An amount of at most what is open on an invoice. */
function readOpen(
  field: string,
  typed: string,
  most_minor: number,
  money: Money,
  refuse: (field: string, message: string) => undefined,
): number | undefined {
  if (isEmpty(typed))
    return refuse(field, `Enter an amount, like ${formatAmount(most_minor, money.currency, money.number_format)}`);
  return readAmount(field, typed, { most_minor, because: "no more is open" }, money, refuse);
}
