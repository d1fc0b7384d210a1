import { type Context, Hono } from "hono";
import type { CreditFields, IssueFields, PaymentFields } from "../../../views/invoices/invoice-fields.ts";
import { InvoicePage, type ShownPayment } from "../../../views/invoices/invoice-page.tsx";
import { InvoicesPage } from "../../../views/invoices/invoices-page.tsx";
import { IssuePage } from "../../../views/invoices/issue-page.tsx";
import { PaperPage } from "../../../views/invoices/paper-page.tsx";
import { WorkOrderPage } from "../../../views/invoices/work-order-page.tsx";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { Problem } from "../../core/problem.ts";
import { formatDate } from "../../core/quantities/dates.ts";
import { plainAmount, sumOf } from "../../core/quantities/money.ts";
import { agreementOf } from "../../core/quotes/agreement.ts";
import { type InvoiceDocument, invoiceState, owingOf } from "../../core/quotes/invoice.ts";
import { notFound } from "../../store/errors.ts";
import type { Invoice, Payment } from "../../store/invoice-row.ts";
import type { InvoiceAccount } from "../../store/invoices.ts";
import type { Quote } from "../../store/quote-row.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { calendarDay } from "../edge/calendar-day.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, submitKeyOf } from "../forms/posted-form.ts";
import { pathOf, quoteOf } from "../quotes/address.ts";
import { dayContextOf, todayIn } from "../workspace.ts";
import { creditNoteOf, invoiceOfQuote, leftOf } from "./invoice-document.ts";
import { creditFields, issueFields, paymentFields, readCredit, readIssue, readPayment } from "./invoice-forms.ts";
import { invoicesCsv } from "./invoices-csv.ts";
import { listedInvoices } from "./listed.ts";
import { orderOf } from "./order.ts";

type Granted = Context<GrantedEnv>;

const INVOICES_ON_PAGE = 50;
const INVOICES_IN_FILE = 10_000;

/** `/invoices`, and the work order and invoice of an accepted quote. */
export function invoicesRoutes(deps: Deps) {
  const viewer = requireRole("viewer");
  const editor = requireRole("editor");
  const quote = "/vehicles/:id/quotes/:quote";
  return new Hono<GrantedEnv>()
    .get("/invoices", viewer, (c) => answerList(c, deps))
    .get("/invoices.csv", viewer, async (c) =>
      csvFile(c, "invoices", invoicesCsv((await searched(c, deps, INVOICES_IN_FILE)).invoices)),
    )
    .get(`${quote}/work-order`, viewer, (c) => answerWorkOrder(c, deps))
    .get(`${quote}/invoice`, editor, async (c) => answerIssue(c, deps, await acceptedQuote(c)))
    .post(`${quote}/invoice`, editor, (c) => issue(c, deps))
    .get("/invoices/:id", viewer, async (c) =>
      answerInvoice(c, deps, await c.var.store.invoices.account(c.req.param("id"))),
    )
    .get("/invoices/:id/paper", viewer, (c) => answerPaper(c, deps))
    .post("/invoices/:id/payments", editor, (c) => recordPayment(c, deps))
    .post("/invoices/:id/payments/:payment/reversal", editor, async (c) => {
      const { invoices, settings } = c.var.store;
      const [id, payment] = [c.req.param("id"), c.req.param("payment")];
      const today = todayIn(await settings.get(), deps.now());
      await invoices.reverse(id, payment, today, submitKeyOf(await formOf(c)));
      return c.redirect(`/invoices/${id}`, 303);
    })
    .post("/invoices/:id/credit-notes", editor, (c) => creditInvoice(c, deps));
}

async function answerList(c: Granted, deps: Deps): Promise<Response> {
  const { invoices, search } = await searched(c, deps, INVOICES_ON_PAGE + 1);
  const { number_format } = (await c.var.store.letterheads.get()).letterhead;
  const shown = invoices.slice(0, INVOICES_ON_PAGE);
  const last = invoices.length > INVOICES_ON_PAGE ? shown.at(-1) : undefined;
  const query = { q: search.text, ...(search.open ? { open: "1" } : {}) };
  const older = last === undefined ? null : `/invoices?${new URLSearchParams({ ...query, before: last.id })}`;
  return answerPage(c, InvoicesPage({ invoices: shown, search, older, number_format, asset: deps.asset }));
}

/** The search in the address: `?q=ames&open=1&before=…`. */
async function searched(c: Granted, deps: Deps, limit: number) {
  const { settings, invoices } = c.var.store;
  const today = todayIn(await settings.get(), deps.now());
  const search = { text: (c.req.query("q") ?? "").trim().slice(0, 120), open: c.req.query("open") !== undefined };
  const found = await invoices.search({ ...search, before: c.req.query("before") ?? null, limit });
  return { invoices: listedInvoices(found, today), search };
}

