import { type AssessRequest, LOCATION_IDS, type LocationId, type LocationPrices, type Service } from "./contract.ts";
import { type Question, questionOf } from "./question.ts";

/** What someone supposes beside what is recorded; null or absent: as it is. */
export interface Supposition {
  keep_years?: number | null | undefined;
  service?: Service | null | undefined;
  /** The one place where it leaks. */
  place?: LocationId | null | undefined;
  /** A shop's price for the whole repair: parts, labor, recovery and recharge. */
  quote?: number | null | undefined;
  carbon_price_per_t?: number | null | undefined;
  floor_months?: number | null | undefined;
}

/**
 * The same request under a supposition. Of a quote whose place is not known, all repair prices take their part alike.
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
  // In all: finding the leak is in it, too.
  return { ...priced, prices: { ...priced.prices, repair_service: repair_service * factor, locate_fee: 0 } };
}

/** What the service around a repair costs: of the refrigerant alone, and in all at a place. */
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
