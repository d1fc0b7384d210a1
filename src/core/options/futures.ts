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
import { eventsOfNodes, type NodeEvents, type NodeState, nodeState, type Start } from "./node-events.ts";
import { Paths } from "./paths.ts";
import { addRows, type FadedSums, Spending } from "./spending.ts";
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
  /** Events of every node, to this horizon or beyond it. */
  events: NodeEvents;
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
  /** Events of the same start and rules, to this horizon or beyond it; prices and discounting do not change them. */
  events?: NodeEvents;
  /** Lets events go on until then, years, for later walks with a longer horizon; `table` has to go as far. */
  ahead?: number;
  /**
   * Lets events go on after a spell short enough to end the path of every rule, for a later walk that never repairs.
   */
  endless?: boolean;
  /** Switch rules in place of those of the plan, years, ascending. */
  rules?: readonly number[];
  /** Leaves out the tallies of single nodes. */
  means_only?: boolean;
  /** Counts by year: a row for each year ahead. Implies `means_only`. */
  by_year?: boolean;
}

/** Walks the years ahead of every node, once. */
export function futuresOf(question: Question, start: Start, table: MonthTable, walking: Walking = {}): Futures {
  const { by_year = false, means_only = by_year } = walking;
  const spending = new Spending(question, by_year);
  const rules = walking.rules ?? switchRuleMonths(question.plan.floor_months).map((months) => months / 12);
  const { nodes } = start;
  const shortest = walking.endless === true ? 0 : rules[0]!;
  const years = Math.max(spending.horizon.years, walking.ahead ?? 0);
  const events = walking.events ?? eventsOfNodes(start, table, years, question.nameplate_g, shortest);
  const paths = new Paths(spending, table, rules);
  const path = spending.periods * TALLY_WIDTH;
  const top_off = means_only ? NO_ROWS : new Float64Array(nodes.count * rules.length * path);
  const top_off_mean = new Float64Array(rules.length * path);
  const node: NodeState = { k: 0, mean_m: 0, mean_b: 0, clock: 0 };
  for (let n = 0; n < nodes.count; n++) {
    nodeState(node, nodes, n);
    const weight = nodes.weight[n]!;
    paths.walk(events.events, events.first[n]!, events.first[n + 1]!, node, means_only ? weight : 1);
    if (means_only) continue;
    paths.tallies(top_off, n * top_off_mean.length);
    addWeighted(top_off_mean, top_off, n * top_off_mean.length, weight);
    paths.clear();
  }
  if (means_only) paths.tallies(top_off_mean);
  return {
    start,
    table,
    spending,
    rules,
    events,
    top_off,
    top_off_mean,
    repair_now: spending.repairAt(0, 1).slice(),
    ...repairAfterDye(start, table, spending, events, means_only),
  };
}

const NO_ROWS = new Float64Array(0);

/** What a single event counts for today. */
const TODAY: FadedSums = { faded: 1, net_faded: 1, survived: 1 };

/** A top-up now where one is due, the leak until the dye is looked for, and the repair then. */
function repairAfterDye(
  { nodes, top_up_now }: Start,
  table: MonthTable,
  spending: Spending,
  { events, first }: NodeEvents,
  means_only: boolean,
): Pick<Futures, "repair_after_dye" | "repair_after_dye_mean"> {
  const wait = Math.min(DYE_WAIT_YEARS, spending.horizon.years);
  const path = spending.periods * TALLY_WIDTH;
  const without_tools = spending.repairAt(wait, spending.fadeAt(wait), false).slice();
  const with_tools = spending.repairAt(wait, spending.fadeAt(wait)).slice();
  const repair_after_dye = means_only ? NO_ROWS : new Float64Array(nodes.count * path);
  const repair_after_dye_mean = new Float64Array(path);
  if (means_only) {
    // What depends on the node only by a factor is added up first.
    const leak_g = new Float64Array(table.surviving.length);
    let topped_off = 0;
    for (let n = 0; n < nodes.count; n++) {
      const weight = nodes.weight[n]!;
      const grams = top_up_now ? events.grams[first[n]!]! : 0;
      leak_g[nodes.growth_index[n]!]! += weight * nodes.k[n]!;
      if (!(grams > 0)) continue;
      topped_off += weight;
      spending.addTopOffs(repair_after_dye_mean, 0, weight, grams, TODAY);
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
    const grams = top_up_now ? events.grams[first[n]!]! : 0;
    if (grams > 0) {
      repair_after_dye[at + TALLY.tools]! += 1;
      spending.addTopOffs(repair_after_dye, at, 1, grams, TODAY);
    }
    spending.addLeak(repair_after_dye, at, nodes.k[n]!, table.surviving[nodes.growth_index[n]!]!, wait);
    addRows(repair_after_dye, at, 1, grams > 0 ? without_tools : with_tools);
    addWeighted(repair_after_dye_mean, repair_after_dye, at, nodes.weight[n]!);
  }
  return { repair_after_dye, repair_after_dye_mean };
}

/** Adds to `sum` `weight` times as many values of `from`, taken from index `at` on. */
function addWeighted(sum: Float64Array, from: Float64Array, at: number, weight: number): void {
  for (let c = 0; c < sum.length; c++) sum[c]! += weight * from[at + c]!;
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
