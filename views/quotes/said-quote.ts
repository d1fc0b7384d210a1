import type { NumberFormatId } from "../../data/number-formats.ts";
import { formatWhole } from "../../src/core/quantities/money.ts";
import type { QuoteState } from "../../src/core/quotes/quote.ts";
import type { Sureness } from "../../src/core/quotes/quote-outlook.ts";
import { estimated, saidChance } from "../words/numbers.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { saidSpan } from "../words/times.ts";

/** How money is written on a quote. */
export interface MoneyStyle {
  currency: string;
  number_format: NumberFormatId;
}

/** An estimate in a quote's currency: `$1,050`, `350 €`. */
export function saidSum(amount: number, { currency, number_format }: MoneyStyle): string {
  return formatWhole(estimated(amount), currency, number_format);
}

/** From one estimate to another: `$390 to $1,950`; one of them when they round to the same. */
export function saidSums(from: number, to: number, money: MoneyStyle): string {
  const [least, most] = [saidSum(from, money), saidSum(to, money)];
  return least === most ? `about ${least}` : `${least} to ${most}`;
}

/** How a quote stands, in a word or two. */
export const STATE_NAMES: Readonly<Record<QuoteState, string>> = {
  draft: "Draft",
  sent: "Sent, waiting for an answer",
  accepted: "Accepted",
  declined: "Declined",
  withdrawn: "Withdrawn",
  expired: "Ran out",
};

/** How sure an option is, in the terms that matter for it. */
export function saidSureness(sure: Sureness): string {
  switch (sure.code) {
    case "place":
      return `In ${saidChance(sure.probability)} cases like this the leak is at ${PLACE_NAMES[sure.place].at}. A repair there holds in ${saidChance(sure.holds)}.`;
    case "lasts":
      return `A full charge lasts about ${saidSpan(sure.months.p05, sure.months.p95)} in this vehicle.`;
    case "leads":
      return `In ${saidChance(sure.probability)} cases like this, a repair is the better way afterwards.`;
    case "found":
      return `A repair of what is found holds in ${saidChance(sure.holds)} cases.`;
  }
}