/** The accepted quote of the address. Throws `Problem` not-found. */
async function acceptedQuote(c: Granted): Promise<Quote> {
  const quote = await quoteOf(c);
  if (quote.status !== "accepted") throw notFound("accepted quote");
  return quote;
}

async function answerWorkOrder(c: Granted, deps: Deps): Promise<Response> {
  const quote = await acceptedQuote(c);
  const { decided_name, decided_at } = quote;
  const { snapshot, own_option, found_at } = orderOf(quote, c.req.query("found") ?? "");
  const { time_zone } = await c.var.store.settings.get();
  const page = WorkOrderPage({
    snapshot,
    // As the shop wrote it: the customer's words are for the customer.
    option: own_option,
    found_at,
    accepted: { name: decided_name ?? "", on: calendarDay(new Date(decided_at ?? 0), time_zone) },
    agreement: agreementOf(quote.agreed),
    back: pathOf(quote),
    asset: deps.asset,
  });
  return answerPage(c, page);
}

/** The invoice as it would be issued today, and for whom. */
async function answerIssue(
  c: Granted,
  deps: Deps,
  quote: Quote,
  sent: { fields: IssueFields; errors: FieldError[] } | null = null,
): Promise<Response> {
  const { settings, letterheads, invoices } = c.var.store;
  const [workspace, { letterhead }, made] = await Promise.all([
    settings.get(),
    letterheads.get(),
    invoices.ofQuote(quote.id),
  ]);
  const issued = made.find((one) => one.kind === "invoice" && one.credited_minor < one.total_minor);
  if (issued !== undefined) return c.redirect(`/invoices/${issued.id}`, 303);
  const fields = sent?.fields ?? (await usualIssue(c, quote, letterhead.pay_days));
  const context = dayContextOf(workspace, deps.now());
  const order = orderOf(quote, fields.found);
  const read = readIssue(fields, order, context);
  const { customer, pay_by, extra } = read.ok
    ? read.input
    : { customer: { name: fields.name, address: fields.address }, pay_by: null, extra: null };
  const errors = sent?.errors ?? [];
  const page = IssuePage({
    quote: pathOf(quote),
    fields,
    document: invoiceOfQuote({ quote, order, customer, letterhead, issued_on: context.today, pay_by, extra }),
    not_logged: quote.work === null,
    deposit_minor: await invoices.openDeposit(quote.id),
    agreed_minor: order.agreed_minor,
    by_place: order.found_at !== null,
    errors,
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

/** Where a leak was repaired with the work of a quote, by the log; empty where none was. */
async function repairedIn(c: Granted, { vehicle_id, work }: Quote): Promise<string> {
  if (work === null) return "";
  const entries = await c.var.store.chargeLog.list(vehicle_id);
  return entries.findLast(({ date, repair }) => date === work.date && repair !== null)?.repair ?? "";
}

/** The name in the customer records, else the one on the quote. */
async function usualIssue(c: Granted, quote: Quote, pay_days: string): Promise<IssueFields> {
  const customer = await customerOf(c, quote);
  const name = quote.content.customer || customer?.name || quote.decided_name || "";
  const found = await repairedIn(c, quote);
  const address = customer?.address ?? "";
  const form = new URLSearchParams({ name, address, days: pay_days, yes_on: "today", found });
  return issueFields(form);
}

async function customerOf(c: Granted, { content, vehicle_id }: Quote) {
  const { customers } = c.var.store;
  const id = content.customer_id ?? (await customers.particulars(vehicle_id)).customer_id;
  const customer = id === null ? null : await customers.get(id);
  return customer === null || customer.erased_at !== null ? null : customer;
}

async function issue(c: Granted, deps: Deps): Promise<Response> {
  const quote = await acceptedQuote(c);
  const form = await formOf(c);
  const fields = issueFields(form);
  const { settings, letterheads, invoices, vehicles } = c.var.store;
  const [workspace, { letterhead }, vehicle] = await Promise.all([
    settings.get(),
    letterheads.get(),
    vehicles.get(quote.vehicle_id),
  ]);
  if (vehicle.example)
    throw new Problem(
      "invalid",
      "This vehicle is a sample. Sample work is not billed: an invoice's number is used for good.",
    );
  const context = dayContextOf(workspace, deps.now());
  const order = orderOf(quote, fields.found);
  const read = readIssue(fields, order, context);
  if (!read.ok) return answerIssue(c, deps, quote, { fields, errors: read.errors });
  if (form.has("look")) return answerIssue(c, deps, quote, { fields, errors: [] });
  const document = invoiceOfQuote({ quote, order, letterhead, issued_on: context.today, ...read.input });
  const customer_id = (await customerOf(c, quote))?.id ?? null;
  const about = { quote_id: quote.id, vehicle_id: quote.vehicle_id, customer_id };
  const first_number = Number(letterhead.invoice_first || "1");
  const { id } = await invoices.issue(about, document, first_number, submitKeyOf(form));
  return c.redirect(`/invoices/${id}`, 303);
}

interface AccountState {
  payment_fields?: PaymentFields;
  credit_fields?: CreditFields;
  errors?: FieldError[];
}

async function answerInvoice(
  c: Granted,
  deps: Deps,
  { invoice, balance, payments, credit_notes }: InvoiceAccount,
  { payment_fields, credit_fields, errors = [] }: AccountState = {},
): Promise<Response> {
  const { settings, vehicles } = c.var.store;
  const [workspace, vehicle, document] = await Promise.all([
    settings.get(),
    vehicles.get(invoice.vehicle_id),
    asShopWrites(c, invoice),
  ]);
  const today = todayIn(workspace, deps.now());
  const { currency, number_format, pay_by } = document;
  const page = InvoicePage({
    ...{ id: invoice.id, kind: invoice.kind, number: invoice.number, document, balance },
    state: invoice.kind === "invoice" ? invoiceState(balance, pay_by, today) : null,
    payments: shownPayments(payments),
    credit_notes,
    credited: invoice.credits === null ? null : `/invoices/${invoice.credits}`,
    quote: pathOf({ vehicle_id: invoice.vehicle_id, id: invoice.quote_id }),
    vehicle,
    payment_fields: payment_fields ?? {
      amount: plainAmount(Math.abs(owingOf(balance)), currency, number_format),
      paid_on: formatDate(today),
      method: "",
      payment_note: "",
    },
    credit_fields: credit_fields ?? { credit: "", reason: "" },
    errors,
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

/** An invoice with amounts as the shop itself writes them: its paper has them as the customer reads them. */
async function asShopWrites(c: Granted, { document }: Invoice): Promise<InvoiceDocument> {
  const { number_format } = (await c.var.store.letterheads.get()).letterhead;
  return { ...document, number_format };
}

function shownPayments(payments: readonly Payment[]): ShownPayment[] {
  const reversed = new Set(payments.map(({ reverses }) => reverses));
  return payments.map((payment) => ({ ...payment, taken_back: payment.reverses !== null || reversed.has(payment.id) }));
}

async function answerPaper(c: Granted, deps: Deps): Promise<Response> {
  const { invoice, balance, payments } = await c.var.store.invoices.account(c.req.param("id") ?? "");
  const { id, kind, number, document } = invoice;
  const { logo } = (await c.var.store.letterheads.get()).letterhead;
  const page = PaperPage({
    logo,
    ...{ kind, number, document },
    balance: kind === "invoice" ? { ...balance, deposit_minor: depositIn(payments) } : null,
    back: `/invoices/${id}`,
    asset: deps.asset,
  });
  return answerPage(c, page);
}

/** What the payments of an invoice have of a deposit. */
function depositIn(payments: readonly Payment[]): number {
  return sumOf(payments.filter(({ deposit }) => deposit).map(({ amount_minor }) => amount_minor));
}

async function recordPayment(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const { invoices, settings } = c.var.store;
  const account = await invoices.account(c.req.param("id") ?? "");
  const payment_fields = paymentFields(form);
  const context = dayContextOf(await settings.get(), deps.now());
  const money = await asShopWrites(c, account.invoice);
  const read = readPayment(payment_fields, owingOf(account.balance), money, context);
  if (!read.ok) return answerInvoice(c, deps, account, { payment_fields, errors: read.errors });
  await invoices.pay(account.invoice.id, read.input, submitKeyOf(form));
  return c.redirect(`/invoices/${account.invoice.id}`, 303);
}

async function creditInvoice(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const { invoices, settings } = c.var.store;
  const account = await invoices.account(c.req.param("id") ?? "");
  const { invoice, balance, credit_notes } = account;
  if (invoice.kind !== "invoice") throw notFound("invoice");
  const credit_fields = creditFields(form);
  const left_minor = balance.total_minor - balance.credited_minor;
  const read = readCredit(credit_fields, left_minor, await asShopWrites(c, invoice));
  if (!read.ok) return answerInvoice(c, deps, account, { credit_fields, errors: read.errors });
  const left = leftOf(
    invoice.document.billed,
    credit_notes.map(({ document }) => document.billed),
  );
  const issued_on = todayIn(await settings.get(), deps.now());
  const document = creditNoteOf({ invoice, ...read.input, left, issued_on });
  const { id } = await invoices.credit(invoice, document, submitKeyOf(form));
  return c.redirect(`/invoices/${id}`, 303);
}
