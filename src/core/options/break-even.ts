import { GROWTH, LN_X, NODES, X_COUNT } from "../leak/leak-grid.ts";
import { monthTable } from "../leak/month-table.ts";
import type { BreakEven } from "../question/contract.ts";
import { gwp } from "../refrigerant/gwp.ts";
import { locateFee } from "./compare.ts";
import { emptyEvents, eventsOf, type NodeState } from "./node-events.ts";
import { SAME_COST } from "./option.ts";
import type { Outlook } from "./outlook.ts";
import { addNodePaths } from "./paths.ts";
import { Schedule } from "./schedule.ts";
import { Spans } from "./spans.ts";
import { fadingIntegral } from "./spending.ts";
import {
  type PlacePrices,
  placePrices,
  repairTimes,
  TALLY_WIDTH,
  tallyCost,
  tallyCostWithCarbon,
  tallyRelease,
} from "./tally.ts";

/** A larger factor on repair prices is not reported. */
const FACTOR_MOST = 20;

/** Where repair and topping off cost the same (MODEL §6), whether or not they are offered; null where they never do. */
export function breakEven(outlook: Outlook): BreakEven {
  const { tags, known } = outlook;
  const place = placePrices(known.belief, tags, locateFee(known.belief, tags));
  return {
    leak_g_per_year: leakBreakEven(outlook, place),
    repair_price_factor: repairPriceBreakEven(outlook, place),
    carbon_price_per_t: carbonBreakEven(outlook, place),
    season_worth: seasonBreakEven(outlook),
  };
}

/** Factor on all repair prices at which repair costs as much as topping off; both costs are linear in it. */
function repairPriceBreakEven({ futures, tags, known }: Outlook, place: PlacePrices): number | null {
  const mean_price = known.belief.reduce((sum, share, l) => sum + share * tags.repair_price[l]!, 0);
  const repair = tallyCostWithCarbon(futures.repair_now, 0, tags, place);
  const repair_slope = mean_price * repairTimes(futures.repair_now, 0, tags);
  const factors = futures.rules.map((_, rule) => {
    const apart = tallyCostWithCarbon(futures.top_off_mean, rule, tags, place) - repair;
    const slope = repair_slope - mean_price * repairTimes(futures.top_off_mean, rule, tags);
    return 1 + apart / slope;
  });
  // Below the least factor repair beats every rule. Where a rule is cheaper even than a free repair, there is none.
  const least = leastOf(factors.filter((factor) => !Number.isNaN(factor)));
  return least !== null && least > 0 && least <= FACTOR_MOST ? least : null;
}

/**
 * Carbon price, money per tonne, at which repair costs as much as topping off under its best rule. A price at which it
 * only equals one rule while another is cheaper does not count; that happens where a repair releases more than it
 * saves.
 */
function carbonBreakEven({ question, futures, tags }: Outlook, place: PlacePrices): number | null {
  const tonnes_per_g = gwp(question.plan.gwp, question.refrigerant) / 1e6;
  const repair = tallyCost(futures.repair_now, 0, tags, place);
  const repair_g = tallyRelease(futures.repair_now, 0, tags);
  const rules = futures.rules.map((_, rule) => ({
    dearer: tallyCost(futures.top_off_mean, rule, tags, place) - repair,
    more_t: (tallyRelease(futures.top_off_mean, rule, tags) - repair_g) * tonnes_per_g,
  }));
  const prices = rules
    .map(({ dearer, more_t }) => -dearer / more_t)
    .filter((price) => Number.isFinite(price) && price > 0)
    .filter((price) => rules.every(({ dearer, more_t }) => dearer + price * more_t >= -SAME_COST * repair));
  return leastOf(prices);
}

/**
 * Leak, grams a year, from which on repair is cheaper than topping off: linear between the leak rates of the grid, each
 * walked as one node of mean charge and mean growth.
 */
function leakBreakEven(outlook: Outlook, place: PlacePrices): number | null {
  const { question, futures, tags, posterior } = outlook;
  const { start, spending, rules } = futures;
  let growth = 0;
  let mean_m = 0;
  let mean_b = 0;
  for (let n = 0; n < NODES; n++) {
    growth += posterior.weight[n]! * GROWTH[Math.floor(n / X_COUNT)]!;
    mean_m += posterior.weight[n]! * posterior.mean_m[n]!;
    mean_b += posterior.weight[n]! * posterior.mean_b[n]!;
  }
  const table = monthTable(posterior.clocks.season, [posterior.clocks.reading(growth)], spending.horizon);
  const repair = tallyCostWithCarbon(futures.repair_now, 0, tags, place);
  const events = emptyEvents();
  const spans = new Spans([spending.horizon.years]);
  const schedule = new Schedule();
  const tallies = new Float64Array(rules.length * TALLY_WIDTH);
  const node: NodeState = { k: 0, mean_m, mean_b, clock: 0 };
  let before = Number.NaN;
  for (let i = 0; i < X_COUNT; i++) {
    node.k = Math.exp(LN_X[i]!) * question.nameplate_g;
    eventsOf(events, node, start, table, spending.horizon, question.nameplate_g, rules[0]);
    schedule.follow(events, rules, spans);
    tallies.fill(0);
    addNodePaths(tallies, 0, schedule, node, rules.length, spending, table);
    let top_off = Infinity;
    for (let rule = 0; rule < rules.length; rule++) {
      top_off = Math.min(top_off, tallyCostWithCarbon(tallies, rule, tags, place));
    }
    const apart = top_off - repair;
    if (before < 0 && apart >= 0) {
      const ln_x = LN_X[i - 1]! + ((LN_X[i]! - LN_X[i - 1]!) * -before) / (apart - before);
      return Math.exp(ln_x) * question.nameplate_g;
    }
    before = apart;
  }
  return null;
}

/** Worth of a season, money a year, at which living without cooling costs as much as the cheapest way to keep it. */
function seasonBreakEven({ futures, comparison }: Outlook): number | null {
  const { fade, years } = futures.spending.horizon;
  const costs = comparison.options
    .filter((option) => option.offered && option.id !== "live-without")
    .map((option) => option.expected_cost_with_carbon);
  const least = leastOf(costs);
  return least === null ? null : least / fadingIntegral(fade, 0, years);
}

function leastOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.min(...values);
}
