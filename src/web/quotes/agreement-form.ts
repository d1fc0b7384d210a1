import { AGREEMENT_FIELDS, type AgreementFields } from "../../../views/quotes/agreement.tsx";
import { formatDate } from "../../core/quantities/dates.ts";
import { parseAmount, plainAmount } from "../../core/quantities/money.ts";
import { parseComingDay } from "../../core/quantities/parse-coming-day.ts";
import { type Agreement, type Deposit, NOTHING_AGREED } from "../../core/quotes/agreement.ts";
import { PAYMENT_METHODS } from "../../core/quotes/invoice.ts";
import { optionTotal } from "../../core/quotes/quote.ts";
import type { QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import { type DayContext, type Read, Refusals } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { readAmount } from "../forms/read-amount.ts";
import { isEmpty, oneOf } from "../forms/typed-values.ts";

/** The fields of an agreement as a form sent them. */
export function agreementFields(form: URLSearchParams): AgreementFields {
  return typedFields(form, AGREEMENT_FIELDS);
}

/** An agreement as it stands in its form. */
export function typedAgreement(
  { ready_by, extra_minor, deposit }: Agreement,
  { currency, number_format }: Pick<QuoteSnapshot, "currency" | "number_format">,
): AgreementFields {
  const amount = (minor: number) => (minor === 0 ? "" : plainAmount(minor, currency, number_format));
  return {
    ready_by: ready_by === null ? "" : formatDate(ready_by),
    extra: amount(extra_minor),
    deposit: amount(deposit?.amount_minor ?? 0),
    deposit_method: deposit?.method ?? "",
  };
}

interface AgreementCase {
  snapshot: QuoteSnapshot;
  /** Id of the option that it goes with; null for a no, which goes with none. */
  option: string | null;
  /** What holds so far: a promised day stays although it has passed, a deposit keeps its day. */
  before: Agreement;
  context: DayContext;
}

/** Reads what is agreed on besides the option. */
export function readAgreement(
  fields: AgreementFields,
  { snapshot, option, before, context }: AgreementCase,
): Read<Agreement> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  if (option === null) {
    for (const name of AGREEMENT_FIELDS)
      if (!isEmpty(fields[name])) refuse(name, "This goes with a yes only: choose an option, or leave it empty");
    const errors = refusals.all();
    return errors.length > 0 ? { ok: false, errors } : { ok: true, input: NOTHING_AGREED };
  }
  const ready_by = readReadyBy(fields.ready_by, before.ready_by, context, refuse);
  const extra_minor = readExtra(fields.extra, snapshot, refuse);
  const deposit = readDeposit(fields, { snapshot, option, before: before.deposit, today: context.today }, refuse);
  const errors = refusals.inOrder(AGREEMENT_FIELDS);
  if (errors.length > 0) return { ok: false, errors };
  return { ok: true, input: { ready_by, extra_minor, deposit } };
}

type Refuse = Refusals["refuse"];

function readReadyBy(typed: string, before: string | null, context: DayContext, refuse: Refuse): string | null {
  if (isEmpty(typed)) return null;
  if (before !== null && typed.trim() === formatDate(before)) return before;
  const day = parseComingDay(typed, { today: context.today, order: context.date_order });
  return day.ok ? day.iso : (refuse("ready_by", day.message) ?? null);
}

function readExtra(typed: string, { currency, number_format }: QuoteSnapshot, refuse: Refuse): number {
  if (isEmpty(typed)) return 0;
  const amount = parseAmount(typed, currency, number_format);
  return amount.ok ? amount.scaled : (refuse("extra", amount.message) ?? 0);
}

function readDeposit(
  { deposit, deposit_method }: AgreementFields,
  {
    snapshot,
    option,
    before,
    today,
  }: { snapshot: QuoteSnapshot; option: string; before: Deposit | null; today: string },
  refuse: Refuse,
): Deposit | null {
  if (isEmpty(deposit)) {
    if (deposit_method !== "") refuse("deposit", "Enter the amount of the deposit, or choose No deposit");
    return null;
  }
  const ordered = snapshot.options.find(({ id }) => id === option);
  const most_minor =
    ordered === undefined
      ? Number.MAX_SAFE_INTEGER
      : optionTotal(ordered, snapshot.taxes, snapshot.currency).total_minor;
  const amount_minor = readAmount("deposit", deposit, { most_minor, because: "that is the price" }, snapshot, refuse);
  const method = oneOf(PAYMENT_METHODS, deposit_method) ?? refuse("deposit_method", "Choose how it was paid");
  if (amount_minor === undefined || method === undefined) return null;
  const same = before !== null && before.amount_minor === amount_minor && before.method === method;
  return { amount_minor, method, paid_on: same ? before.paid_on : today };
}
