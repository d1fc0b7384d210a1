import type { NumberFormatId } from "../../data/number-formats.ts";
import { formatAmount, formatWhole, mainUnits } from "../../src/core/quantities/money.ts";
import { placePriceRange, type QuoteOption, type QuoteState } from "../../src/core/quotes/quote.ts";
import type { QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import type { OptionOutlook, OptionYears, QuoteOutlook, Sureness } from "../../src/core/quotes/quote-outlook.ts";
import { estimated, saidChance } from "../words/numbers.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { saidSpan, saidYears } from "../words/times.ts";

/** How money is written on a quote. */
export interface MoneyStyle {
  currency: string;
  number_format: NumberFormatId;
}

/** An estimate in a quote's currency: `$1,050`, `350 €`. */
export function saidSum(amount: number, { currency, number_format }: MoneyStyle): string {
  return formatWhole(estimated(amount), currency, number_format);
}

/** How a quote stands, in a word or two. */
export const STATE_NAMES: Readonly<Record<QuoteState, string>> = {
  draft: "Draft",
  sent: "Sent, waiting for an answer",
  accepted: "Accepted",
  declined: "Declined",
  withdrawn: "Withdrawn",
  expired: "Expired",
};

/** Today's price: `$565.65`, or by where it leaks `$287.97 to $2,401.06`. */
export function saidPrice(option: QuoteOption, total_minor: number, { currency, number_format }: MoneyStyle): string {
  const range = placePriceRange(option, total_minor);
  const amount = (minor: number) => formatAmount(minor, currency, number_format);
  if (range === null || range.least_minor === range.most_minor) return amount(total_minor);
  return `${amount(range.least_minor)} to ${amount(range.most_minor)}`;
}

/** A rounded sum, but never one below what is paid today. */
function saidFrom(amount: number, least: number, { currency, number_format }: MoneyStyle): string {
  const rounded = estimated(amount);
  return formatWhole(rounded < least ? Math.ceil(least) : rounded, currency, number_format);
}

/** The least that is paid today, in the main unit. */
function leastToday({ price }: OptionOutlook, option: QuoteOption, currency: string): number {
  return mainUnits(placePriceRange(option, price.total_minor)?.least_minor ?? price.total_minor, currency);
}

/** Today and later together: `about $1,050`. */
export function saidTotal(years: OptionYears, shown: OptionOutlook, option: QuoteOption, money: MoneyStyle): string {
  return `about ${saidFrom(years.total, leastToday(shown, option, money.currency), money)}`;
}

/** Between what the total lies in nine of ten cases. */
export function saidLikely(
  { likely }: OptionYears,
  shown: OptionOutlook,
  option: QuoteOption,
  money: MoneyStyle,
): string {
  const least = leastToday(shown, option, money.currency);
  const [from, to] = [saidFrom(likely.from, least, money), saidFrom(likely.to, least, money)];
  return from === to ? `likely about ${from}` : `likely ${from} to ${to}`;
}

/**
 * Why the estimate favors the advised option: a clause without its full stop; null where there is nothing to compare it
 * with. The difference is that of the rounded totals, so that a reader can check it.
 */
export function saidWhy({ options, advised, why, keep_years }: QuoteOutlook, snapshot: QuoteSnapshot): string | null {
  if (why == null || why.code === "only") return null;
  const total = (id: string | null) => estimated(options.find((one) => one.id === id)?.years?.total ?? 0);
  const than = snapshot.options.find(({ id }) => id === why.than)?.title ?? "";
  const difference = total(advised) - total(why.than);
  const over = `over ${saidYears(keep_years)}`;
  if (why.code === "cheapest")
    return difference < 0
      ? `${over} it costs about ${saidSum(-difference, snapshot)} less than “${than}”`
      : `${over} it costs about as much as “${than}”`;
  const more = difference > 0 ? ` (${saidSum(difference, snapshot)} more)` : "";
  const share = why.release_share < 0.5 ? "less than half as much refrigerant" : "less refrigerant";
  return `${over} it costs about as much as “${than}”${more}, and it releases ${share}`;
}

/** A range this many times its lower end says only that nobody knows. */
const UNKNOWN_SPAN = 10;
/** A test that leads to a repair less often than this changes nothing. */
const SELDOM = 0.1;

/** How sure an option is, in the terms that matter for it; null where there is nothing of this vehicle to say. */
export function saidSureness(sure: Sureness, keep_years: number): string | null {
  switch (sure.code) {
    case "place":
      return `The leak is at ${PLACE_NAMES[sure.place].at} in ${saidChance(sure.probability)} cases like yours.`;
    case "lasts": {
      const { median, p05, p95 } = sure.months;
      if (p95 > UNKNOWN_SPAN * p05) return "We do not know yet how long a charge lasts in this vehicle.";
      const more = Math.floor((keep_years * 12) / median);
      const again = more === 0 ? "" : ` That is about ${more} more ${more === 1 ? "recharge" : "recharges"}.`;
      return `A full charge lasts about ${saidSpan(p05, p95)} in this vehicle.${again}`;
    }
    case "leads":
      return sure.probability < SELDOM
        ? "The test would hardly change our advice."
        : `In ${saidChance(sure.probability)} cases like yours, a repair is the better option afterwards.`;
    case "found":
      return null;
  }
}
