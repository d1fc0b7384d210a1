import { type ExtraFields, extraInput, type IssueFields } from "../../../views/invoices/invoice-fields.ts";
import { formatAmount, parseQuantity, parseUnitPrice } from "../../core/quantities/money.ts";
import { type ExtraWork, extraBounds, extraTotal } from "../../core/quotes/invoice.ts";
import type { QuoteLine, QuoteOption } from "../../core/quotes/quote.ts";
import { ANSWER_NAME_CHARS, ANSWERED_HOW, type QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import { lineOfOne } from "../../core/quotes/quote-lines.ts";
import { type DayContext, type Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { isEmpty, oneOf } from "../forms/typed-values.ts";

/** Lines that stand there to be filled in, at first. */
const FIRST_LINES = 3;
const EXTRA_KINDS = ["labor", "parts"] as const;

/** The lines of a form, with one more to fill in. */
export function extraFields(form: URLSearchParams): ExtraFields[] {
  const typed = Array.from({ length: extraBounds.lines }, (_, i) => {
    const part = (name: keyof ExtraFields) => form.get(extraInput(i + 1, name)) ?? "";
    return { text: part("text"), kind: part("kind"), hours: part("hours"), price: part("price") };
  });
  const last = typed.findLastIndex((line) => !isBlank(line));
  return typed.slice(0, Math.max(FIRST_LINES, last + 2));
}

function isBlank({ text, hours, price }: ExtraFields): boolean {
  return [text, hours, price].every(isEmpty);
}

interface Order {
  snapshot: QuoteSnapshot;
  option: QuoteOption;
  /** What extra work may come to with tax without asking. */
  agreed_minor: number;
}

/** Reads extra work: null for none. Beyond what was agreed it needs a yes: who, how and when. */
export function readExtraWork(
  fields: IssueFields,
  { snapshot, option, agreed_minor }: Order,
  context: DayContext,
  { refuse }: Pick<Refusals, "refuse">,
): ExtraWork | null {
  const lines = fields.extra.flatMap((line, i) =>
    isBlank(line) ? [] : (readLine(line, i + 1, { snapshot, option }, refuse) ?? []),
  );
  if (lines.length === 0) return null;
  const { taxes, currency, number_format } = snapshot;
  const order = { lines: option.lines, discount: option.discount, extra: { lines, agreed_minor, yes: null }, taxes };
  const total_minor = extraTotal(order, currency);
  if (total_minor <= agreed_minor) return order.extra;
  const amount = (minor: number) => formatAmount(minor, currency, number_format);
  const limit = agreed_minor === 0 ? "none is agreed" : `${amount(agreed_minor)} is agreed`;
  const asked = `Extra work comes to ${amount(total_minor)} with tax, and ${limit}: ask the customer`;
  return { ...order.extra, yes: readYes(fields, `${asked}, then enter who said yes`, context, refuse) };
}

function readLine(
  { text, kind, hours, price }: ExtraFields,
  n: number,
  { snapshot, option }: Pick<Order, "snapshot" | "option">,
  refuse: Refusals["refuse"],
): QuoteLine | undefined {
  const field = (part: keyof ExtraFields) => extraInput(n, part);
  const words = readWords(text, extraBounds.text_chars);
  if ("message" in words) return refuse(field("text"), words.message);
  if (words.words === null) return refuse(field("text"), "Enter what was done, like fan relay");
  const of = oneOf(EXTRA_KINDS, kind);
  if (of === undefined) return refuse(field("kind"), "Choose labor or parts");
  const time = isEmpty(hours) ? null : parseQuantity(hours, snapshot.number_format);
  if (time !== null && !time.ok) return refuse(field("hours"), time.message);
  if (time !== null && time.scaled < 1) return refuse(field("hours"), "Enter more than nothing, or leave it empty");
  if (isEmpty(price)) return refuse(field("price"), time === null ? "Enter the amount" : "Enter the price of an hour");
  const each = parseUnitPrice(price, snapshot.currency, snapshot.number_format);
  if (!each.ok) return refuse(field("price"), each.message);
  if (each.scaled < 1) return refuse(field("price"), "Enter more than nothing");
  const line = { ...lineOfOne(of, words.words, each.scaled), tax_class: taxClassAs(of, option) };
  return time === null ? line : { ...line, quantity_milli: time.scaled, unit: "h" };
}

/** The tax that lines of the kind bear in the quote; where it has none, what they usually bear. */
function taxClassAs(kind: QuoteLine["kind"], { lines }: QuoteOption): QuoteLine["tax_class"] {
  return (lines.find((line) => line.kind === kind) ?? lineOfOne(kind, "", 0)).tax_class;
}

function readYes(
  { yes_name, yes_how, yes_on }: IssueFields,
  needed: string,
  context: DayContext,
  refuse: Refusals["refuse"],
): ExtraWork["yes"] {
  const name = readWords(yes_name, ANSWER_NAME_CHARS);
  if ("message" in name) refuse("yes_name", name.message);
  else if (name.words === null) refuse("yes_name", needed);
  const how = oneOf(ANSWERED_HOW, yes_how) ?? refuse("yes_how", "Choose how the yes came");
  const day = readDay(yes_on, context);
  const on = "iso" in day ? day.iso : refuse("yes_on", day.message);
  if ("message" in name || name.words === null || how === undefined || on === undefined) return null;
  return { name: name.words, how, on };
}
