import { assess } from "../../core/assess.ts";
import type { AssessRequest, LocationId } from "../../core/question/contract.ts";
import type { PriceBook } from "../../core/quotes/price-book.ts";
import type { OptionWork, QuoteOption } from "../../core/quotes/quote.ts";
import type { QuoteContent } from "../../core/quotes/quote-document.ts";
import { nextOptionId, optionFromBook, replacesWork, suggestedOptions } from "../../core/quotes/quote-options.ts";
import { type QuoteOutlook, quoteOutlook } from "../../core/quotes/quote-outlook.ts";
import type { VehicleRecord } from "../../store/vehicle-record.ts";
import { shopQuestion } from "./shop-question.ts";

/** A new quote: the options that the record suggests, at a book's prices; the repair where the leak was found. */
export function newContent(
  record: VehicleRecord,
  today: string,
  { customer, keep_years, book_id, book }: Pick<QuoteContent, "customer" | "keep_years" | "book_id" | "book">,
  found_at: LocationId | null = null,
): QuoteContent {
  const { currency } = book;
  const { request, given } = shopQuestion(record, today, { book });
  const answer = assess({ ...request, plan: { ...request.plan, keep_years } }, { sensitivity: false });
  const options = suggestedOptions(book, answer, given, currency, found_at);
  const content: QuoteContent = {
    customer,
    book_id,
    book,
    currency,
    options,
    recommended: null,
    recommended_why: "",
    note: "",
    keep_years,
    valid_days: book.valid_days,
  };
  return { ...content, recommended: outlookOf(content, request).advised };
}

/** What the years ahead hold for a draft as it stands. */
export function outlookOf(content: QuoteContent, request: AssessRequest): QuoteOutlook {
  const { options, book, currency, keep_years } = content;
  return quoteOutlook({ options, taxes: book.taxes, currency, request }, keep_years);
}

/** A draft with one more option. */
export function withOption(
  content: QuoteContent,
  record: VehicleRecord,
  today: string,
  work: OptionWork,
): QuoteContent {
  const { given } = shopQuestion(record, today, content);
  const id = nextOptionId(content.options);
  const made = optionFromBook(id, content.book, work, given, content.currency);
  const others = content.options;
  const option: QuoteOption = {
    ...made,
    replaces: others.filter((other) => replacesWork(work, other.work)).map((other) => other.id),
  };
  // The new option may overlap with another one.
  const known = others.map((other) =>
    replacesWork(other.work, work) ? { ...other, replaces: [...other.replaces, id] } : other,
  );
  return { ...content, options: [...known, option] };
}

/** A draft with one option repriced from `book`. */
export function withRenewedLines(
  content: QuoteContent,
  record: VehicleRecord,
  today: string,
  id: string,
  book: PriceBook,
): QuoteContent {
  const { given } = shopQuestion(record, today, { ...content, book });
  const options = content.options.map((option) => {
    if (option.id !== id) return option;
    const { lines, found } = optionFromBook(id, book, option.work, given, content.currency);
    return { ...option, lines, found, discount: null };
  });
  return { ...content, book, options };
}

/** A draft without one option and without references to it. */
export function withoutOption(content: QuoteContent, id: string): QuoteContent {
  const kept = (ids: readonly string[]) => ids.filter((one) => one !== id);
  return {
    ...content,
    options: content.options
      .filter((option) => option.id !== id)
      .map((option) => ({ ...option, replaces: kept(option.replaces), excludes: kept(option.excludes) })),
    recommended: content.recommended === id ? null : content.recommended,
  };
}
