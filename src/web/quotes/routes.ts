import { type Context, Hono } from "hono";
import { planParameters } from "../../../data/parameters.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { BuilderForm, BuilderPage, type BuilderProps } from "../../../views/quotes/builder-page.tsx";
import { OfferPage } from "../../../views/quotes/offer-page.tsx";
import type { QuoteFields } from "../../../views/quotes/quote-fields.ts";
import { QuotePage, type ShopAnswerFields } from "../../../views/quotes/quote-page.tsx";
import { QuotesPage, VehicleQuotesPage } from "../../../views/quotes/quotes-page.tsx";
import { WORK_CHOICES } from "../../../views/quotes/work-choices.ts";
import type { WorkFields } from "../../../views/quotes/work-form.tsx";
import { localTime } from "../../core/quantities/local-time.ts";
import type { PriceBook } from "../../core/quotes/price-book.ts";
import { QUOTE_STATES } from "../../core/quotes/quote.ts";
import { type QuoteContent, quoteState } from "../../core/quotes/quote-document.ts";
import { Conflict, notFound } from "../../store/errors.ts";
import { newId } from "../../store/ids.ts";
import type { StoredBook } from "../../store/price-books.ts";
import type { Quote } from "../../store/quote-row.ts";
import { mayAct } from "../../store/roles.ts";
import type { VehicleRecord } from "../../store/vehicle-record.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { oneOf, readNumber } from "../forms/typed-values.ts";
import { todayIn } from "../workspace.ts";
import { readShopAnswer, shopAnswerFields } from "./answer-form.ts";
import { newContent, outlookOf, withOption, withoutOption, withRenewedLines } from "./draft.ts";
import { listedQuotes } from "./listed.ts";
import { outlookOver, typedYears } from "./offer-years.ts";
import { fieldsOfContent, fieldsOfForm, quoteBounds, readQuote } from "./quote-form.ts";
import { quotesCsv } from "./quotes-csv.ts";
import { sendFaults } from "./sendable.ts";
import { shopQuestion } from "./shop-question.ts";
import { quoteSnapshot } from "./snapshot.ts";
import { quotedWork, readWork, workFieldsOf } from "./work.ts";

