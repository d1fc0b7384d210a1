import type { Context } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { AgreementFields } from "../../../views/quotes/agreement.tsx";
import { QuotePage, type ShopAnswerFields } from "../../../views/quotes/quote-page.tsx";
import type { WorkFields } from "../../../views/quotes/work-form.tsx";
import { localTime } from "../../core/quantities/local-time.ts";
import { type Agreement, agreementOf, NOTHING_AGREED, sameAgreement } from "../../core/quotes/agreement.ts";
import { quoteState } from "../../core/quotes/quote-document.ts";
import { notFound } from "../../store/errors.ts";
import { newId } from "../../store/ids.ts";
import type { InvoiceSummary } from "../../store/invoices.ts";
import type { Quote } from "../../store/quote-row.ts";
import { mayAct } from "../../store/roles.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { dayContextOf, todayIn } from "../workspace.ts";
import { pathOf, quoteOf } from "./address.ts";
import { agreementFields, readAgreement, typedAgreement } from "./agreement-form.ts";
import { readShopAnswer, shopAnswerFields } from "./answer-form.ts";
import { qrCode } from "./qr-code.ts";
import { quotedWork, readWork, workFieldsOf } from "./work.ts";

/** What was typed in one of the forms, and what is wrong with it. */
interface Typed {
  token?: string;
  work_fields?: WorkFields;
  answer_fields?: ShopAnswerFields;
  agreement_fields?: AgreementFields;
  errors?: FieldError[];
}

