import { CUSTOMER_WORDS, type CustomerWord, type CustomerWords, type Language } from "../../../data/customer-words.ts";
import { REFRIGERANTS } from "../question/contract.ts";
import type { PriceBook } from "./price-book.ts";
import type { QuoteOption, Taxes } from "./quote.ts";

/** What of a quote is words, and whose: those that it began with are ours, those that someone changed are theirs. */
export interface QuoteWording {
  options: readonly QuoteOption[];
  taxes: Taxes;
  warranty: PriceBook["warranty"];
}

/** Keys of the words that a new quote begins with. */
const BEGINNINGS = /^(?:option|repair|labor|parts|line|book)\./;

/**
 * The same in a customer's language: a text that still is one of those that a quote begins with is translated, every
 * other stays as it was typed.
 */
export function inLanguage(
  { options, taxes, warranty }: QuoteWording,
  language: Language,
  table: CustomerWords = CUSTOMER_WORDS,
): { options: QuoteOption[]; taxes: Taxes; warranty: PriceBook["warranty"] } {
  const standard = standardTexts(language, table);
  const say = (text: string) => standard.get(text) ?? text;
  return {
    options: options.map((option) => ({
      ...option,
      title: say(option.title),
      words: say(option.words),
      not_covered: say(option.not_covered),
      lines: option.lines.map((line) => ({ ...line, text: say(line.text) })),
    })),
    taxes: {
      parts: { ...taxes.parts, name: say(taxes.parts.name) },
      labor: { ...taxes.labor, name: say(taxes.labor.name) },
    },
    warranty: { ...warranty, words: say(warranty.words) },
  };
}

/** Each text that a quote begins with, in English, and what stands for it in the language. */
function standardTexts(language: Language, table: CustomerWords): ReadonlyMap<string, string> {
  const keys = (Object.keys(CUSTOMER_WORDS) as CustomerWord[]).filter((key) => BEGINNINGS.test(key));
  const texts = new Map(keys.map((key) => [CUSTOMER_WORDS[key].en, table[key][language]]));
  for (const refrigerant of REFRIGERANTS) {
    const [en, own] = [CUSTOMER_WORDS, table];
    const extra = (from: CustomerWords, as: Language) => `${from["line.service-extra"][as]} ${refrigerant}`;
    texts.set(extra(en, "en"), extra(own, language));
    for (const key of ["line.refrigerant-full", "line.refrigerant-missing", "line.refrigerant-returned"] as const)
      texts.set(`${refrigerant}, ${en[key].en}`, `${refrigerant}, ${own[key][language]}`);
  }
  return texts;
}
