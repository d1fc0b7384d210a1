import { formatWhole, mainUnits } from "../../src/core/quantities/money.ts";
import { placePriceRange, type QuoteOption, type QuoteState } from "../../src/core/quotes/quote.ts";
import type { QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import type { OptionOutlook, OptionYears, QuoteOutlook, Sureness } from "../../src/core/quotes/quote-outlook.ts";
import { estimated } from "../words/numbers.ts";
import type { CustomerSaid } from "./customer-said.tsx";
import type { MoneyStyle } from "./money-style.ts";

/** An estimate in a quote's currency, not rounded below `least`: `$1,050`, `350 €`. */
export function saidSum(amount: number, { currency, number_format }: MoneyStyle, least = 0): string {
  return formatWhole(estimatedFrom(amount, least), currency, number_format);
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
export function saidPrice(option: QuoteOption, total_minor: number, said: CustomerSaid): string {
  const range = placePriceRange(option, total_minor);
  if (range === null || range.least_minor === range.most_minor) return said.amount(total_minor);
  return said.word("options.range", { from: said.amount(range.least_minor), to: said.amount(range.most_minor) });
}

/** A rounded sum, but never one below what is paid today. */
function saidFrom(amount: number, least: number, said: CustomerSaid): string {
  return said.whole(estimatedFrom(amount, least));
}

function estimatedFrom(amount: number, least: number): number {
  const rounded = estimated(amount);
  return rounded < least ? Math.ceil(least) : rounded;
}

/** What an option costs, and how it is said. */
interface Priced {
  option: QuoteOption;
  shown: OptionOutlook;
  currency: string;
}

/** The least that is paid today, in the main unit. */
export function leastToday({ option, shown: { price }, currency }: Priced): number {
  return mainUnits(placePriceRange(option, price.total_minor)?.least_minor ?? price.total_minor, currency);
}

/** Today and later together: `about $1,050`. */
export function saidTotal(years: OptionYears, priced: Priced, said: CustomerSaid): string {
  return said.word("options.about", { sum: saidFrom(years.total, leastToday(priced), said) });
}

/** Between what the total lies in nine of ten cases. */
export function saidLikely({ likely }: OptionYears, priced: Priced, said: CustomerSaid): string {
  const least = leastToday(priced);
  const [from, to] = [saidFrom(likely.from, least, said), saidFrom(likely.to, least, said)];
  return from === to ? said.word("options.likely-about", { sum: from }) : said.word("options.likely", { from, to });
}

/**
 * Why the estimate favors the advised option: a clause without its full stop; null where there is nothing to compare it
 * with. The difference is that of the rounded totals, so that a reader can check it.
 */
export function saidWhy(
  { options, advised, why, keep_years }: QuoteOutlook,
  snapshot: QuoteSnapshot,
  said: CustomerSaid,
): string | null {
  if (why == null || why.code === "only") return null;
  const total = (id: string | null) => estimated(options.find((one) => one.id === id)?.years?.total ?? 0);
  const than = snapshot.options.find(({ id }) => id === why.than)?.title ?? "";
  const difference = total(advised) - total(why.than);
  const values = { years: said.years(keep_years), than, sum: said.sum(Math.abs(difference)) };
  if (why.code === "cheapest") return said.word(difference < 0 ? "why.cheaper" : "why.as-much", values);
  if (why.release_share < 0.5) return said.word(difference > 0 ? "why.half-more" : "why.half", values);
  return said.word(difference > 0 ? "why.cleaner-more" : "why.cleaner", values);
}

/** A range this many times its lower end says only that nobody knows. */
const UNKNOWN_SPAN = 10;
/** A test that leads to a repair less often than this changes nothing. */
const SELDOM = 0.1;

/** How sure an option is, in the terms that matter for it; null where there is nothing of this vehicle to say. */
export function saidSureness(sure: Sureness, keep_years: number, said: CustomerSaid): string | null {
  switch (sure.code) {
    case "place":
      return said.word("sure.place", {
        at: said.word(`place.${sure.place}.at`),
        chance: said.chance(sure.probability),
      });
    case "lasts": {
      const { median, p05, p95 } = sure.months;
      if (p95 > UNKNOWN_SPAN * p05) return said.word("sure.unknown-life");
      const more = Math.floor((keep_years * 12) / median);
      const lasts = said.word("sure.lasts", { span: said.span(p05, p95) });
      return more === 0 ? lasts : `${lasts} ${said.counted("sure.more", more)}`;
    }
    case "leads":
      return sure.probability < SELDOM
        ? said.word("sure.test-idle")
        : said.word("sure.test-leads", { chance: said.chance(sure.probability) });
    case "found":
      return null;
  }
}
