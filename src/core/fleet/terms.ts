import { priceParameters } from "../../../data/parameters.ts";
import type { AssessRequest, PlanInput, PricesInput, Service } from "../question/contract.ts";

/**
 * What a fleet says once for many vehicles: who tops off, how long vehicles are kept, what a top-off and a repair cost
 * at its depots, and what an hour without the vehicle costs. Money in `currency`.
 */
export interface FleetTerms {
  service?: Service | null | undefined;
  keep_years?: number | null | undefined;
  /** A preset climate, and where the rules are those of: of a depot, for its vehicles that have none of their own. */
  climate?: string | null | undefined;
  place?: string | null | undefined;
  /** Money a top-off, without refrigerant. */
  topoff_fee?: number | null | undefined;
  refrigerant_per_g?: number | null | undefined;
  /** Recovery, evacuation and recharge around a repair, without refrigerant. */
  repair_service?: number | null | undefined;
  locate_fee?: number | null | undefined;
  /** Hours that the vehicle is out of use, and money an hour. */
  topoff_hours_lost?: number | null | undefined;
  repair_hours_lost?: number | null | undefined;
  hour_lost?: number | null | undefined;
  currency?: string | null | undefined;
}

/** How many hours without the vehicle, and how much money for each, a fleet may say. */
export const outageBounds = { hours: { min: 0, max: 1000 }, an_hour: { min: 0, max: 10_000 } } as const;

export const TERM_SCOPES = ["fleet", "group", "depot"] as const;
export type TermScope = (typeof TERM_SCOPES)[number];

/** Terms and whose they are; `name` is empty for the whole fleet. */
export interface ScopedTerms {
  scope: TermScope;
  name: string;
  terms: FleetTerms;
}

/** Whether a vehicle is one of a fleet: it has a group or a depot. */
function isOfFleet({ fleet_group, depot }: { fleet_group: string | null; depot: string | null }): boolean {
  return fleet_group !== null || depot !== null;
}

/**
 * What holds for a vehicle: its depot's terms, where they are silent its group's, then those of the fleet; a paid
 * service where nobody said who tops off. Null for a vehicle of no fleet. Money in other than `currency` is left out.
 */
export function termsFor(
  vehicle: { fleet_group: string | null; depot: string | null },
  all: readonly ScopedTerms[],
  currency: string,
): FleetTerms | null {
  if (!isOfFleet(vehicle)) return null;
  const of = (scope: TermScope, name: string | null): FleetTerms =>
    spoken(all.find((one) => one.scope === scope && one.name === name)?.terms ?? {}, currency);
  return {
    service: "shop",
    ...of("fleet", ""),
    ...of("group", vehicle.fleet_group),
    ...of("depot", vehicle.depot),
  };
}

const NOT_MONEY = new Set(["service", "keep_years", "climate", "place", "topoff_hours_lost", "repair_hours_lost"]);

/** What was said, without money of another currency. */
function spoken({ currency: said, ...terms }: FleetTerms, currency: string): FleetTerms {
  return Object.fromEntries(
    Object.entries(terms).filter(([name, value]) => value != null && (said === currency || NOT_MONEY.has(name))),
  );
}

/** The terms as plan and prices of a question; hours lost come on top of the prices, see `withHoursLost`. */
export function planAndPrices(terms: FleetTerms | null): { plan: PlanInput; prices: PricesInput } {
  if (terms === null) return { plan: {}, prices: {} };
  const { service, keep_years, topoff_fee, refrigerant_per_g, repair_service, locate_fee } = terms;
  const prices: [keyof PricesInput, number | null | undefined][] = [
    ["shop_topoff_fee", topoff_fee],
    ["shop_refrigerant_per_g", refrigerant_per_g],
    ["repair_service", repair_service],
    ["locate_fee", locate_fee],
  ];
  return {
    plan: { ...(service == null ? {} : { service }), ...(keep_years == null ? {} : { keep_years }) },
    prices: Object.fromEntries(prices.filter(([, price]) => price != null)),
  };
}

/** The same question with what the vehicle's absence costs in every top-off at a shop, and in every repair. */
export function withHoursLost(request: AssessRequest, terms: FleetTerms | null): AssessRequest {
  const hour = terms?.hour_lost ?? 0;
  const top_off = hour * (terms?.topoff_hours_lost ?? 0);
  const repair = hour * (terms?.repair_hours_lost ?? 0);
  if (top_off === 0 && repair === 0) return request;
  const { prices } = request;
  return {
    ...request,
    prices: {
      ...prices,
      shop_topoff_fee: (prices?.shop_topoff_fee ?? priceParameters.shop_topoff_fee.default) + top_off,
      repair_service: (prices?.repair_service ?? priceParameters.repair_service.default) + repair,
    },
  };
}
