import type { Context } from "hono";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import type { LineFields, OptionFields, QuoteFields } from "../../../views/quotes/quote-fields.ts";
import { WORK_CHOICES } from "../../../views/quotes/work-choices.ts";
import { OWN_LINES, type PriceBook } from "../../core/quotes/price-book.ts";
import { optionTotal, quoteBounds } from "../../core/quotes/quote.ts";
import type { QuoteContent } from "../../core/quotes/quote-document.ts";
import { lineOfOwn } from "../../core/quotes/quote-lines.ts";
import { Conflict } from "../../store/errors.ts";
import type { Quote } from "../../store/quote-row.ts";
import type { VehicleRecord } from "../../store/vehicle-record.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { formOf, versionOf } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";
import { todayIn } from "../workspace.ts";
import { pathOf, quoteOf } from "./address.ts";
import { answerBuilder } from "./builder.ts";
import { withOption, withoutOption, withRenewedLines } from "./draft.ts";
import { fieldsOfForm, lineFields, readQuote } from "./quote-form.ts";
import { sendDraft } from "./send.ts";
import { withSupplies } from "./supplies.ts";

// Every button of the builder sends the whole form and saves the draft; each has an address of its own for what else
// it does.

/** POST `/vehicles/:id/quotes/:quote` */
export function saveDraft(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, {});
}

/** POST `…/preview`: saves, then shows what the customer sees. */
export function saveAndPreview(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, { store: async (draft) => c.redirect(`${pathOf(await draft.save())}/preview`, 303) });
}

/** POST `…/send`: saves, and makes the customer's link. From then on the quote stays as it is. */
export function saveAndSend(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, { store: ({ quote, record, form }) => sendDraft(c, deps, quote, record, form) });
}

/** POST `…/options`: one more option, of the work that was chosen. */
export function addOption(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, {
    content: (content, { record, today, new_work }) => {
      const choice = WORK_CHOICES.find(({ value }) => value === new_work);
      return choice === undefined ? content : withOption(content, record, today, choice.work);
    },
    store: async (draft) => {
      const saved = await draft.save();
      return c.redirect(`${pathOf(saved)}#option-${saved.content.options.at(-1)?.id}`, 303);
    },
  });
}

/** POST `…/options/:option/removal` */
export function removeOption(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, { content: (content) => withoutOption(content, optionIn(c)) });
}

/** POST `…/options/:option/renewal`: its lines from today's prices. */
export function renewOption(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, {
    content: (content, { record, today, book }) => withRenewedLines(content, record, today, optionIn(c), book),
    store: async (draft) => {
      const option = draft.before.options.find(({ id }) => id === optionIn(c));
      const { taxes } = draft.before.book;
      const was = option === undefined ? "" : String(optionTotal(option, taxes, draft.before.currency).total_minor);
      const about = new URLSearchParams({ saved: "1", renewed: optionIn(c), was });
      return c.redirect(`${pathOf(await draft.save())}?${about}#option-${optionIn(c)}`, 303);
    },
  });
}

/** POST `…/options/:option/lines`: one more line, to be filled in. */
export function addLine(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  return changeDraft(c, deps, {
    fields: (fields, { form, content, number_format }) =>
      withLines(fields, optionIn(c), (lines) => {
        const next = String(1 + Math.max(0, ...lines.map((line) => Number(line.n) || 0)));
        const which = oneOf(OWN_LINES, form.get(`own-line-${optionIn(c)}`) ?? "");
        const own = which === undefined ? undefined : content.book.own_lines?.[which];
        const line = own === undefined ? NEW_LINE : lineFields(lineOfOwn(own), content.currency, number_format);
        return [...lines, { ...line, n: next }];
      }),
    at: `lines-${optionIn(c)}`,
  });
}

/** POST `…/options/:option/lines/:n/up`: the line changes places with the one above it. */
export function moveLineUp(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const n = c.req.param("n");
  return changeDraft(c, deps, {
    fields: (fields) =>
      withLines(fields, optionIn(c), (lines) => {
        const place = lines.findIndex((line) => line.n === n);
        const [above, line] = [lines[place - 1], lines[place]];
        if (above === undefined || line === undefined) return lines;
        return [...lines.slice(0, place - 1), line, above, ...lines.slice(place + 1)];
      }),
    at: `lines-${optionIn(c)}`,
  });
}

