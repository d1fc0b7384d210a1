import { type AssessRequest, LOCATION_IDS, type LocationId, type LocationPrices, type Service } from "./contract.ts";
import { type Question, questionOf } from "./question.ts";

/** What a person tries in place of what is recorded; null or absent: as recorded. */
export interface Supposition {
  /** How long the vehicle will be kept, years. */
  keep_years?: number | null | undefined;
  /** Who tops off. */
  service?: Service | null | undefined;
  /** The only place where it leaks. */
  place?: LocationId | null | undefined;
  /** A shop's price for the whole repair, money: parts, labor, recovery and recharge. */
  quote?: number | null | undefined;
  /** Carbon price, money per tonne of CO₂ equivalent. */
  carbon_price_per_t?: number | null | undefined;
  /** Shortest time that a full charge must last to be topped off again, months. */
  floor_months?: number | null | undefined;
}

/**
 * The request under a supposition. A quote for a place that is not known scales all repair prices by one factor, so
 * that the average repair costs what the quote says.
 */
export function supposing(request: AssessRequest, supposed: Supposition): AssessRequest {
  const { place, quote, keep_years, service, carbon_price_per_t, floor_months } = supposed;
  const said = Object.entries({ keep_years, service, carbon_price_per_t, floor_months }).filter(
    ([, value]) => value != null,
  );
  const changed = { ...request, plan: { ...request.plan, ...Object.fromEntries(said) } };
  if (place != null) return withPlace(changed, place, quote ?? null);
  return quote == null ? changed : withQuote(changed, quote);
}

function withPlace(request: AssessRequest, place: LocationId, quote: number | null): AssessRequest {
  const known: LocationPrices = { share: 1 };
  if (quote !== null) known.price = Math.max(0, quote - fullService(questionOf(request)).at(place));
  return withLocations(request, (id) => (id === place ? known : { share: 0 }));
}

function withQuote(request: AssessRequest, quote: number): AssessRequest {
  const question = questionOf(request);
  const { share, price, service, repair_service } = question.prices;
  const mean = (of: (l: number) => number) => share.reduce((sum, one, l) => sum + one * of(l), 0);
  const refrigerant = mean((l) => service[l]! * fullService(question).refrigerant);
  const usual = mean((l) => price[l]! + service[l]! * repair_service);
  const factor = usual > 0 ? Math.max(0, quote - refrigerant) / usual : 1;
  const priced = withLocations(request, (_, l) => ({ price: price[l]! * factor }));
  // The quote is for the whole job, finding the leak included.
  return { ...priced, prices: { ...priced.prices, repair_service: repair_service * factor, locate_fee: 0 } };
}

/** The full service around a repair, money: its refrigerant, and what the share of it that a place needs costs. */
function fullService({ nameplate_g, prices }: Question) {
  const refrigerant = prices.shop_refrigerant_per_g * nameplate_g;
  const at = (place: LocationId) =>
    prices.service[LOCATION_IDS.indexOf(place)]! * (prices.repair_service + refrigerant);
  return { refrigerant, at };
}

function withLocations(request: AssessRequest, changes: (id: LocationId, l: number) => LocationPrices): AssessRequest {
  const locations = Object.fromEntries(
    LOCATION_IDS.map((id, l) => [id, { ...request.prices?.locations?.[id], ...changes(id, l) }]),
  );
  return { ...request, prices: { ...request.prices, locations } };
}
