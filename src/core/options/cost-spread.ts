import { weightedQuantile } from "../maths/weighted-quantile.ts";
import { LOCATION_IDS } from "../question/contract.ts";
import { type Branch, nodeRows, type Option } from "./compare.ts";
import { eventFreeRelease, type Futures } from "./futures.ts";
import type { Outlook } from "./outlook.ts";
import { type PriceTags, repairTimes, runningCost, servicePartCost, tallyRelease } from "./tally.ts";

/** How an option's cost spreads over what is not known: leak (nodes) × place. Index n·6 + l. */

const PLACES = LOCATION_IDS.length;
/** Costs this close, as a share, are a tie: a free test that changes nothing costs what comes after it, up to rounding. */
const SAME_COST = 1e-9;

/** Branches of one course and rule, summed: what each true place makes of them. */
interface Course {
  branch: Branch;
  /** By place: chance of the course, and fee for locating, expected. */
  chance: number[];
  locate: number[];
}

function coursesOf(option: Option): Course[] {
  const courses = new Map<string, Course>();
  for (const branch of option.branches) {
    const key = `${branch.course} ${branch.rule}`;
    const course = courses.get(key) ?? {
      branch,
      chance: new Array<number>(PLACES).fill(0),
      locate: new Array<number>(PLACES).fill(0),
    };
    for (let l = 0; l < PLACES; l++) {
      course.chance[l]! += branch.chance_given[l]!;
      course.locate[l]! += branch.chance_given[l]! * branch.locate;
    }
    courses.set(key, course);
  }
  return [...courses.values()];
}

/** Cost of an option at each node and place, the mean over a test's outcomes; with `carbon`, its price added. */
export function costsByNodeAndPlace(option: Option, futures: Futures, tags: PriceTags, carbon: boolean): Float64Array {
  const { nodes } = futures.start;
  const costs = new Float64Array(nodes.count * PLACES).fill(option.fixed);
  const per_gram = carbon ? tags.release : 0;
  for (const { branch, chance, locate } of coursesOf(option)) {
    const { tallies, first, stride } = nodeRows(futures, branch);
    for (let n = 0; n < nodes.count; n++) {
      const row = first + n * stride;
      const running = runningCost(tallies, row, tags) + per_gram * tallyRelease(tallies, row, tags);
      const service = servicePartCost(tallies, row, tags);
      const times = repairTimes(tallies, row, tags);
      for (let l = 0; l < PLACES; l++) {
        costs[n * PLACES + l]! +=
          chance[l]! * (running + tags.service_part[l]! * service + tags.repair_price[l]! * times) + locate[l]! * times;
      }
    }
  }
  if (option.id === "live-without" && per_gram > 0) {
    for (let n = 0; n < nodes.count; n++) {
      const harm = per_gram * eventFreeRelease(futures, n, futures.ledger.horizon.years);
      for (let l = 0; l < PLACES; l++) costs[n * PLACES + l]! += harm;
    }
  }
  return costs;
}

/** Spread of each option and its chance of being the cheapest offered, in the order of the options. */
export interface CostSpread {
  p05: number;
  p95: number;
  probability_cheapest: number;
}

export function costSpreads(outlook: Outlook): CostSpread[] {
  const { futures, tags, comparison } = outlook;
  const { options } = comparison;
  const weights = weightsByNodeAndPlace(outlook);
  const plain = options.map((option) => costsByNodeAndPlace(option, futures, tags, false));
  const compared = tags.release > 0 ? options.map((option) => costsByNodeAndPlace(option, futures, tags, true)) : plain;
  const wins = chancesCheapest(options, compared, weights);
  return options.map((_, o) => ({
    p05: weightedQuantile(plain[o]!.slice(), weights.slice(), 0.05),
    p95: weightedQuantile(plain[o]!.slice(), weights.slice(), 0.95),
    probability_cheapest: wins[o]!,
  }));
}

/** Chance of each option of being the cheapest offered, carbon counted in: `costSpreads` without the spread. */
export function probabilitiesCheapest(outlook: Outlook): number[] {
  const { futures, tags, comparison } = outlook;
  const { options } = comparison;
  const compared = options.map((option) => costsByNodeAndPlace(option, futures, tags, tags.release > 0));
  return chancesCheapest(options, compared, weightsByNodeAndPlace(outlook));
}

function weightsByNodeAndPlace({ futures, known }: Outlook): Float64Array {
  const { nodes } = futures.start;
  const weights = new Float64Array(nodes.count * PLACES);
  for (let n = 0; n < nodes.count; n++) {
    for (let l = 0; l < PLACES; l++) weights[n * PLACES + l] = nodes.weight[n]! * known.belief[l]!;
  }
  return weights;
}

function chancesCheapest(
  options: readonly Option[],
  compared: readonly Float64Array[],
  weights: Float64Array,
): number[] {
  const wins = options.map(() => 0);
  const offered = options.flatMap((option, o) => (option.offered ? [o] : []));
  for (let i = 0; i < weights.length; i++) {
    let best = -1;
    let least = Infinity;
    for (const o of offered) {
      const cost = compared[o]![i]!;
      if (cost < least * (1 - SAME_COST)) {
        least = cost;
        best = o;
      }
    }
    if (best >= 0) wins[best]! += weights[i]!;
  }
  return wins;
}
