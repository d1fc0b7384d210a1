import { LOCATION_IDS } from "../question/contract.ts";
import type { Question } from "../question/question.ts";

/**
 * A tally is what a path of top-offs and repairs comes to before prices are put on it: discounted counts and amounts,
 * one row of a Float64Array. Cost is linear in it, so that prices can change without walking the paths again.
 */
export const TALLY = {
  /** Σ D at each top-off. */
  visits: 0,
  /** Σ D·cans (top-off at home). */
  cans: 1,
  /** Σ D·e^{et}·cans at home, Σ D·e^{et}·grams at a shop. */
  refrigerant: 2,
  /** D at the first top-off. */
  tools: 3,
  /** Σ D at each low charge after today. */
  lows: 4,
  /** D at the repair. */
  fix: 5,
  /** D·e^{et} at the repair. */
  fix_grown: 6,
  /** ∫ D from the repair to the horizon. */
  relapse: 7,
  /** Grams to air until a repair and at it, weighted with survival, undiscounted. */
  release: 8,
  /** Years in sound state after the repair, weighted with survival. */
  sound: 9,
} as const;

export const TALLY_WIDTH = 10;

/** Prices on a tally: cost = Σ unit·column + V̄·(service part) + (locate + P̄)·(repair part). */
export interface PriceTags {
  /** Money a top-off: the owner's time, or the shop's fee. */
  visit: number;
  /** Money a can of deposit that does not come back. */
  can: number;
  /** Money a can at home, a gram at a shop. */
  refrigerant: number;
  /** Money, once. */
  tools: number;
  /** Money a low charge: what the risk to the compressor comes to. */
  low: number;
  /** Per g of release: the carbon price. */
  release: number;
  /** Grams a year that a sound system releases: seep, and relapses. */
  sound_release_g: number;
  /** Full service around a repair, money: the part that keeps its price, and that of the refrigerant, which grows. */
  service_fixed: number;
  service_grown: number;
  /** Both at today's prices, for relapses. */
  service_now: number;
  /** New leaks a year of a repaired system. */
  relapse_rate: number;
  /** Money for finding the leak. */
  locate_fee: number;
  /** Per place: part of a service that it needs, and price with rework. */
  service_part: readonly number[];
  repair_price: readonly number[];
  /** Per place: what of that price is for rework, on average, and the chance that the repair holds. */
  rework: readonly number[];
  repair_holds: readonly number[];
}

/** The price tags of a question (MODEL §6, top-off cost and repair). `gwp` of its refrigerant in its set. */
export function priceTags(question: Question, gwp: number): PriceTags {
  const { prices, plan, assumptions, nameplate_g } = question;
  const diy = plan.service === "diy";
  const service_grown = prices.shop_refrigerant_per_g * nameplate_g;
  const rework = prices.price.map((price, l) => {
    const holds = prices.holds[l]!;
    return (price * assumptions.rework_share * (1 - holds)) / holds;
  });
  const compressor = LOCATION_IDS.indexOf("compressor");
  return {
    visit: diy ? prices.diy_hours * prices.hour_worth : prices.shop_topoff_fee,
    can: diy ? prices.can_deposit * (1 - prices.can_return_rate) : 0,
    refrigerant: diy ? prices.can_price : prices.shop_refrigerant_per_g,
    tools: diy && !plan.tools_owned ? prices.tools_price : 0,
    low: assumptions.damage_chance * (prices.price[compressor]! + prices.repair_service),
    release: (plan.carbon_price_per_t * gwp) / 1e6,
    sound_release_g:
      nameplate_g * (assumptions.seep_fraction + assumptions.relapse_rate * (1 - assumptions.low_fraction)),
    service_fixed: prices.repair_service,
    service_grown,
    service_now: prices.repair_service + service_grown,
    relapse_rate: assumptions.relapse_rate,
    locate_fee: prices.locate_fee,
    service_part: prices.service,
    repair_price: prices.price.map((price, l) => price + rework[l]!),
    rework,
    repair_holds: prices.holds,
  };
}

/** Cost of the tally at row `row` without repairs, carbon left out. */
export function runningCost(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return (
    tallies[at + TALLY.visits]! * tags.visit +
    tallies[at + TALLY.cans]! * tags.can +
    tallies[at + TALLY.refrigerant]! * tags.refrigerant +
    tallies[at + TALLY.tools]! * tags.tools +
    tallies[at + TALLY.lows]! * tags.low
  );
}

/** What each unit of a place's service part costs on this tally. */
export function servicePartCost(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return (
    tallies[at + TALLY.fix]! * tags.service_fixed +
    tallies[at + TALLY.fix_grown]! * tags.service_grown +
    tags.relapse_rate * tallies[at + TALLY.relapse]! * tags.service_now
  );
}

/** How many times the repair price and the locate fee fall due on this tally, discounted, relapses included. */
export function repairTimes(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return tallies[at + TALLY.fix]! + tags.relapse_rate * tallies[at + TALLY.relapse]!;
}

/**
 * The repair prices that beliefs about the place come to: mean service part, and mean price with the fee for finding
 * it.
 */
export interface PlacePrices {
  service_part: number;
  repair: number;
}

/** Means over places; `locate` is the fee that falls due. */
export function placePrices(belief: readonly number[], tags: PriceTags, locate: number): PlacePrices {
  let service_part = 0;
  let repair = locate;
  for (let l = 0; l < belief.length; l++) {
    service_part += belief[l]! * tags.service_part[l]!;
    repair += belief[l]! * tags.repair_price[l]!;
  }
  return { service_part, repair };
}

/** Cost of a tally at given repair prices, carbon left out. */
export function tallyCost(tallies: Float64Array, row: number, tags: PriceTags, place: PlacePrices): number {
  return (
    runningCost(tallies, row, tags) +
    place.service_part * servicePartCost(tallies, row, tags) +
    place.repair * repairTimes(tallies, row, tags)
  );
}

/** Grams to air on a tally. */
export function tallyRelease(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return tallies[at + TALLY.release]! + tags.sound_release_g * tallies[at + TALLY.sound]!;
}

/** Cost of a tally with the carbon price on its release: what choices are made by. */
export function tallyCostWithCarbon(tallies: Float64Array, row: number, tags: PriceTags, place: PlacePrices): number {
  return tallyCost(tallies, row, tags, place) + tags.release * tallyRelease(tallies, row, tags);
}
