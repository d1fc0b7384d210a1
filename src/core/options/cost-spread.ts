import { DYE_WAIT_YEARS } from "../../../data/model-constants.ts";
import { weightedQuantile } from "../maths/weighted-quantile.ts";
import { LOCATION_IDS, type OptionId } from "../question/contract.ts";
import { comparedOption } from "../question/option-of.ts";
import { type Branch, nodeRows, type Option, SAME_COST } from "./compare.ts";
import { eventFreeRelease, type Futures, futuresOf } from "./futures.ts";
import type { Outlook } from "./outlook.ts";
import { fadingIntegral } from "./spending.ts";
import { type PriceTags, repairTimes, runningCost, servicePartCost, tallyRelease } from "./tally.ts";

/** The spread of an option's cost over the unknowns: leak (nodes), place, test result, whether a repair holds. */

const PLACES = LOCATION_IDS.length;

/** Branches of one course, rule and fee for locating: what each true place makes of them. */
interface Course {
  branch: Branch;
  /** Chance of the course, by place. */
  chance: number[];
}

function coursesOf(option: Option): Course[] {
  const courses = new Map<string, Course>();
  for (const branch of option.branches) {
    const key = `${branch.course} ${branch.rule} ${branch.locate}`;
    const course = courses.get(key) ?? { branch, chance: new Array<number>(PLACES).fill(0) };
    for (let l = 0; l < PLACES; l++) course.chance[l]! += branch.chance_given[l]!;
    courses.set(key, course);
  }
  return [...courses.values()];
}

/** Costs that an option may come to, money without carbon, each with its chance. */
interface Items {
  costs: Float64Array;
  weights: Float64Array;
}

/**
 * Every cost an option may come to: by node, place and branch, and of a repair at a fixed time the two outcomes, that
 * it holds and nothing comes back, or that it does not. `futures` may end before the horizon of the plan.
 */
function itemsOf(option: Option, { known, tags }: Pick<Outlook, "known" | "tags">, futures: Futures): Items {
  if (option.branches.length === 0) return { costs: Float64Array.of(option.fixed), weights: Float64Array.of(1) };
  const { nodes } = futures.start;
  const courses = coursesOf(option).map((course) => {
    const repaired_at = repairTime(course.branch, futures);
    // A repair today costs every node the same.
    const rows = course.branch.course === "repair-now" ? 1 : nodes.count;
    const outcomes = repaired_at === null ? 1 : 2;
    return { ...course, repaired_at, rows, count: rows * PLACES * outcomes };
  });
  const total = courses.reduce((sum, { count }) => sum + count, 0);
  const items: Items = { costs: new Float64Array(total), weights: new Float64Array(total) };
  let i = 0;
  for (const { branch, chance, repaired_at, rows } of courses) {
    const { tallies, first, stride } = nodeRows(futures, branch);
    const outcomes = repaired_at === null ? null : repairOutcomes(repaired_at, branch.locate, tags, futures);
    for (let n = 0; n < rows; n++) {
      const row = first + n * stride;
      const running = option.fixed + runningCost(tallies, row, tags);
      const service = servicePartCost(tallies, row, tags);
      const times = repairTimes(tallies, row, tags);
      const node_weight = rows === 1 ? 1 : nodes.weight[n]!;
      for (let l = 0; l < PLACES; l++) {
        const cost = running + tags.service_part[l]! * service + (tags.repair_price[l]! + branch.locate) * times;
        const weight = node_weight * known.belief[l]! * chance[l]!;
        if (outcomes === null) {
          items.costs[i] = cost;
          items.weights[i++] = weight;
        } else {
          const { holds, saved, lost } = outcomes[l]!;
          items.costs[i] = cost - saved;
          items.weights[i++] = weight * holds;
          items.costs[i] = cost + lost;
          items.weights[i++] = weight * (1 - holds);
        }
      }
    }
  }
  return items;
}

/** When a branch repairs, years, if that is certain from the start; null when it depends on the leak. */
function repairTime(branch: Branch, futures: Futures): number | null {
  if (branch.course === "top-off") return null;
  return branch.course === "repair-now" ? 0 : Math.min(DYE_WAIT_YEARS, futures.spending.horizon.years);
}

/**
 * By place: the chance that a repair at `t` holds to the end, and how much less than the mean that costs, and how much
 * more if it does not; the mean is left as it is.
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

/** Cost with carbon of an option at each node and place, index n·6 + l: the mean over a test's outcomes. */
function comparedCosts(option: Option, futures: Futures, tags: PriceTags): Float64Array {
  const { nodes } = futures.start;
  const costs = new Float64Array(nodes.count * PLACES).fill(option.fixed);
  for (const { branch, chance } of coursesOf(option)) {
    const { tallies, first, stride } = nodeRows(futures, branch);
    for (let n = 0; n < nodes.count; n++) {
      const row = first + n * stride;
      const running = runningCost(tallies, row, tags) + tags.release * tallyRelease(tallies, row, tags);
      const service = servicePartCost(tallies, row, tags);
      const times = repairTimes(tallies, row, tags);
      for (let l = 0; l < PLACES; l++) {
        costs[n * PLACES + l]! +=
          chance[l]! * (running + tags.service_part[l]! * service + (tags.repair_price[l]! + branch.locate) * times);
      }
    }
  }
  if (option.id === "live-without" && tags.release > 0) {
    for (let n = 0; n < nodes.count; n++) {
      const harm = tags.release * eventFreeRelease(futures, n, futures.spending.horizon.years);
      for (let l = 0; l < PLACES; l++) costs[n * PLACES + l]! += harm;
    }
  }
  return costs;
}

