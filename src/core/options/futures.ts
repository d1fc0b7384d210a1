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
import { type Events, eventsOfNodes, type NodeEvents, type NodeState, nodeState, type Start } from "./node-events.ts";
import { addRepaired, Spending } from "./spending.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/**
 * The years ahead (MODEL §6): when each node runs low, and what topping off with a switch rule, or a repair, tallies up to.
 * Years and grams; a node follows its mean path.
 */

/** The start of the future from the posterior. Means over all nodes decide. */
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

/** Mean charge, grams, that the visit at `entry` left. */
export function fillLeft(posterior: Posterior, entry: number): number {
  const { after_mean_m, weight } = posterior;
  const mean_m = after_mean_m.get(entry);
  if (mean_m === undefined) throw new RangeError(`The visit ${entry} is not a fill`);
  let left = 0;
  for (let n = 0; n < weight.length; n++) left += weight[n]! * mean_m[n]!;
  return left;
}

/** The switch rules compared, in months, ascending: the floor, and the fixed ones longer than it. */
export function switchRuleMonths(floor_months: number): number[] {
  return [floor_months, ...SWITCH_RULES_MONTHS.filter((months) => months > floor_months)];
}

/** Tallies of every node under every switch rule, and their means; and those of a repair now or after a dye test. */
export interface Futures {
  start: Start;
  table: MonthTable;
  spending: Spending;
  /** Years; ascending. */
  rules: readonly number[];
  /** What every node does, to this horizon or beyond it. */
  events: NodeEvents;
  /** Row n·rules + r: node n under rule r. Empty where only means were asked for. */
  top_off: Float64Array;
  /** Row r: mean over nodes under rule r. */
  top_off_mean: Float64Array;
  /** One row: repair today, the same for every node. */
  repair_now: Float64Array;
  /** Row n: top up now if the rule above makes one, and repair after the dye's wait; empty like `top_off`. And their mean. */
  repair_after_dye: Float64Array;
  repair_after_dye_mean: Float64Array;
}

/**
 * Walks every node's years ahead once. `events`, of the same start and rules and as far ahead or further, saves working
 * them out again: they depend on neither prices nor discounting. With `means_only` no node's own tallies are kept.
 */
export function futuresOf(
  question: Question,
  start: Start,
  table: MonthTable,
  { events = null as NodeEvents | null, means_only = false } = {},
): Futures {
  const spending = new Spending(question);
  const rules = switchRuleMonths(question.plan.floor_months).map((months) => months / 12);
  const { nodes } = start;
  const { years, fade: rate } = spending.horizon;
  const known = events ?? eventsOfNodes(start, table, years, question.nameplate_g, rules[0]!);
  const width = rules.length * TALLY_WIDTH;
  const top_off = new Float64Array((means_only ? 1 : nodes.count) * width);
  const top_off_mean = new Float64Array(width);
  const repair_after_dye = new Float64Array((means_only ? 1 : nodes.count) * TALLY_WIDTH);
  const repair_after_dye_mean = new Float64Array(TALLY_WIDTH);
  const node: NodeState = { k: 0, mean_m: 0, mean_b: 0, clock: 0 };
  const dye_wait = Math.min(DYE_WAIT_YEARS, years);
  const after_dye = spending.repairAt(dye_wait, Math.exp(-rate * dye_wait)).slice();
  for (let n = 0; n < nodes.count; n++) {
    nodeState(node, nodes, n);
    const first = known.first[n]!;
    const row = means_only ? 0 : n;
    walkFutures(known.events, first, known.first[n + 1]!, node, table, spending, rules, top_off, row * rules.length);
    addWeighted(top_off_mean, top_off, row * width, nodes.weight[n]!);
    const at = row * TALLY_WIDTH;
    if (means_only) repair_after_dye.fill(0);
    if (start.top_up_now) spending.addTopOff(repair_after_dye, at, 0, 1, known.events.grams[first]!);
    addRepaired(repair_after_dye, at, after_dye);
    repair_after_dye[at + TALLY.release]! += node.k * tableAt(table.surviving[node.clock]!, dye_wait);
    addWeighted(repair_after_dye_mean, repair_after_dye, at, nodes.weight[n]!);
  }
  return {
    start,
    table,
    spending,
    rules,
    events: known,
    top_off: means_only ? NO_ROWS : top_off,
    top_off_mean,
    repair_now: spending.repairAt(0, 1).slice(),
    repair_after_dye: means_only ? NO_ROWS : repair_after_dye,
    repair_after_dye_mean,
  };
}

const NO_ROWS = new Float64Array(0);

const running = new Float64Array(TALLY_WIDTH);

/**
 * Tallies a node's events, from position `first` to before `end`, under every rule into rows `first_row`…; a rule ends in a
 * repair at the first spell under it.
 */
export function walkFutures(
  events: Events,
  first: number,
  end: number,
  node: NodeState,
  table: MonthTable,
  spending: Spending,
  rules: readonly number[],
  into: Float64Array,
  first_row: number,
): void {
  const surviving = table.surviving[node.clock]!;
  const { years, fade: rate } = spending.horizon;
  running.fill(0);
  let active = rules.length;
  for (let e = first; e < end && active > 0; e++) {
    const t = events.t[e]!;
    if (t >= years) break;
    const fade = t === 0 ? 1 : Math.exp(-rate * t);
    if (t > 0) running[TALLY.lows]! += fade;
    const spell = events.spell[e]!;
    if (rules[active - 1]! > spell) {
      const repaired = spending.repairAt(t, fade);
      const leak = node.k * tableAt(surviving, t);
      while (active > 0 && rules[active - 1]! > spell) {
        active--;
        const at = (first_row + active) * TALLY_WIDTH;
        for (let c = 0; c < TALLY_WIDTH; c++) into[at + c] = running[c]!;
        into[at + TALLY.release]! += leak;
        addRepaired(into, at, repaired);
      }
    }
    if (active > 0) spending.addTopOff(running, 0, t, fade, events.grams[e]!);
  }
  const leak = active > 0 ? node.k * tableAt(surviving, years) : 0;
  while (active > 0) {
    active--;
    const at = (first_row + active) * TALLY_WIDTH;
    for (let c = 0; c < TALLY_WIDTH; c++) into[at + c] = running[c]!;
    into[at + TALLY.release]! += leak;
  }
}

/** Adds `weight` times the part of `from` at `at`, as long as `sum`, to `sum`. */
function addWeighted(sum: Float64Array, from: Float64Array, at: number, weight: number): void {
  for (let c = 0; c < sum.length; c++) sum[c]! += weight * from[at + c]!;
}

/** Grams that node `n` loses by `t` when nothing is done: it leaks out what is left, weighted with survival. */
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