/** A shop's side of its quotes: `/quotes` and `/vehicles/:id/quotes`. */
export function quotesRoutes(deps: Deps) {
  const editor = requireRole("editor");
  const viewer = requireRole("viewer");
  return (
    new Hono<GrantedEnv>()
      .get("/quotes", viewer, async (c) => {
        const { quotes, search } = await searchedQuotes(c, deps, QUOTES_ON_PAGE + 1);
        const { number_format } = (await c.var.store.letterheads.get()).letterhead;
        const more = quotes.length > QUOTES_ON_PAGE;
        const shown = quotes.slice(0, QUOTES_ON_PAGE);
        const older = more ? (shown.at(-1)?.number ?? null) : null;
        return answerPage(c, QuotesPage({ quotes: shown, search, older, number_format, asset: deps.asset }));
      })
      .get("/quotes.csv", viewer, async (c) => {
        const { quotes } = await searchedQuotes(c, deps, QUOTES_IN_FILE);
        return csvFile(c, "quotes", quotesCsv(quotes));
      })
      .get("/vehicles/:id/quotes", viewer, (c) => answerVehicleQuotes(c, deps, null))
      .post("/vehicles/:id/quotes", editor, async (c) => {
        const form = await formOf(c);
        const fields = {
          customer: (form.get("customer") ?? "").trim(),
          keep_years: form.get("keep_years") ?? "",
          book: form.get("book") ?? "",
        };
        const errors = beginErrors(fields);
        if (errors.length > 0) return answerVehicleQuotes(c, deps, { fields, errors });
        const { book } = await c.var.store.priceBooks.get(fields.book);
        const record = await c.var.store.record(c.req.param("id"));
        const keep_years = readNumber(fields.keep_years) ?? planParameters.keep_years.default;
        const today = todayIn(record.workspace, deps.now());
        const { customer } = fields;
        const content = newContent(record, today, { customer, keep_years, book_id: fields.book, book });
        const quote = await c.var.store.quotes.create(record.vehicle.id, content, null, form.get("submit_key"));
        return c.redirect(pathOf(quote), 303);
      })
      .get("/vehicles/:id/quotes/:quote", viewer, async (c) => {
        const quote = await quoteOf(c);
        return quote.status === "draft" ? answerBuilder(c, deps, quote, {}) : answerQuote(c, deps, quote, {});
      })
      // Saves the draft, with whatever else the button that was pressed asks for.
      .post("/vehicles/:id/quotes/:quote", editor, async (c) => {
        const [quote, form] = [await quoteOf(c), await formOf(c)];
        if (quote.status !== "draft") return c.redirect(pathOf(quote), 303);
        return saveDraft(c, deps, quote, form);
      })
      // The sums of what stands in the form, without saving it.
      .post("/vehicles/:id/quotes/:quote/sums", editor, async (c) => {
        const [quote, form] = [await quoteOf(c), await formOf(c)];
        const fields = fieldsOfForm(form);
        const { number_format } = (await c.var.store.letterheads.get()).letterhead;
        const read = readQuote(fields, quote.content, number_format);
        const props = await builderProps(c, deps, quote, {
          fields,
          content: read.ok ? read.content : quote.content,
          errors: read.ok ? [] : read.errors,
          quiet: true,
          version: versionOf(form),
          submit_key: form.get("submit_key") ?? newId(deps.random),
          new_work: form.get("new_work") ?? "",
        });
        return c.html(BuilderForm(props), read.ok ? 200 : 422);
      })
      .post("/vehicles/:id/quotes/:quote/discard", editor, async (c) => {
        const quote = await quoteOf(c);
        await c.var.store.quotes.discard(quote.id, versionOf(await formOf(c)));
        return c.redirect(`/vehicles/${quote.vehicle_id}/quotes`, 303);
      })
      .get("/vehicles/:id/quotes/:quote/preview", viewer, async (c) => answerPreview(c, deps, await quoteOf(c)))
      .post("/vehicles/:id/quotes/:quote/link", editor, async (c) => {
        const quote = await quoteOf(c);
        const token = await c.var.store.quotes.newLink(quote.id);
        return answerQuote(c, deps, quote, { token });
      })
      .post("/vehicles/:id/quotes/:quote/withdraw", editor, async (c) => {
        const quote = await quoteOf(c);
        await c.var.store.quotes.withdraw(quote.id, versionOf(await formOf(c)));
        return c.redirect(pathOf(quote), 303);
      })
      // What the customer said by phone, on paper or in person.
      .post("/vehicles/:id/quotes/:quote/answer", editor, async (c) => {
        const [quote, form] = [await quoteOf(c), await formOf(c)];
        const { snapshot } = quote;
        if (snapshot === null || quote.status !== "sent") return c.redirect(pathOf(quote), 303);
        const answer_fields = shopAnswerFields(form);
        const read = readShopAnswer(answer_fields, snapshot);
        if (!read.ok) return answerQuote(c, deps, quote, { answer_fields, errors: read.errors });
        const decision = { ...read.input, keep_years: snapshot.keep_years };
        await c.var.store.quotes.recordAnswer(quote.id, versionOf(form), decision, submitKeyOf(form));
        return c.redirect(pathOf(quote), 303);
      })
      .post("/vehicles/:id/quotes/:quote/answer/removal", editor, async (c) => {
        const [quote, form] = [await quoteOf(c), await formOf(c)];
        await c.var.store.quotes.takeBackAnswer(quote.id, versionOf(form), submitKeyOf(form));
        return c.redirect(pathOf(quote), 303);
      })
      // A new draft from one that was sent; when it is sent, it takes that one's place.
      .post("/vehicles/:id/quotes/:quote/revise", editor, async (c) => {
        const quote = await quoteOf(c);
        const submit_key = (await formOf(c)).get("submit_key");
        // As it was, to the last line typed by hand; each option has its own press for today's prices.
        const draft = await c.var.store.quotes.create(quote.vehicle_id, quote.content, quote.id, submit_key);
        return c.redirect(pathOf(draft), 303);
      })
      .post("/vehicles/:id/quotes/:quote/work", editor, async (c) => {
        const [quote, form] = [await quoteOf(c), await formOf(c)];
        const { snapshot, decided_option } = quote;
        if (snapshot === null || decided_option === null || quote.work !== null) return c.redirect(pathOf(quote), 303);
        const record = await c.var.store.record(quote.vehicle_id);
        const fields = workFieldsOf(form);
        const today = todayIn(record.workspace, deps.now());
        const read = readWork({ fields, snapshot, option: decided_option, record, today });
        if (!read.ok) return answerQuote(c, deps, quote, { work_fields: fields, errors: read.errors });
        await c.var.store.quotes.logWork(quote.id, versionOf(form), read.done, form.get("submit_key"));
        return c.redirect(pathOf(quote), 303);
      })
  );
}

