import {
  DYE_WAIT_YEARS,
  SPELL_FILL_SHARE,
  SWITCH_RULES_MONTHS,
  TOP_UP_NOW_RATIO,
} from "../../../data/model-constants.ts";
import { clockTime, type MonthTable, tableAt } from "../leak/month-table.ts";
import type { Nodes } from "../leak/nodes.ts";
import type { Posterior } from "../leak/posterior.ts";
import type { Question } from "../question/question.ts";
import type { Start } from "./node-events.ts";
import { addNodePaths, meanPaths } from "./paths.ts";
import { type Schedules, schedulesOf } from "./schedules.ts";
import { addRows, Spending } from "./spending.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/**
 * The years ahead (MODEL §6): when each node runs low, and what topping off under a switch rule, or a repair, comes to.
 * Years and grams; a node follows its mean path.
 */

/** Where the future starts. Whether to top up now is decided once, by the means over all nodes. */
export function startOf(question: Question, posterior: Posterior, nodes: Nodes): Start {
  let m = 0;
  let b = 0;
  for (let n = 0; n < nodes.count; n++) {
    m += nodes.weight[n]! * nodes.mean_m[n]!;
    b += nodes.weight[n]! * nodes.mean_b[n]!;
  }
  const entry = posterior.visits.findLastIndex((visit) => visit.fill !== null);
  return {
    nodes,
    top_up_now: m < TOP_UP_NOW_RATIO * b || posterior.standing !== null,
    last_fill_season: entry < 0 ? null : posterior.clocks.season(posterior.visits[entry]!.t),
    last_fill_counts: entry >= 0 && fillLeft(posterior, entry) >= SPELL_FILL_SHARE * question.nameplate_g,
  };
}

/**
 * Mean charge, grams, after the fill at position `entry` of the log. Throws RangeError for an entry that is no fill.
 */
export function fillLeft(posterior: Posterior, entry: number): number {
  const { after_mean_m, weight } = posterior;
  const mean_m = after_mean_m.get(entry);
  if (mean_m === undefined) throw new RangeError(`The visit ${entry} is not a fill`);
  let left = 0;
  for (let n = 0; n < weight.length; n++) left += weight[n]! * mean_m[n]!;
  return left;
}

/** The switch rules compared, months, ascending: the floor, and those of `SWITCH_RULES_MONTHS` that are longer. */
export function switchRuleMonths(floor_months: number): number[] {
  return [floor_months, ...SWITCH_RULES_MONTHS.filter((months) => months > floor_months)];
}

/**
 * What topping off under every switch rule, and repair, come to: tallies of paths (`tally.ts`). A path takes one row,
 * or one for each year where it was counted by year (`spending.periods`).
 */
export interface Futures {
  /** Where the walk started. */
  start: Start;
  /** The clocks that it followed. */
  table: MonthTable;
  /** How it counted top-offs and repairs. */
  spending: Spending;
  /** Switch rules, years, ascending. */
  rules: readonly number[];
  /** What every node does under them, to this horizon or beyond it. */
  schedules: Schedules;
  /** Topping off, path n·rules + r: node n under rule r. Empty where only means were asked for. */
  top_off: Float64Array;
  /** Topping off, path r: mean over nodes under rule r. */
  top_off_mean: Float64Array;
  /** Repair today: one path, as it is the same for every node. */
  repair_now: Float64Array;
  /**
   * Repair when the dye is looked for, and before it a top-up where one is due now, path n: node n. Empty like
   * `top_off`.
   */
  repair_after_dye: Float64Array;
  /** The same, one path: mean over nodes. */
  repair_after_dye_mean: Float64Array;
}

/** How to walk. */
export interface Walking {
  /** Schedules of the same start and clocks, which reach to this horizon and are cut there. Implies `means_only`. */
  schedules?: Schedules;
  /** Positions of some of their rules, ascending, where not all are asked for. */
  picked?: readonly number[];
  /** Horizons of later walks that will take the same schedules, years; `table` has to go as far. */
  ahead?: readonly number[];
  /** Switch rules in place of those of the plan, years, ascending. */
  rules?: readonly number[];
  /** Leaves out the tallies of single nodes. */
  means_only?: boolean;
  /** Nobody walks by the schedules of these futures again once others have been walked. */
  passing?: boolean;
  /** Counts by year: a row for each year ahead. Only with `schedules`. */
  by_year?: boolean;
}

/** Walks the years ahead of every node, once. */
export function futuresOf(question: Question, start: Start, table: MonthTable, walking: Walking = {}): Futures {
  const spending = new Spending(question, walking.by_year);
  const means_only = walking.means_only === true || walking.schedules !== undefined;
  const walked =
    walking.schedules === undefined
      ? walk(question, start, table, walking, spending)
      : { schedules: walking.schedules, top_off: NO_ROWS };
  const { rules } = walked.schedules;
  const picked = walking.picked ?? rules.map((_, rule) => rule);
  return {
    start,
    table,
    spending,
    rules: picked.map((rule) => rules[rule]!),
    ...walked,
    // The mean of what is there, to the last digit, where single nodes are compared with it.
    top_off_mean: means_only
      ? meanPaths(walked.schedules, spending, table, picked)
      : meanOf(walked.top_off, rules.length * TALLY_WIDTH, start.nodes.weight),
    repair_now: spending.repairAt(0).slice(),
    ...repairAfterDye(start, table, spending, means_only),
  };
}