/** Spread of each option and its chance of being the cheapest offered, in the order of the options. */
export interface CostSpread {
  /** 5 % and 95 % of its cost, money without carbon. */
  p05: number;
  p95: number;
  probability_cheapest: number;
}

/** The spread of every option of an outlook. */
export function costSpreads(outlook: Outlook): CostSpread[] {
  const wins = probabilitiesCheapest(outlook);
  return outlook.comparison.options.map((option, o) => ({
    ...rangeOf(itemsOf(option, outlook, outlook.futures)),
    probability_cheapest: wins[o]!,
  }));
}

/** 5 % and 95 %. Leaves the items in another order. */
function rangeOf({ costs, weights }: Items): { p05: number; p95: number } {
  return { p05: weightedQuantile(costs, weights, 0.05), p95: weightedQuantile(costs, weights, 0.95) };
}

/** Chance of each option of being the cheapest offered, carbon counted in: `costSpreads` without the spread. */
export function probabilitiesCheapest({ futures, tags, comparison, known }: Outlook): number[] {
  const { options } = comparison;
  const { nodes } = futures.start;
  const wins = options.map(() => 0);
  const offered = options.flatMap((option, o) =>
    option.offered ? [{ o, costs: comparedCosts(option, futures, tags) }] : [],
  );
  for (let i = 0; i < nodes.count * PLACES; i++) {
    let best = -1;
    let least = Infinity;
    for (const { o, costs } of offered) {
      const cost = costs[i]!;
      if (cost < least * (1 - SAME_COST)) {
        least = cost;
        best = o;
      }
    }
    if (best >= 0) wins[best]! += nodes.weight[Math.floor(i / PLACES)]! * known.belief[i % PLACES]!;
  }
  return wins;
}

/**
 * What an option has cost by the end of each year, at its low and its high end; the last year's are the option's own
 * 5–95 %.
 */
export interface CostBand {
  p05: number[];
  p95: number[];
}

/**
 * 5 % and 95 % of the money spent on an option by the end of each year of the plan, discounted and without carbon. Its
 * decisions are those of the whole plan; only the counting stops early.
 * Throws RangeError when the outlook does not compare `id`.
 */
export function costBandOf(outlook: Outlook, id: OptionId): CostBand {
  const { keep_years } = outlook.question.plan;
  const ranges = Array.from({ length: Math.ceil(keep_years) }, (_, i) =>
    rangeOf(itemsUntil(outlook, id, Math.min(i + 1, keep_years))),
  );
  return { p05: neverFalling(ranges.map(({ p05 }) => p05)), p95: neverFalling(ranges.map(({ p95 }) => p95)) };
}

/**
 * Money spent does not come back, yet of repairs that fail by a year's end the mean may be a little above that of those
 * that fail by the next. Ends where it ended.
 */
function neverFalling(values: readonly number[]): number[] {
  const last = values.at(-1) ?? 0;
  let highest = -Infinity;
  return values.map((value) => {
    highest = Math.max(highest, value);
    return Math.min(last, highest);
  });
}

/** The possible costs of an option, counted until `years`. */
function itemsUntil(outlook: Outlook, id: OptionId, years: number): Items {
  const { question, start, futures, comparison } = outlook;
  const option = comparedOption(comparison, id);
  const shorter = { ...question, plan: { ...question.plan, keep_years: years } };
  const counted = futuresOf(shorter, start, futures.table, { events: futures.events });
  const { fade } = futures.spending.horizon;
  // Living without it costs a bit every day; what else is fixed is paid today.
  const share =
    id === "live-without" ? fadingIntegral(fade, 0, years) / fadingIntegral(fade, 0, question.plan.keep_years) : 1;
  return itemsOf({ ...option, fixed: option.fixed * share }, outlook, counted);
}

/** Short enough that only what is done at the assessment date is counted, in years. */
const TODAY_YEARS = 1e-6;

/** What an option costs on the day itself, on average over leak and location. */
export function paidToday(outlook: Outlook, id: OptionId): number {
  const { costs, weights } = itemsUntil(outlook, id, TODAY_YEARS);
  return (
    weights.reduce((sum, weight, i) => sum + weight * costs[i]!, 0) / weights.reduce((sum, weight) => sum + weight, 0)
  );
}
