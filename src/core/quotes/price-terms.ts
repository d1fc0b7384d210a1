import { GENERAL_CURRENCY } from "../../../data/currencies.ts";
import { SEASON_WORTH_HOURS } from "../../../data/vehicle-prices.ts";
import { meanChargeOf } from "../leak/leak.ts";
import { posteriorOf } from "../leak/posterior.ts";
import { UNIT_PRICE_DIGITS } from "../quantities/money.ts";
import {
  type AssessRequest,
  LOCATION_IDS,
  type LocationPrices,
  type PlanInput,
  type PricesInput,
  type Service,
} from "../question/contract.ts";
import { questionOf } from "../question/question.ts";
import { withVehiclePrices } from "../question/vehicle-prices.ts";
import { bookPrices } from "./book-prices.ts";
import type { PriceBook } from "./price-book.ts";

/** A price book that a workspace has made its own. */
export interface KeptBook {
  id: string;
  book: PriceBook;
  archived_at: string | null;
  updated_at: string;
}

/** Whose prices an answer is worked out with, and what all its money is in. */
export interface PriceTerms<Book extends KeptBook = KeptBook> {
  /** ISO 4217. */
  currency: string;
  /** Null: the general prices, which are in US dollars. */
  book: Book | null;
  /** The workspace's currency, where it has no prices in it; null where it has. */
  wanted: string | null;
  /** Who tops off in the workspace where nobody says otherwise of a vehicle; null: not said. */
  service: Service | null;
}

/** Of the terms, what prices are worked out from. */
export interface Terms {
  currency: string;
  book: Pick<KeptBook, "book"> | null;
  service?: Service | null;
}

/** Without a workspace, or in one that has said nothing. */
export const GENERAL_TERMS: PriceTerms<never> = {
  currency: GENERAL_CURRENCY,
  book: null,
  wanted: null,
  service: null,
};

/**
 * The prices for a vehicle in a workspace: the one place that decides it. Money is in the workspace's currency where a
 * book
 * of its own is in it, else in that of the general prices: one currency for all its vehicles, so that no page mixes
 * them. Of
 * the books in it the usual one.
 */
export function priceTerms<Book extends KeptBook>(
  workspace: { currency: string; plan: PlanInput },
  books: readonly Book[],
  vehicle: { fleet_group: string | null },
): PriceTerms<Book> {
  const currency = answerCurrency(workspace, books);
  const book = usualBook(
    books.filter(({ archived_at, book }) => archived_at === null && book.currency === currency),
    vehicle,
  );
  return {
    currency,
    book: book ?? null,
    wanted: currency === workspace.currency ? null : workspace.currency,
    service: workspace.plan.service ?? null,
  };
}

/** What all money of a workspace's answers is in; `ANSWER_CURRENCY` of the store says the same in SQL. */
function answerCurrency(workspace: { currency: string }, books: readonly KeptBook[]): string {
  const has_prices = books.some(
    ({ archived_at, book }) => archived_at === null && book.currency === workspace.currency,
  );
  return has_prices ? workspace.currency : GENERAL_CURRENCY;
}

/** The fleet's book for a vehicle of a fleet, else the retail one, else the first. */
export function usualBook<Book extends { id: string }>(
  books: readonly Book[],
  { fleet_group }: { fleet_group: string | null },
): Book | undefined {
  const named = (id: string) => books.find((one) => one.id === id);
  return (fleet_group === null ? undefined : named("fleet")) ?? named("retail") ?? books[0];
}

/** Whether it is known in this currency what an owner pays for cans, tools and an hour: the general prices say it. */
export function ownerIsPriced({ currency }: Terms): boolean {
  return currency === GENERAL_CURRENCY;
}

/** Who tops it off where nobody said of a vehicle: as the workspace has it, else a shop with a price book itself. */
export function usualService(terms: Terms): Service {
  if (!ownerIsPriced(terms)) return "shop";
  return terms.service ?? (terms.book === null ? "diy" : "shop");
}

/**
 * The same question, done by whoever does it under these terms: a shop with a price book does it itself, unless someone
 * said
 * otherwise; and what an owner pays is known in the currency of the general prices only.
 */
export function servedUnder(request: AssessRequest, terms: Terms): AssessRequest {
  if (terms.book === null) return request;
  const service = ownerIsPriced(terms) ? (request.plan?.service ?? usualService(terms)) : "shop";
  return { ...request, plan: { ...request.plan, service } };
}

/**
 * The same question with the prices of the book, under what the request says itself: own numbers go first. An owner who
 * does
 * it themselves keeps their own costs of topping off and of dye.
 */
export function pricedUnder(request: AssessRequest, { book }: Terms, vehicle: { electric: boolean }): AssessRequest {
  if (book === null) return withVehiclePrices(request, vehicle);
  const { refrigerant, nameplate_g } = request.vehicle;
  const charge_g = meanChargeOf(posteriorOf(questionOf(request), { record: false }));
  const missing_g = Math.max(0, nameplate_g - charge_g);
  const { electric } = vehicle;
  const { prices, assumptions } = bookPrices(book.book, { refrigerant, nameplate_g, missing_g, electric });
  const { dye_price, dye_inspection_fee, ...repairs } = prices;
  const shops = questionOf(request).plan.service === "shop" ? prices : repairs;
  return {
    ...request,
    plan: withSeasonWorth(request.plan ?? {}, book.book),
    prices: mergedPrices(shops, request.prices ?? {}),
    assumptions: { ...assumptions, ...request.assumptions },
  };
}

/**
 * What a season of cooling is worth where a compressor is failing and nobody said, in the money of the book: the
 * general worth at the general rate of labor is so many of its hours.
 */
function withSeasonWorth(plan: PlanInput, { labor_rate_micro }: PriceBook): PlanInput {
  if (plan.other_trouble !== "compressor-failing" || plan.season_worth != null || labor_rate_micro === 0) return plan;
  return { ...plan, season_worth: (labor_rate_micro / 10 ** UNIT_PRICE_DIGITS) * SEASON_WORTH_HOURS };
}

/** The prices of `own`, and where it says nothing those of `general`. */
export function mergedPrices(general: PricesInput, own: PricesInput): PricesInput {
  const locations: Partial<Record<(typeof LOCATION_IDS)[number], LocationPrices>> = {};
  for (const id of LOCATION_IDS) {
    const merged = { ...said(general.locations?.[id]), ...said(own.locations?.[id]) };
    if (Object.keys(merged).length > 0) locations[id] = merged;
  }
  return { ...said(general), ...said(own), locations };
}

/** What is there: null means that nothing was said. */
function said<Of extends object>(of: Of | null | undefined): Partial<Of> {
  return Object.fromEntries(Object.entries(of ?? {}).filter(([, value]) => value != null)) as Partial<Of>;
}