const QUOTES_ON_PAGE = 50;
const QUOTES_IN_FILE = 10_000;

/** The quotes that the address looks for: `?q=ames&state=sent&before=120`. */
async function searchedQuotes(c: Context<GrantedEnv>, deps: Deps, limit: number) {
  const workspace = await c.var.store.settings.get();
  const today = todayIn(workspace, deps.now());
  const text = (c.req.query("q") ?? "").trim().slice(0, 120);
  const state = oneOf(QUOTE_STATES, c.req.query("state") ?? null) ?? null;
  const number = c.req.query("before") ?? "";
  const before = /^\d{1,9}$/.test(number) ? Number(number) : null;
  const found = await c.var.store.quotes.search({ text, state, today, before, limit });
  return { quotes: listedQuotes(found, today, workspace.time_zone), search: { text, state: state ?? ("" as const) } };
}

/** The quote of the address, which names its vehicle, too. Throws `Problem` not-found. */
async function quoteOf(c: Context<GrantedEnv>): Promise<Quote> {
  const quote = await c.var.store.quotes.get(c.req.param("quote") ?? "");
  if (quote.vehicle_id !== c.req.param("id")) throw notFound("quote");
  return quote;
}

function pathOf({ vehicle_id, id }: Pick<Quote, "vehicle_id" | "id">): string {
  return `/vehicles/${vehicle_id}/quotes/${id}`;
}

interface BeginFields {
  customer: string;
  keep_years: string;
  book: string;
}

function beginErrors({ customer, keep_years }: BeginFields): FieldError[] {
  const errors: FieldError[] = [];
  const { min, max } = planParameters.keep_years;
  const years = readNumber(keep_years) ?? Number.NaN;
  if ([...customer].length > quoteBounds.customer_chars)
    errors.push({ field: "customer", message: `Keep it to ${quoteBounds.customer_chars} characters` });
  if (!(years >= min && years <= max))
    errors.push({ field: "keep_years", message: `Enter years from ${min} to ${max}, like 5` });
  return errors;
}