/** POST `…/options/:option/lines/:n/removal` */
export function removeLine(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const n = c.req.param("n");
  return changeDraft(c, deps, {
    fields: (fields) => withLines(fields, optionIn(c), (lines) => lines.filter((line) => line.n !== n)),
    at: `lines-${optionIn(c)}`,
  });
}

/** POST `…/discard`: the draft is deleted. */
export async function discardDraft(c: Context<GrantedEnv>): Promise<Response> {
  const quote = await quoteOf(c);
  await c.var.store.quotes.discard(quote.id, versionOf(await formOf(c)));
  return c.redirect(`/vehicles/${quote.vehicle_id}/quotes`, 303);
}

/** What a button of the builder does. */
interface DraftChange {
  /** To what was typed, whatever else is still to be put right in it. */
  fields?(fields: QuoteFields, about: FieldsBasis): QuoteFields;
  /** To what was read. */
  content?(content: QuoteContent, about: ChangeBasis): QuoteContent;
  /** Stores it and answers; unless given, it is saved and the builder shown again, at the anchor `at`. */
  store?(draft: ReadDraft): Promise<Response>;
  at?: string;
}

interface FieldsBasis {
  form: URLSearchParams;
  content: QuoteContent;
  number_format: NumberFormatId;
}

interface ChangeBasis {
  record: VehicleRecord;
  today: string;
  /** As it is today. */
  book: PriceBook;
  new_work: string;
}

/** A draft with what was typed and changed, about to be stored. */
interface ReadDraft {
  quote: Quote;
  /** As it was read from the form, before the change. */
  before: QuoteContent;
  record: VehicleRecord;
  form: URLSearchParams;
  save(): Promise<Quote>;
}

async function changeDraft(c: Context<GrantedEnv>, deps: Deps, change: DraftChange): Promise<Response> {
  const [quote, form] = [await quoteOf(c), await formOf(c)];
  if (quote.status !== "draft") return c.redirect(pathOf(quote), 303);
  const { letterhead } = await c.var.store.letterheads.get();
  const { number_format } = letterhead;
  const typed = withSupplies(fieldsOfForm(form), quote.content, number_format);
  const fields = change.fields?.(typed, { form, content: quote.content, number_format }) ?? typed;
  const read = readQuote(fields, quote.content, number_format);
  const version = versionOf(form);
  if (!read.ok) return answerBuilder(c, deps, { ...quote, version }, { fields, errors: read.errors });

  const record = await c.var.store.record(quote.vehicle_id);
  const today = todayIn(record.workspace, deps.now());
  const { book } = await c.var.store.priceBooks.get(quote.content.book_id);
  const new_work = form.get("new_work") ?? "";
  const content = change.content?.(read.input, { record, today, book, new_work }) ?? read.input;
  if (content.options.length > quoteBounds.options) {
    const errors = [{ field: "new_work", message: `Keep a quote to ${quoteBounds.options} options` }];
    return answerBuilder(c, deps, { ...quote, version }, { fields, errors, new_work });
  }

  const save = () => c.var.store.quotes.update(quote.id, version, content, form.get("submit_key"));
  const store = change.store ?? (async (draft) => c.redirect(builderAt(await draft.save(), change.at), 303));
  const draft = { quote: { ...quote, version, content }, before: read.input, record, form, save };
  const answer = await unlessOvertaken<Response, Quote>(store(draft));
  if (!(answer instanceof Conflict)) return answer;
  const { current } = answer;
  if (current.status !== "draft") return c.redirect(pathOf(quote), 303);
  return answerBuilder(c, deps, current, { fields, content, changed: true });
}

function builderAt(saved: Quote, anchor: string | undefined): string {
  return `${pathOf(saved)}?saved=1${anchor === undefined ? "" : `#${anchor}`}`;
}

function optionIn(c: Context<GrantedEnv>): string {
  return c.req.param("option") ?? "";
}

function withLines(
  fields: QuoteFields,
  id: string,
  change: (lines: OptionFields["lines"]) => OptionFields["lines"],
): QuoteFields {
  const options = fields.options.map((one) => (one.id === id ? { ...one, lines: change(one.lines) } : one));
  return { ...fields, options };
}

/** Not blank, so that it is there after saving, to be filled in. */
const NEW_LINE: Omit<LineFields, "n"> = {
  kind: "service",
  text: "New line",
  quantity: "1",
  unit: "",
  price: "0",
  discount: "",
  tax_class: "labor",
  auto: "",
};
