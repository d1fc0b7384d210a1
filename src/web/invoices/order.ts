import { LOCATION_IDS, type LocationId } from "../../core/question/contract.ts";
import { agreementOf } from "../../core/quotes/agreement.ts";
import type { QuoteOption } from "../../core/quotes/quote.ts";
import type { QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import { repairedAt } from "../../core/quotes/quote-options.ts";
import { inLanguage } from "../../core/quotes/standard-words.ts";
import { notFound } from "../../store/errors.ts";
import type { Quote } from "../../store/quote-row.ts";
import { oneOf } from "../forms/typed-values.ts";

/** What was accepted. */
export interface Order {
  snapshot: QuoteSnapshot;
  /** In the customer's words, and in the shop's. */
  option: QuoteOption;
  own_option: QuoteOption;
  /** Of a repair of what is found: where it was found, or what it was priced for; null for any other. */
  found_at: LocationId | null;
  /** What extra work may come to with tax without asking. */
  agreed_minor: number;
}

/**
 * What was accepted of a quote. A repair of what is found is that of the place `found`, at the prices of the quote's
 * copy of the book. Throws `Problem` not-found without a yes.
 */
export function orderOf({ content, snapshot, decided_option, agreed }: Quote, found: string): Order {
  const option = snapshot?.options.find(({ id }) => id === decided_option);
  if (snapshot === null || option === undefined) throw notFound("accepted quote");
  const own_option = content.options.find(({ id }) => id === option.id) ?? option;
  const about = { snapshot, agreed_minor: agreementOf(agreed).extra_minor };
  if (option.found === null) return { ...about, option, own_option, found_at: null };
  const { priced_for } = option.found;
  const found_at = oneOf(LOCATION_IDS, found) ?? priced_for;
  if (found_at === priced_for) return { ...about, option, own_option, found_at };
  const { refrigerant, nameplate_g, electric = false } = snapshot.vehicle;
  const missing_g = Math.max(0, nameplate_g - snapshot.outlook.leak.charge_now_g);
  const given = { refrigerant, nameplate_g, electric, missing_g, likeliest: found_at };
  const there = repairedAt(own_option, found_at, content.book, given, content.currency);
  const { options } = inLanguage({ options: [there], ...content.book }, snapshot.language ?? "en");
  return { ...about, option: { ...option, lines: options[0]?.lines ?? [] }, own_option: there, found_at };
}