async function answerVehicleQuotes(
  c: Context<GrantedEnv>,
  deps: Deps,
  sent: { fields: BeginFields; errors: FieldError[] } | null,
) {
  const { quotes, priceBooks, vehicles, settings } = c.var.store;
  const vehicle = await vehicles.get(c.req.param("id") ?? "");
  const [list, books, workspace] = await Promise.all([quotes.list(vehicle.id), priceBooks.list(), settings.get()]);
  const keep_years = vehicle.plan.keep_years ?? workspace.plan.keep_years ?? planParameters.keep_years.default;
  const page = VehicleQuotesPage({
    vehicle,
    quotes: listedQuotes(list, todayIn(workspace, deps.now()), workspace.time_zone),
    books: books.map(({ id, book: { name } }) => ({ id, name })),
    fields: sent?.fields ?? { customer: "", keep_years: String(keep_years), book: usualBook(books, vehicle) },
    errors: sent?.errors ?? [],
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, sent === null ? 200 : 422);
}

/** The fleet's book for a vehicle of a fleet, else the first. */
function usualBook(books: readonly { id: string }[], { fleet_group }: { fleet_group: string | null }): string {
  const wanted = fleet_group === null ? "retail" : "fleet";
  return (books.find(({ id }) => id === wanted) ?? books[0])?.id ?? "";
}

/** What a builder page shows beside what is stored. */
interface BuilderState {
  fields?: QuoteFields;
  content?: QuoteContent;
  errors?: FieldError[];
  changed?: boolean;
  quiet?: boolean;
  version?: number;
  submit_key?: string;
  new_work?: string;
}

async function saveDraft(c: Context<GrantedEnv>, deps: Deps, quote: Quote, form: URLSearchParams) {
  const [action = "save", ...targets] = (form.get("do") ?? "save").split(" ");
  const fields = changedFields(fieldsOfForm(form), action, targets);
  const { letterhead } = await c.var.store.letterheads.get();
  const read = readQuote(fields, quote.content, letterhead.number_format);
  const version = versionOf(form);
  if (!read.ok) return answerBuilder(c, deps, { ...quote, version }, { fields, errors: read.errors });

  const record = await c.var.store.record(quote.vehicle_id);
  const today = todayIn(record.workspace, deps.now());
  const { book } = await c.var.store.priceBooks.get(quote.content.book_id);
  const new_work = form.get("new_work") ?? "";
  const content = changedContent(read.content, { record, today, book, new_work }, action, targets);
  if (content.options.length > quoteBounds.options) {
    const errors = [{ field: "new_work", message: `Keep a quote to ${quoteBounds.options} options` }];
    return answerBuilder(c, deps, { ...quote, version }, { fields, errors, new_work });
  }
  try {
    if (action === "send") return await sendDraft(c, deps, { ...quote, version, content }, record, form);
    const saved = await c.var.store.quotes.update(quote.id, version, content, form.get("submit_key"));
    return c.redirect(afterSaving(saved, action, targets), 303);
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    const current = error.current as Quote;
    if (current.status !== "draft") return c.redirect(pathOf(quote), 303);
    return answerBuilder(c, deps, current, { fields, content, changed: true });
  }
}

/** Adding and removing lines is done on what was typed, whatever else is still to be put right. */
function changedFields(fields: QuoteFields, action: string, [option, n]: readonly string[]): QuoteFields {
  const change = (lines: QuoteFields["options"][number]["lines"]) => {
    if (action === "remove-line") return lines.filter((line) => line.n !== n);
    const next = String(1 + Math.max(0, ...lines.map((line) => Number(line.n) || 0)));
    return [...lines, { ...NEW_LINE, n: next }];
  };
  if (action !== "remove-line" && action !== "add-line") return fields;
  return {
    ...fields,
    options: fields.options.map((one) => (one.id === option ? { ...one, lines: change(one.lines) } : one)),
  };
}

/** Not blank, so that it is there after saving, to be filled in. */
const NEW_LINE = {
  kind: "service",
  text: "New line",
  quantity: "1",
  unit: "",
  price: "0",
  discount: "",
  tax_class: "labor",
};

function changedContent(
  content: QuoteContent,
  { record, today, book, new_work }: { record: VehicleRecord; today: string; book: PriceBook; new_work: string },
  action: string,
  [option = ""]: readonly string[],
): QuoteContent {
  switch (action) {
    case "add-option": {
      const choice = WORK_CHOICES.find(({ value }) => value === new_work);
      return choice === undefined ? content : withOption(content, record, today, choice.work);
    }
    case "remove-option":
      return withoutOption(content, option);
    case "renew-option":
      return withRenewedLines(content, record, today, option, book);
    default:
      return content;
  }
}

function afterSaving(quote: Quote, action: string, [option]: readonly string[]): string {
  if (action === "preview") return `${pathOf(quote)}/preview`;
  if (action === "add-option") return `${pathOf(quote)}#option-${quote.content.options.at(-1)?.id}`;
  const at = action.endsWith("-line") || action === "renew-option" ? `#option-${option}` : "";
  return `${pathOf(quote)}?saved=1${at}`;
}

async function sendDraft(
  c: Context<GrantedEnv>,
  deps: Deps,
  quote: Quote,
  record: VehicleRecord,
  form: URLSearchParams,
) {
  const { content, number, id, version } = quote;
  const { letterhead } = await c.var.store.letterheads.get();
  const today = todayIn(record.workspace, deps.now());
  const { request } = shopQuestion(record, today, content);
  const faults = sendFaults(content, outlookOf(content, request), letterhead, await hasInventedPrices(c, content));
  if (faults.length > 0) return answerBuilder(c, deps, quote, { errors: faults });
  const snapshot = quoteSnapshot({ number, content, letterhead, record, request, today });
  const sent = await c.var.store.quotes.send(id, version, { content, snapshot }, form.get("submit_key"));
  if (sent.token === null) return c.redirect(pathOf(sent.quote), 303);
  return answerQuote(c, deps, sent.quote, { token: sent.token });
}

async function hasInventedPrices(c: Context<GrantedEnv>, content: QuoteContent): Promise<boolean> {
  return isInvented(await c.var.store.priceBooks.list(), content);
}

/** Whether nobody has put in prices of their own in the book that a quote is made from. */
function isInvented(books: readonly StoredBook[], { book_id }: QuoteContent): boolean {
  return books.some(({ id, invented }) => invented && id === book_id);
}

async function answerBuilder(c: Context<GrantedEnv>, deps: Deps, quote: Quote, state: BuilderState) {
  const props = await builderProps(c, deps, quote, state);
  const status = state.changed ? 409 : props.errors.length > 0 ? 422 : 200;
  return answerPage(c, BuilderPage({ ...props, asset: deps.asset }), status);
}

async function builderProps(
  c: Context<GrantedEnv>,
  deps: Deps,
  quote: Quote,
  state: BuilderState,
): Promise<BuilderProps> {
  const [record, { letterhead }, books] = await Promise.all([
    c.var.store.record(quote.vehicle_id),
    c.var.store.letterheads.get(),
    c.var.store.priceBooks.list(),
  ]);
  const content = state.content ?? quote.content;
  const { number_format } = letterhead;
  const { request } = shopQuestion(record, todayIn(record.workspace, deps.now()), content);
  return {
    vehicle: record.vehicle,
    quote: { id: quote.id, number: quote.number, version: state.version ?? quote.version },
    fields: state.fields ?? fieldsOfContent(content, number_format),
    content,
    outlook: outlookOf(content, request),
    money: { currency: content.currency, number_format },
    errors: state.errors ?? [],
    quiet: state.quiet ?? false,
    invented: isInvented(books, content),
    saved: c.req.query("saved") !== undefined,
    changed: state.changed ?? false,
    has_letterhead: letterhead.shop !== "",
    submit_key: state.submit_key ?? newId(deps.random),
    new_work: state.new_work ?? "recharge",
  };
}

async function answerQuote(
  c: Context<GrantedEnv>,
  deps: Deps,
  quote: Quote,
  {
    token,
    work_fields,
    answer_fields = { choice: "", name: quote.content.customer, how: "" },
    errors = [],
  }: { token?: string; work_fields?: WorkFields; answer_fields?: ShopAnswerFields; errors?: FieldError[] },
) {
  const { snapshot, sent_at, decided_at, decided_name, decided_option, decided_keep_years, work, status } = quote;
  if (snapshot === null || sent_at === null || status === "draft") throw notFound("quote");
  const { vehicles, settings } = c.var.store;
  const [vehicle, workspace] = await Promise.all([vehicles.get(quote.vehicle_id), settings.get()]);
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
    work,
    work_fields:
      accepted === undefined || work !== null ? null : (work_fields ?? quotedWork(snapshot, accepted, today)),
    link: token === undefined ? null : `${deps.origin(c)}/q/${token}`,
    only_here: deps.access_mode === "local",
    may_change: mayAct(c.var.access.role, "editor"),
    errors,
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  if (token !== undefined) c.header("Cache-Control", "no-store");
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

/** What the customer sees or will see, without the form for the answer. */
async function answerPreview(c: Context<GrantedEnv>, deps: Deps, quote: Quote) {
  const record = await c.var.store.record(quote.vehicle_id);
  const { letterhead } = await c.var.store.letterheads.get();
  const today = todayIn(record.workspace, deps.now());
  const { content, number } = quote;
  const { request } = shopQuestion(record, today, content);
  const snapshot = quote.snapshot ?? quoteSnapshot({ number, content, letterhead, record, request, today });
  const asked = typedYears(c.req.query("years"), snapshot);
  const page = OfferPage({
    snapshot,
    outlook: outlookOver(snapshot, asked.keep_years),
    offer: { state: "preview", back: pathOf(quote) },
    path: `${pathOf(quote)}/preview`,
    years: asked.typed,
    answer: { choice: "", name: "" },
    errors: asked.errors,
    too_late: false,
    asset: deps.asset,
  });
  return answerPage(c, page, asked.errors.length > 0 ? 422 : 200);
}
