import { LOCATION_IDS } from "../question/contract.ts";
import type { Question } from "../question/question.ts";

/**
 * A tally is what a path of top-offs and repairs comes to before prices are put on it: one row of a Float64Array, with
 * the columns below. D is the discount factor at the time t of each event, e the growth of the price of refrigerant.
 * Cost is linear in a tally, so prices can change without walking the paths again.
 */
export const TALLY = {
  /** Top-offs, Σ D. */
  visits: 0,
  /** Cans used by top-offs at home, Σ D·cans. */
  cans: 1,
  /** Refrigerant of top-offs, Σ D·e^{et}·units: cans at home, grams at a shop. */
  refrigerant: 2,
  /** Purchases of tools, D at the first top-off. */
  tools: 3,
  /** Low charges after today, Σ D. */
  lows: 4,
  /** Repairs by decision, D. */
  fix: 5,
  /** Their refrigerant, D·e^{et}. */
  fix_grown: 6,
  /** Years after the repair, discounted: ∫ D from it to the horizon. */
  relapse: 7,
  /** Grams to air until the repair and at it, weighted with survival, not discounted. */
  release: 8,
  /** Years after the repair, weighted with survival, not discounted. */
  sound: 9,
} as const;

/** Columns of a tally. */
export const TALLY_WIDTH = 10;

/** Prices to put on a tally; arrays are by place. */
export interface PriceTags {
  /** A top-off, money: the owner's time, or the shop's fee. */
  visit: number;
  /** Deposit lost on a can, money, on average. */
  can: number;
  /** Refrigerant, money a can at home, money a gram at a shop. */
  refrigerant: number;
  /** Gauges and hose, money. */
  tools: number;
  /** A low charge, money: the average damage to the compressor. */
  low: number;
  /** Carbon price, money per gram released. */
  release: number;
  /** What a repaired system releases, grams a year: its seep, and relapses. */
  sound_release_g: number;
  /** Full service around a repair without refrigerant, money. */
  service_fixed: number;
  /** Refrigerant of a full service at today's price, money; it grows. */
  service_grown: number;
  /** The sum of the two, money: what the service after a relapse is counted at. */
  service_now: number;
  /** Rate of new leaks in a repaired system, per year. */
  relapse_rate: number;
  /** Finding the leak, money. */
  locate_fee: number;
  /** Part of a full service that a repair needs, 0–1. */
  service_part: readonly number[];
  /** A repair with its average rework, money, without service. */
  repair_price: readonly number[];
  /** The average rework in `repair_price`, money. */
  rework: readonly number[];
  /** Chance that a repair holds, 0–1. */
  repair_holds: readonly number[];
}

/** The price tags of a question (MODEL §6, top-off cost and repair). `gwp`: warming potential of its refrigerant. */
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

/** Cost of the tally in row `row`, money, without repairs and carbon. */
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

/** What full services around repairs cost on a tally, money; a place pays its `service_part` of it. */
export function servicePartCost(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return (
    tallies[at + TALLY.fix]! * tags.service_fixed +
    tallies[at + TALLY.fix_grown]! * tags.service_grown +
    tags.relapse_rate * tallies[at + TALLY.relapse]! * tags.service_now
  );
}

/** How many times the price of a repair, and of finding the leak, falls due on a tally: discounted, with relapses. */
export function repairTimes(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return tallies[at + TALLY.fix]! + tags.relapse_rate * tallies[at + TALLY.relapse]!;
}

/** Repair prices as means over the places that the leak may be at. */
export interface PlacePrices {
  /** Part of a full service, 0–1. */
  service_part: number;
  /** Price of the repair and of finding the leak, money. */
  repair: number;
}

/** Means over places, weighted with `belief`, adding to 1; `locate` is the fee for finding the leak, money. */
export function placePrices(belief: readonly number[], tags: PriceTags, locate: number): PlacePrices {
  let service_part = 0;
  let repair = locate;
  for (let l = 0; l < belief.length; l++) {
    service_part += belief[l]! * tags.service_part[l]!;
    repair += belief[l]! * tags.repair_price[l]!;
  }
  return { service_part, repair };
}

/** Cost of the tally in row `row`, money, without carbon. */
export function tallyCost(tallies: Float64Array, row: number, tags: PriceTags, place: PlacePrices): number {
  return (
    runningCost(tallies, row, tags) +
    place.service_part * servicePartCost(tallies, row, tags) +
    place.repair * repairTimes(tallies, row, tags)
  );
}

/** Costs of some rows, with carbon, split by what the prices of a place multiply. A value for each row. */
export interface RowCosts {
  /** Money, the same at every place. */
  running: Float64Array;
  /** Money for full services, of which a place pays its `service_part`. */
  service: Float64Array;
  /** How many times the price of a repair falls due. */
  times: Float64Array;
}

/** The costs of the first `count` rows of tallies, for many places: `rowCostAt` puts a place's prices on one. */
export function rowCosts(tallies: Float64Array, count: number, tags: PriceTags): RowCosts {
  const costs = { running: new Float64Array(count), service: new Float64Array(count), times: new Float64Array(count) };
  for (let row = 0; row < count; row++) {
    costs.running[row] = runningCost(tallies, row, tags) + tags.release * tallyRelease(tallies, row, tags);
    costs.service[row] = servicePartCost(tallies, row, tags);
    costs.times[row] = repairTimes(tallies, row, tags);
  }
  return costs;
}

/** Cost of a row at a place, money with carbon. */
export function rowCostAt({ running, service, times }: RowCosts, row: number, place: PlacePrices): number {
  return running[row]! + place.service_part * service[row]! + place.repair * times[row]!;
}

/** Release of the tally in row `row`, grams. */
export function tallyRelease(tallies: Float64Array, row: number, tags: PriceTags): number {
  const at = row * TALLY_WIDTH;
  return tallies[at + TALLY.release]! + tags.sound_release_g * tallies[at + TALLY.sound]!;
}

/** Cost of the tally in row `row` plus the carbon price of its release, money: what options are compared by. */
export function tallyCostWithCarbon(tallies: Float64Array, row: number, tags: PriceTags, place: PlacePrices): number {
  return tallyCost(tallies, row, tags, place) + tags.release * tallyRelease(tallies, row, tags);
}
