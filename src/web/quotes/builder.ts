import type { Context } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { PricesUsed } from "../../../views/parts/prices-used.tsx";
import { BuilderForm, BuilderPage, type BuilderProps } from "../../../views/quotes/builder-page.tsx";
import type { QuoteFields } from "../../../views/quotes/quote-fields.ts";
import type { QuoteContent } from "../../core/quotes/quote-document.ts";
import { newId } from "../../store/ids.ts";
import type { StoredBook } from "../../store/price-books.ts";
import type { Quote } from "../../store/quote-row.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, versionOf } from "../forms/posted-form.ts";
import { todayIn } from "../workspace.ts";
import { quoteOf } from "./address.ts";
import { outlookOf } from "./draft.ts";
import { fieldsOfContent, fieldsOfForm, readQuote } from "./quote-form.ts";
import { shopQuestion } from "./shop-question.ts";
import { withSupplies } from "./supplies.ts";

/** What a builder page shows besides the stored draft. */
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

/** The builder of a draft, with what was typed and what is wrong with it. */
export async function answerBuilder(
  c: Context<GrantedEnv>,
  deps: Deps,
  quote: Quote,
  state: BuilderState = {},
): Promise<Response> {
  const props = await builderProps(c, deps, quote, state);
  const status = state.changed ? 409 : props.errors.length > 0 ? 422 : 200;
  return answerPage(c, BuilderPage({ ...props, asset: deps.asset }), status);
}

/** POST `/vehicles/:id/quotes/:quote/sums`: totals of the posted form, without saving it. */
export async function answerSums(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const [quote, form] = [await quoteOf(c), await formOf(c)];
  const { number_format } = (await c.var.store.letterheads.get()).letterhead;
  const fields = withSupplies(fieldsOfForm(form), quote.content, number_format);
  const read = readQuote(fields, quote.content, number_format);
  const props = await builderProps(c, deps, quote, {
    fields,
    content: read.ok ? read.input : quote.content,
    errors: read.ok ? [] : read.errors,
    quiet: true,
    version: versionOf(form),
    submit_key: form.get("submit_key") ?? newId(deps.random),
    new_work: form.get("new_work") ?? "",
  });
  return c.html(BuilderForm(props), read.ok ? 200 : 422);
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
    sample: isSample(books, content),
    prices: pricesOf(books, content),
    saved: c.req.query("saved") !== undefined,
    renewed: renewedOf(c),
    changed: state.changed ?? false,
    has_letterhead: letterhead.shop !== "",
    submit_key: state.submit_key ?? newId(deps.random),
    new_work: state.new_work ?? "recharge",
  };
}

/** The option that was just repriced, and its total before. */
function renewedOf(c: Context<GrantedEnv>): { option: string; was_minor: number } | null {
  const { renewed, was = "" } = c.req.query();
  return renewed === undefined || !/^\d{1,12}$/.test(was) ? null : { option: renewed, was_minor: Number(was) };
}

/** The price book of a draft: its own copy, which may be outdated; null: the sample. */
function pricesOf(books: readonly StoredBook[], { book_id, book, currency }: QuoteContent): PricesUsed | null {
  const stored = books.find(({ id }) => id === book_id);
  if (stored?.sample) return null;
  const is_as_now = JSON.stringify(stored?.book) === JSON.stringify(book);
  const changed_on = is_as_now ? (stored?.updated_at?.slice(0, 10) ?? null) : null;
  return { currency, wanted: null, book: { id: book_id, name: book.name, changed_on } };
}

/** Whether the book of a quote still has sample prices only. */
export function isSample(books: readonly StoredBook[], { book_id }: Pick<QuoteContent, "book_id">): boolean {
  return books.some(({ id, sample }) => sample && id === book_id);
}
