import { formatAmount } from "../../src/core/quantities/money.ts";
import {
  type Balance,
  type InvoiceDocument,
  type InvoiceKind,
  type InvoiceState,
  owingOf,
  type PaymentMethod,
} from "../../src/core/quotes/invoice.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { Day } from "../words/said.tsx";
import type { CreditFields, PaymentFields } from "./invoice-fields.ts";
import { invoiceName } from "./invoice-paper.tsx";
import { INVOICE_STATE_NAMES } from "./invoices-page.tsx";
import { PAYMENT_METHOD_CHOICES, PAYMENT_METHOD_NAMES } from "./payment-methods.ts";

/** A payment as its line shows it. */
export interface ShownPayment {
  id: string;
  amount_minor: number;
  paid_on: string;
  method: PaymentMethod;
  note: string;
  recorded_by: string;
  /** Paid with the order. */
  deposit: boolean;
  /** It takes an earlier one back, or was taken back itself. */
  taken_back: boolean;
}

export interface InvoicePageProps {
  id: string;
  kind: InvoiceKind;
  number: number;
  document: InvoiceDocument;
  balance: Balance;
  /** Null for a credit note. */
  state: InvoiceState | null;
  payments: readonly ShownPayment[];
  credit_notes: readonly { id: string; number: number; document: InvoiceDocument }[];
  /** Of a credit note: address of its invoice. */
  credited: string | null;
  quote: string;
  vehicle: { id: string; label: string };
  payment_fields: PaymentFields;
  credit_fields: CreditFields;
  errors: readonly FieldError[];
  may_change: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/invoices/:id`: the shop's side of an invoice: what is paid, owing, given back. */
export function InvoicePage(props: InvoicePageProps) {
  const { id, kind, number, document, state, balance, vehicle, quote, credited, errors, may_change, asset } = props;
  const name = invoiceName(kind, document.prefix, number);
  const amount = amountOf(document);
  const owing = owingOf(balance);
  return (
    <Layout title={name} path="/invoices" asset={asset} errors={errors}>
      <p class="page-name">
        <a href="/invoices">Invoices</a>
      </p>
      <h1 class="page-title">
        {name}
        {state !== null && `: ${INVOICE_STATE_NAMES[state].toLowerCase()}`}
      </h1>
      <Entry name="How it stands">
        <p>
          {document.title} for {document.customer.name}, issued on <Day iso={document.issued_on} />
          {document.pay_by !== null && (
            <>
              , to be paid by <Day iso={document.pay_by} />
            </>
          )}
          .
        </p>
        {kind === "invoice" ? (
          <dl class="targets">
            <Figure name="Billed">{amount(balance.total_minor)}</Figure>
            {balance.credited_minor > 0 && <Figure name="Given back">{amount(balance.credited_minor)}</Figure>}
            <Figure name="Paid">{amount(balance.paid_minor)}</Figure>
            <Figure name={owing < 0 ? "To be paid back" : "Owing"}>{amount(Math.abs(owing))}</Figure>
          </dl>
        ) : (
          <p>
            Given back: <strong>{amount(document.billed.total_minor)}</strong> of{" "}
            {credited !== null && <a href={credited}>invoice {document.credits?.number}</a>}. {document.credits?.reason}
          </p>
        )}
        <p class="actions">
          <a class="button" href={`/invoices/${id}/paper`}>
            Open to print
          </a>
          <a href={quote}>Quote {document.quote_number}</a>
          <a href={`/vehicles/${vehicle.id}`} dir="auto">
            {vehicle.label}
          </a>
        </p>
      </Entry>
      {kind === "invoice" && <Payments {...props} />}
      {kind === "invoice" && may_change && owing !== 0 && <RecordPayment {...props} />}
      {kind === "invoice" && <Credits {...props} />}
    </Layout>
  );
}

function amountOf({ currency, number_format }: InvoiceDocument) {
  return (minor: number) => formatAmount(minor, currency, number_format);
}

function Figure({ name, children }: { name: string; children: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function Payments({ id, payments, document, may_change }: InvoicePageProps) {
  const amount = amountOf(document);
  return (
    <Entry name="Payments">
      {payments.length === 0 ? (
        <p>Nothing paid yet.</p>
      ) : (
        <ul class="people">
          {payments.map((payment) => (
            <li>
              <p>
                {payment.amount_minor < 0 ? `Back: ${amount(-payment.amount_minor)}` : amount(payment.amount_minor)},{" "}
                {payment.deposit && "deposit, "}
                {PAYMENT_METHOD_NAMES[payment.method].toLowerCase()}, <Day iso={payment.paid_on} />
                <span class="soft">
                  {payment.note !== "" && ` · ${payment.note}`} · recorded by {payment.recorded_by}
                  {payment.taken_back && " · taken back"}
                </span>
              </p>
              {may_change && !payment.taken_back && (
                <Confirm
                  name="Take this payment back"
                  about={`of ${amount(payment.amount_minor)}`}
                  question="It was recorded by mistake. Both lines stay in the account; the amount is owing again."
                  action={`/invoices/${id}/payments/${payment.id}/reversal`}
                  fields={{}}
                />
              )}
            </li>
          ))}
        </ul>
      )}
    </Entry>
  );
}

function RecordPayment({ id, balance, document, payment_fields, errors, submit_key }: InvoicePageProps) {
  const of = fieldOf(payment_fields, messagesOf(errors));
  const back = owingOf(balance) < 0;
  const most = amountOf(document)(Math.abs(owingOf(balance)));
  return (
    <Entry name={back ? "Record what was paid back" : "Record a payment"}>
      <form method="post" action={`/invoices/${id}/payments`} class="stack" id="payment" novalidate>
        <input type="hidden" name="submit_key" value={`${submit_key}-pay`} />
        <div class="field-grid">
          <TextField {...of("amount")} label="Amount" hint={`At most ${most}`} inputmode="decimal" short />
          <TextField {...of("paid_on")} label="Paid on" hint="Like today or 14 Aug 2026" />
          <SelectField
            {...of("method")}
            label="How"
            choices={[{ value: "", label: "Choose" }, ...PAYMENT_METHOD_CHOICES]}
          />
          <TextField {...of("payment_note")} label="Note" hint="May stay empty" words />
        </div>
        <FormFoot submit={back ? "Record it" : "Record the payment"} />
      </form>
    </Entry>
  );
}

function Credits({
  id,
  credit_notes,
  balance,
  document,
  credit_fields,
  errors,
  may_change,
  submit_key,
}: InvoicePageProps) {
  const amount = amountOf(document);
  const left = balance.total_minor - balance.credited_minor;
  const of = fieldOf(credit_fields, messagesOf(errors));
  const typed = errors.some(({ field }) => field === "credit" || field === "reason");
  if (credit_notes.length === 0 && !may_change) return null;
  return (
    <Entry name="Credit notes" note={<p>To put a mistake right</p>}>
      {credit_notes.length > 0 && (
        <ul class="people">
          {credit_notes.map((note) => (
            <li>
              <a href={`/invoices/${note.id}`}>{invoiceName("credit-note", note.document.prefix, note.number)}</a>:{" "}
              {amount(note.document.billed.total_minor)}, {note.document.credits?.reason}
            </li>
          ))}
        </ul>
      )}
      {may_change && left > 0 && (
        <details open={typed}>
          <summary>Give back some or all of it</summary>
          <form method="post" action={`/invoices/${id}/credit-notes`} class="stack" id="credit-note" novalidate>
            <input type="hidden" name="submit_key" value={`${submit_key}-credit`} />
            <div class="field-grid">
              <TextField
                {...of("credit")}
                label="Amount with tax"
                hint={`${amount(left)} for all that is left`}
                inputmode="decimal"
                short
              />
              <TextField {...of("reason")} label="Why" hint="Stands on the credit note" words />
            </div>
            <FormFoot submit="Issue a credit note" quiet />
          </form>
        </details>
      )}
    </Entry>
  );
}
