import { REWORK_WARRANTY_MONTHS } from "../../../data/price-book.ts";
import { mainUnits, UNIT_PRICE_DIGITS } from "../quantities/money.ts";
import { type AssumptionsInput, LOCATION_IDS, type LocationPrices, type PricesInput } from "../question/contract.ts";
import { type PriceBook, pricePerGram } from "./price-book.ts";
import { type OptionWork, optionTotal, type QuoteLine, type Taxes } from "./quote.ts";
import { type QuoteCase, quoteLines } from "./quote-lines.ts";

/**
 * A price book as the model takes prices: what the customer pays, tax and supplies included, in the main unit. Cans and
 * the worth of one's own hours are not the shop's, and are left out. The price of each repair is chosen so that, with
 * its part of a service, it comes to what the same book quotes for that repair today. A warranty that is long enough
 * does a repair again at the shop's expense.
 */
export function bookPrices(
  book: PriceBook,
  given: Omit<QuoteCase, "likeliest">,
): { prices: PricesInput; assumptions: AssumptionsInput } {
  const { currency } = book;
  const linesOf = (work: OptionWork) => quoteLines(book, work, { ...given, likeliest: "joint" }, currency);
  const paid = (lines: QuoteLine[]) =>
    mainUnits(optionTotal({ lines, discount: null }, book.taxes, currency).total_minor, currency);

  const service = paid(linesOf(WORKS.recharge).filter(({ kind }) => kind !== "refrigerant"));
  const per_g = pricePerGram(book.refrigerants[given.refrigerant]) * taxFactor(book.taxes, "parts");
  const full_service = service + per_g * given.nameplate_g;
  const part_service = taxed(book.charge_micro, book.taxes, "labor") + per_g * given.missing_g;
  const electronic = paid(linesOf(WORKS.electronic));

  const locations = LOCATION_IDS.map((id): [string, LocationPrices] => {
    const own_service = book.places[id].opened ? full_service : part_service;
    const today = paid(linesOf({ recharge: false, test: null, repair: id }));
    return [
      id,
      {
        service: full_service > 0 ? own_service / full_service : 0,
        price: Math.max(0, today - own_service),
      },
    ];
  });
  return {
    prices: {
      shop_topoff_fee: service,
      shop_refrigerant_per_g: per_g,
      repair_service: service,
      locate_fee: electronic,
      electronic_price: electronic,
      dye_price: taxed(book.dye_micro, book.taxes, "parts"),
      dye_inspection_fee: taxed(book.dye_inspection_micro, book.taxes, "labor"),
      locations: Object.fromEntries(locations),
    },
    assumptions: book.warranty.months >= REWORK_WARRANTY_MONTHS ? { rework_share: 0 } : {},
  };
}

const WORKS = {
  recharge: { recharge: true, test: null, repair: null },
  electronic: { recharge: false, test: "electronic", repair: null },
} as const;

function taxed(price_micro: number, taxes: Taxes, of: keyof Taxes): number {
  return (price_micro / 10 ** UNIT_PRICE_DIGITS) * taxFactor(taxes, of);
}

function taxFactor(taxes: Taxes, of: keyof Taxes): number {
  return 1 + taxes[of].rate_ppm / 1e6;
}