/** A sent quote: its state, its answer, what is still to be done. A new `token` is shown as a link, this once. */
export async function answerQuote(
  c: Context<GrantedEnv>,
  deps: Deps,
  quote: Quote,
  {
    token,
    work_fields,
    answer_fields = { choice: "", name: quote.content.customer, how: "" },
    agreement_fields,
    errors = [],
  }: Typed = {},
): Promise<Response> {
  const { snapshot, sent_at, decided_at, decided_name, decided_option, decided_keep_years, work, status } = quote;
  if (snapshot === null || sent_at === null || status === "draft") throw notFound("quote");
  const { vehicles, settings, invoices, refrigerantLog } = c.var.store;
  const [vehicle, workspace, billed, cylinders] = await Promise.all([
    vehicles.get(quote.vehicle_id),
    settings.get(),
    invoices.ofQuote(quote.id),
    refrigerantLog.cylinders(),
  ]);
  const { time_zone } = workspace;
  const today = todayIn(workspace, deps.now());
  const state = quoteState(status, quote.valid_until, today);
  const accepted = snapshot.options.find(({ id }) => id === decided_option);
  const page = QuotePage({
    vehicle,
    quote,
    state: state === "draft" ? "sent" : state,
    snapshot,
    sent_at: localTime(sent_at, time_zone),
    decided:
      decided_at === null
        ? null
        : {
            at: localTime(decided_at, time_zone),
            name: decided_name ?? "",
            option: decided_option,
            keep_years: decided_keep_years ?? snapshot.keep_years,
            how: quote.decided_how,
            by: quote.decided_by,
          },
    earlier: (quote.earlier_answers ?? []).map(({ status, at, name, option, taken_back_at, taken_back_by }) => ({
      said:
        status === "declined"
          ? `Declined by ${name}`
          : `Accepted by ${name}: ${snapshot.options.find(({ id }) => id === option)?.title ?? ""}`,
      at: localTime(at, time_zone),
      taken_back: `on ${localTime(taken_back_at, time_zone)} by ${taken_back_by}`,
    })),
    answer_fields,
    agreed: (quote.agreed ?? []).map((one) => ({ ...one, at: localTime(one.at, time_zone) })),
    agreement_fields: agreement_fields ?? typedAgreement(agreementOf(quote.agreed), snapshot),
    invoices: billed,
    cylinders: cylinders.filter(({ retired_at }) => retired_at === null),
    work,
    work_fields:
      accepted === undefined || work !== null ? null : (work_fields ?? quotedWork(snapshot, accepted, today)),
    link: token === undefined ? null : await handedOver(c, quote, `${deps.origin(c)}/q/${token}`),
    only_here: deps.access_mode === "local",
    may_change: mayAct(c.var.access.role, "editor"),
    errors,
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  if (token !== undefined) c.header("Cache-Control", "no-store");
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

/** A customer's link with its code, and where the customer is reached. */
async function handedOver(c: Context<GrantedEnv>, { content, vehicle_id }: Quote, address: string) {
  const { customers } = c.var.store;
  const id = content.customer_id ?? (await customers.particulars(vehicle_id)).customer_id;
  const { email = "", phone = "" } = id === null ? {} : await customers.get(id);
  return { address, code: qrCode(address), email, phone };
}

/** POST `…/link`: a new link for the customer; the one before opens nothing any more. */
export async function renewLink(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const quote = await quoteOf(c);
  const token = await c.var.store.quotes.newLink(quote.id);
  return answerQuote(c, deps, quote, { token });
}

/** POST `…/withdraw` */
export async function withdrawQuote(c: Context<GrantedEnv>): Promise<Response> {
  const quote = await quoteOf(c);
  await c.var.store.quotes.withdraw(quote.id, versionOf(await formOf(c)));
  return c.redirect(pathOf(quote), 303);
}

/** POST `…/revise`: a new draft from one that was sent; when it is sent, it takes that one's place. */
export async function reviseQuote(c: Context<GrantedEnv>): Promise<Response> {
  const quote = await quoteOf(c);
  const submit_key = (await formOf(c)).get("submit_key");
  // Copied as it was, lines typed by hand included; each option can be repriced by its own button.
  const draft = await c.var.store.quotes.create(quote.vehicle_id, quote.content, quote.id, submit_key);
  return c.redirect(pathOf(draft), 303);
}

/** POST `…/answer`: what the customer said by phone, on paper or in person. */
export async function recordAnswer(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const [quote, form] = [await quoteOf(c), await formOf(c)];
  const { snapshot } = quote;
  if (snapshot === null || quote.status !== "sent") return c.redirect(pathOf(quote), 303);
  const [answer_fields, agreement_fields] = [shopAnswerFields(form), agreementFields(form)];
  const read = readShopAnswer(answer_fields, snapshot);
  const agreed = readAgreement(agreement_fields, {
    snapshot,
    option: answer_fields.choice === "no" ? null : answer_fields.choice,
    before: agreementOf(quote.agreed),
    context: dayContextOf(await c.var.store.settings.get(), deps.now()),
  });
  if (!read.ok || !agreed.ok) {
    const errors = [...(read.ok ? [] : read.errors), ...(agreed.ok ? [] : agreed.errors)];
    return answerQuote(c, deps, quote, { answer_fields, agreement_fields, errors });
  }
  const agreement = sameAgreement(agreed.input, NOTHING_AGREED) ? null : agreed.input;
  const decision = { ...read.input, agreement, keep_years: snapshot.keep_years };
  await c.var.store.quotes.recordAnswer(quote.id, versionOf(form), decision, submitKeyOf(form));
  return c.redirect(pathOf(quote), 303);
}

/** POST `…/agreement`: what is agreed on with the order, changed. */
export async function changeAgreement(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const [quote, form] = [await quoteOf(c), await formOf(c)];
  const { snapshot, decided_option } = quote;
  if (snapshot === null || decided_option === null) return c.redirect(pathOf(quote), 303);
  const { settings, invoices, quotes } = c.var.store;
  const agreement_fields = agreementFields(form);
  const before = agreementOf(quote.agreed);
  const context = dayContextOf(await settings.get(), deps.now());
  const read = readAgreement(agreement_fields, { snapshot, option: decided_option, before, context });
  const errors = read.ok ? depositFaults(read.input, before, await invoices.ofQuote(quote.id)) : read.errors;
  if (!read.ok || errors.length > 0) return answerQuote(c, deps, quote, { agreement_fields, errors });
  if (!sameAgreement(read.input, before)) await quotes.agree(quote.id, versionOf(form), read.input, submitKeyOf(form));
  return c.redirect(`${pathOf(quote)}#agreed`, 303);
}

/** A deposit that an invoice counts as paid can only be corrected on that invoice. */
function depositFaults(
  { deposit }: Agreement,
  before: Agreement,
  invoices: readonly Pick<InvoiceSummary, "kind" | "credited_minor" | "total_minor">[],
): FieldError[] {
  const billed = invoices.some((one) => one.kind === "invoice" && one.credited_minor < one.total_minor);
  if (!billed || sameAgreement({ ...before, deposit }, before)) return [];
  return [{ field: "deposit", message: "The invoice is issued: enter what was paid, or take it back, there" }];
}

/** POST `…/answer/removal`: an answer that was recorded by mistake. */
export async function takeBackAnswer(c: Context<GrantedEnv>): Promise<Response> {
  const [quote, form] = [await quoteOf(c), await formOf(c)];
  await c.var.store.quotes.takeBackAnswer(quote.id, versionOf(form), submitKeyOf(form));
  return c.redirect(pathOf(quote), 303);
}

/** POST `…/work`: what was done of an accepted quote, into the vehicle's record. */
export async function logWork(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const [quote, form] = [await quoteOf(c), await formOf(c)];
  const { snapshot, decided_option } = quote;
  if (snapshot === null || decided_option === null || quote.work !== null) return c.redirect(pathOf(quote), 303);
  const record = await c.var.store.record(quote.vehicle_id);
  const fields = workFieldsOf(form);
  const today = todayIn(record.workspace, deps.now());
  const cylinders = await c.var.store.refrigerantLog.cylinders();
  const read = readWork({ fields, snapshot, option: decided_option, record, today, cylinders });
  if (!read.ok) return answerQuote(c, deps, quote, { work_fields: fields, errors: read.errors });

  await c.var.store.quotes.logWork(quote.id, versionOf(form), read.input, form.get("submit_key"));
  return c.redirect(pathOf(quote), 303);
}