/** The weighted mean of `rows`, of which each node has `width` values. */
function meanOf(rows: Float64Array, width: number, weights: Float64Array): Float64Array {
  const mean = new Float64Array(width);
  for (let n = 0; n < weights.length; n++) addRows(mean, 0, weights[n]!, rows, n * width, width);
  return mean;
}

/** Follows every node, and tallies the paths of each unless only means are asked for. */
function walk(
  question: Question,
  start: Start,
  table: MonthTable,
  walking: Walking,
  spending: Spending,
): Pick<Futures, "schedules" | "top_off"> {
  const rules = walking.rules ?? switchRuleMonths(question.plan.floor_months).map((months) => months / 12);
  const width = rules.length * TALLY_WIDTH;
  const top_off = walking.means_only === true ? NO_ROWS : new Float64Array(start.nodes.count * width);
  const schedules = schedulesOf(start, table, question.nameplate_g, {
    rules,
    ends: [spending.horizon.years, ...(walking.ahead ?? [])],
    cansOf: spending.cansOf,
    passing: walking.passing === true,
    each: (n, schedule, node) => {
      if (top_off.length > 0) addNodePaths(top_off, n * width, schedule, node, rules.length, spending, table);
    },
  });
  return { schedules, top_off };
}

const NO_ROWS = new Float64Array(0);

/** A top-up now where one is due, the leak until the dye is looked for, and the repair then. */
function repairAfterDye(
  { nodes, top_up_now }: Start,
  table: MonthTable,
  spending: Spending,
  means_only: boolean,
): Pick<Futures, "repair_after_dye" | "repair_after_dye_mean"> {
  const wait = Math.min(DYE_WAIT_YEARS, spending.horizon.years);
  const path = spending.periods * TALLY_WIDTH;
  const without_tools = spending.repairAt(wait, false).slice();
  const with_tools = spending.repairAt(wait).slice();
  const repair_after_dye = means_only ? NO_ROWS : new Float64Array(nodes.count * path);
  const repair_after_dye_mean = new Float64Array(path);
  if (means_only) {
    // What depends on the node only by a factor is added up first.
    const leak_g = new Float64Array(table.surviving.length);
    let topped_off = 0;
    for (let n = 0; n < nodes.count; n++) {
      const weight = nodes.weight[n]!;
      const grams = top_up_now ? Math.max(0, spending.nameplate_g - nodes.mean_m[n]!) : 0;
      leak_g[nodes.growth_index[n]!]! += weight * nodes.k[n]!;
      if (!(grams > 0)) continue;
      topped_off += weight;
      spending.addTopOffToday(repair_after_dye_mean, 0, weight, grams);
    }
    repair_after_dye_mean[TALLY.tools]! += topped_off;
    for (const [j, surviving] of table.surviving.entries()) {
      spending.addLeak(repair_after_dye_mean, 0, leak_g[j]!, surviving, wait);
    }
    addRows(repair_after_dye_mean, 0, topped_off, without_tools);
    addRows(repair_after_dye_mean, 0, 1 - topped_off, with_tools);
    return { repair_after_dye, repair_after_dye_mean };
  }
  for (let n = 0; n < nodes.count; n++) {
    const at = n * path;
    const grams = top_up_now ? Math.max(0, spending.nameplate_g - nodes.mean_m[n]!) : 0;
    if (grams > 0) {
      repair_after_dye[at + TALLY.tools]! += 1;
      spending.addTopOffToday(repair_after_dye, at, 1, grams);
    }
    spending.addLeak(repair_after_dye, at, nodes.k[n]!, table.surviving[nodes.growth_index[n]!]!, wait);
    addRows(repair_after_dye, at, 1, grams > 0 ? without_tools : with_tools);
    addRows(repair_after_dye_mean, 0, nodes.weight[n]!, repair_after_dye, at, path);
  }
  return { repair_after_dye, repair_after_dye_mean };
}

const KNOWN_RELEASES = new WeakMap<Futures, number>();

/** Grams that leak to the horizon when nothing is done, mean over nodes; no price changes it, so it is kept. */
export function meanEventFreeRelease(futures: Futures): number {
  let mean = KNOWN_RELEASES.get(futures);
  if (mean === undefined) {
    const { nodes } = futures.start;
    mean = 0;
    for (let n = 0; n < nodes.count; n++) {
      mean += nodes.weight[n]! * eventFreeRelease(futures, n, futures.spending.horizon.years);
    }
    KNOWN_RELEASES.set(futures, mean);
  }
  return mean;
}

/**
 * Grams that leak from node `n` until `t`, years, when nothing is done, weighted with survival; at most what is there.
 */
export function eventFreeRelease(futures: Futures, n: number, t: number): number {
  const { nodes } = futures.start;
  const { table } = futures;
  const k = nodes.k[n]!;
  const j = nodes.growth_index[n]!;
  const empty_clock = nodes.mean_m[n]! / k;
  const clock = table.clock[j]!;
  const surviving = table.surviving[j]!;
  const until = tableAt(clock, t) <= empty_clock ? t : clockTime(clock, empty_clock);
  return k * tableAt(surviving, until);
}
