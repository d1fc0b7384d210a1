import { DYE_WAIT_YEARS } from "../../../data/model-constants.ts";
import { weightedQuantiles } from "../maths/weighted-quantile.ts";
import { LOCATION_IDS, type OptionId } from "../question/contract.ts";
import { comparedOption } from "../question/option-of.ts";
import { eventFreeRelease, type Futures, futuresOf } from "./futures.ts";
import { NodeCosts, writeScaled } from "./node-costs.ts";
import { type Branch, type Option, SAME_COST } from "./option.ts";
import type { Outlook } from "./outlook.ts";
import { fadingIntegral } from "./spending.ts";
import type { PriceTags } from "./tally.ts";

/** The spread of an option's cost over what is unknown: leak, place, test result, and whether a repair holds. */

const PLACES = LOCATION_IDS.length;

/** Branches that cost the same, taken together: of one course, switch rule and fee for finding the place. */
interface AlikeBranches {
  /** One of them. */
  branch: Branch;
  /** Chance of any of them if the leak is at each place, 0–1. */
  chance: number[];
}

function alikeBranchesOf(option: Option): AlikeBranches[] {
  const courses = new Map<string, AlikeBranches>();
  for (const branch of option.branches) {
    const key = `${branch.course} ${branch.rule} ${branch.locate}`;
    const course = courses.get(key) ?? { branch, chance: new Array<number>(PLACES).fill(0) };
    for (let l = 0; l < PLACES; l++) course.chance[l]! += branch.chance_given[l]!;
    courses.set(key, course);
  }
  return [...courses.values()];
}

/** The costs that an option may come to. */
interface Items {
  /** Money without carbon. */
  costs: Float64Array;
  /** Chance of each cost. */
  weights: Float64Array;
}

/**
 * The costs that an option may come to: one for each node, place and course, and two where a repair comes at a known
 * time, as it may hold or not. `futures` may end before the horizon of the plan. They hold until the next call.
 */
function itemsOf(option: Option, { known, tags }: Pick<Outlook, "known" | "tags">, futures: Futures): Items {
  if (option.branches.length === 0) return { costs: Float64Array.of(option.fixed), weights: Float64Array.of(1) };
  const { nodes } = futures.start;
  const courses = alikeBranchesOf(option).map((course) => {
    const repaired_at = repairTime(course.branch, futures);
    // A repair before anything is topped off costs every node the same.
    const rows = repaired_at === 0 || (repaired_at !== null && !futures.start.top_up_now) ? 1 : nodes.count;
    const outcomes = repaired_at === null ? 1 : 2;
    return { ...course, repaired_at, rows, count: rows * PLACES * outcomes };
  });
  const total = courses.reduce((sum, { count }) => sum + count, 0);
  const items = roomForItems(total);
  let i = 0;
  for (const { branch, chance, repaired_at, rows } of courses) {
    const outcomes = repaired_at === null ? null : repairOutcomes(repaired_at, branch.locate, tags, futures);
    const node_weights = rows === 1 ? ONE : nodes.weight;
    node_costs.take(futures, branch, tags, rows, false);
    for (let l = 0; l < PLACES; l++) {
      const weight = known.belief[l]! * chance[l]!;
      const put = (fixed: number, share: number): void => {
        node_costs.write(items.costs, i, fixed, tags.service_part[l]!, tags.repair_price[l]! + branch.locate);
        writeScaled(items.weights, i, node_weights, rows, weight * share);
        i += rows;
      };
      if (outcomes === null) {
        put(option.fixed, 1);
        continue;
      }
      const { holds, saved, lost } = outcomes[l]!;
      put(option.fixed - saved, holds);
      put(option.fixed + lost, 1 - holds);
    }
  }
  return items;
}

const ONE = Float64Array.of(1);
// Work space: of one branch at a time.
const node_costs = new NodeCosts();

