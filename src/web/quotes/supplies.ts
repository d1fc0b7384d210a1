import type { NumberFormatId } from "../../../data/number-formats.ts";
import type { LineFields, OptionFields, QuoteFields } from "../../../views/quotes/quote-fields.ts";
import { plainUnitPrice } from "../../core/quantities/money.ts";
import type { QuoteContent } from "../../core/quotes/quote-document.ts";
import { suppliesPrice } from "../../core/quotes/quote-lines.ts";
import { readQuote } from "./quote-form.ts";

/**
 * What was typed, with the price of supplies worked out again wherever the labor and services that it is a part of have
 * changed. One that somebody typed stays.
 */
export function withSupplies(fields: QuoteFields, stored: QuoteContent, format: NumberFormatId): QuoteFields {
  const automatic = ({ auto, price }: LineFields) => auto !== "" && auto === price.trim();
  if (!fields.options.some(({ lines }) => lines.some(automatic))) return fields;
  const read = readQuote(fields, stored, format);
  if (!read.ok) return fields;
  const { options, book, currency } = read.input;
  const renewed = (typed: OptionFields): OptionFields => {
    const option = options.find(({ id }) => id === typed.id);
    if (option === undefined) return typed;
    const price = plainUnitPrice(suppliesPrice(book, option.lines, currency), currency, format);
    return { ...typed, lines: typed.lines.map((line) => (automatic(line) ? { ...line, price, auto: price } : line)) };
  };
  return { ...fields, options: fields.options.map(renewed) };
}