// Of one option at a time: it is looked at and done with before the next asks for the room.
let items_room = new Float64Array(0);

function roomForItems(count: number): Items {
  if (items_room.length < 2 * count) items_room = new Float64Array(2 * count);
  return { costs: items_room.subarray(0, count), weights: items_room.subarray(count, 2 * count) };
}

/** When a branch repairs, years ahead, where that is certain from the start; null where it depends on the leak. */
function repairTime(branch: Branch, futures: Futures): number | null {
  if (branch.course === "top-off") return null;
  return branch.course === "repair-now" ? 0 : Math.min(DYE_WAIT_YEARS, futures.spending.horizon.years);
}

/**
 * For each place: the chance that a repair at `t`, years, holds to the end, how much less than the mean it costs if it
 * does (`saved`, money), and how much more if it does not (`lost`). The mean of the two stays the mean.
 */
function repairOutcomes(
  t: number,
  locate: number,
  tags: PriceTags,
  futures: Futures,
): { holds: number; saved: number; lost: number }[] {
  const { years, fade } = futures.spending.horizon;
  const discounted = Math.exp(-fade * t);
  const relapses = tags.relapse_rate * fadingIntegral(fade, t, years);
  return tags.repair_price.map((price, l) => {
    const holds = tags.repair_holds[l]! * Math.exp(-tags.relapse_rate * (years - t));
    const again = tags.service_part[l]! * tags.service_now + locate + price;
    const saved = discounted * tags.rework[l]! + relapses * again;
    return { holds, saved, lost: holds < 1 ? (saved * holds) / (1 - holds) : 0 };
  });
}

/** Cost with carbon of an option at each place l and node n, at index l·nodes + n: mean over a test's outcomes. */
function comparedCosts(option: Option, futures: Futures, tags: PriceTags): Float64Array {
  const { count } = futures.start.nodes;
  const costs = new Float64Array(count * PLACES).fill(option.fixed);
  for (const { branch, chance } of alikeBranchesOf(option)) {
    node_costs.take(futures, branch, tags, count, true);
    for (let l = 0; l < PLACES; l++) {
      node_costs.add(costs, l * count, chance[l]!, tags.service_part[l]!, tags.repair_price[l]! + branch.locate);
    }
  }
  if (option.id === "live-without" && tags.release > 0) {
    for (let n = 0; n < count; n++) {
      const harm = tags.release * eventFreeRelease(futures, n, futures.spending.horizon.years);
      for (let l = 0; l < PLACES; l++) costs[l * count + n]! += harm;
    }
  }
  return costs;
}

/** How far the cost of an option may differ from its mean. */
export interface CostSpread {
  /** 5 % quantile of its cost, money without carbon. */
  p05: number;
  /** 95 % quantile of its cost, money without carbon. */
  p95: number;
  /** Chance of being the cheapest offered, carbon included, 0–1. */
  probability_cheapest: number;
}

/** The spread of each option of an outlook, in their order. */
export function costSpreads(outlook: Outlook): CostSpread[] {
  const wins = probabilitiesCheapest(outlook);
  return outlook.comparison.options.map((option, o) => ({
    ...rangeOf(itemsOf(option, outlook, outlook.futures)),
    probability_cheapest: wins[o]!,
  }));
}

/** The 5 % and 95 % quantiles. */
function rangeOf({ costs, weights }: Items): { p05: number; p95: number } {
  const [p05, p95] = weightedQuantiles(costs, weights, [0.05, 0.95]) as [number, number];
  return { p05, p95 };
}

/** Chance of each option to be the cheapest offered, carbon included: `costSpreads` without the costly spread. */
export function probabilitiesCheapest({ futures, tags, comparison, known }: Outlook): number[] {
  const { options } = comparison;
  const { nodes } = futures.start;
  const wins = options.map(() => 0);
  // Of the options so far, at each node and place: the least cost, and whose it is.
  const least = new Float64Array(nodes.count * PLACES).fill(Infinity);
  const cheapest = new Int8Array(nodes.count * PLACES).fill(-1);
  for (const [o, option] of options.entries()) {
    if (option.offered) takeCheaper(least, cheapest, comparedCosts(option, futures, tags), o);
  }
  for (let l = 0, i = 0; l < PLACES; l++) {
    for (let n = 0; n < nodes.count; n++, i++) {
      if (cheapest[i]! >= 0) wins[cheapest[i]!]! += nodes.weight[n]! * known.belief[l]!;
    }
  }
  return wins;
}

/** Where `costs`, of option `o`, are under `least`, they become that. */
function takeCheaper(least: Float64Array, cheapest: Int8Array, costs: Float64Array, o: number): void {
  for (let i = 0; i < costs.length; i++) {
    if (costs[i]! >= least[i]! * (1 - SAME_COST)) continue;
    least[i] = costs[i]!;
    cheapest[i] = o;
  }
}

/** Money spent on an option by the end of each year; the last year's values are the option's own spread. */
export interface CostBand {
  /** 5 % quantile, money without carbon. */
  p05: number[];
  /** 95 % quantile, money without carbon. */
  p95: number[];
}

/**
 * The spread of the money spent on an option by the end of each year of the plan, discounted and without carbon.
 * Decisions are those of the whole plan; only the counting stops early. Throws RangeError when the outlook does not
 * compare `id`.
 */
export function costBandOf(outlook: Outlook, id: OptionId): CostBand {
  const { keep_years } = outlook.question.plan;
  const option = comparedOption(outlook.comparison, id);
  const ranges = Array.from({ length: Math.ceil(keep_years) }, (_, i) => {
    const until = Math.min(i + 1, keep_years);
    return rangeOf(itemsUntil(outlook, option, countedUntil(outlook, until)));
  });
  return { p05: neverFalling(ranges.map(({ p05 }) => p05)), p95: neverFalling(ranges.map(({ p95 }) => p95)) };
}

/**
 * Makes the values never fall, without changing the last one. They may fall a little from year to year, because repairs
 * that fail are counted at their mean cost, while money once spent does not come back.
 */
function neverFalling(values: readonly number[]): number[] {
  const last = values.at(-1) ?? 0;
  let highest = -Infinity;
  return values.map((value) => {
    highest = Math.max(highest, value);
    return Math.min(last, highest);
  });
}

/** The same years ahead, counted until `years` only. */
function countedUntil({ question, start, futures }: Outlook, years: number): Futures {
  const { plan } = question;
  if (years === plan.keep_years) return futures;
  const shorter = { ...question, plan: { ...plan, keep_years: years } };
  return futuresOf(shorter, start, futures.table);
}

/** The costs that an option may come to, as far as `counted` goes. */
function itemsUntil(outlook: Outlook, option: Option, counted: Futures): Items {
  const { fade, years } = outlook.futures.spending.horizon;
  const until = counted.spending.horizon.years;
  // The worth of the seasons is lost day by day; any other fixed cost is paid today.
  const share = option.id === "live-without" ? fadingIntegral(fade, 0, until) / fadingIntegral(fade, 0, years) : 1;
  return itemsOf({ ...option, fixed: option.fixed * share }, outlook, counted);
}

/** Years; so short that only what is done on the assessment date counts. */
const TODAY_YEARS = 1e-6;

/** What each option costs on the assessment date itself, money, in their order: mean over leak and location. */
export function paidToday(outlook: Outlook): number[] {
  const counted = countedUntil(outlook, TODAY_YEARS);
  return outlook.comparison.options.map((option) => {
    const { costs, weights } = itemsUntil(outlook, option, counted);
    return (
      weights.reduce((sum, weight, i) => sum + weight * costs[i]!, 0) / weights.reduce((sum, weight) => sum + weight, 0)
    );
  });
}
