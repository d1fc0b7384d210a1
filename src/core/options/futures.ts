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
import { type Events, emptyEvents, eventsOf, type NodeState, type Start } from "./node-events.ts";
import { Ledger } from "./spending.ts";
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
  ledger: Ledger;
  /** Years; ascending. */
  rules: readonly number[];
  /** Row n·rules + r: node n under rule r. */
  top_off: Float64Array;
  /** Row r: mean over nodes under rule r. */
  top_off_mean: Float64Array;
  /** One row: repair today, the same for every node. */
  repair_now: Float64Array;
  /** Row n: top up now if the rule above makes one, and repair after the dye's wait. And their mean. */
  repair_after_dye: Float64Array;
  repair_after_dye_mean: Float64Array;
}

/** Walks every node's years ahead once. */
export function futuresOf(question: Question, start: Start, table: MonthTable): Futures {
  const ledger = new Ledger(question);
  const rules = switchRuleMonths(question.plan.floor_months).map((months) => months / 12);
  const { nodes } = start;
  const top_off = new Float64Array(nodes.count * rules.length * TALLY_WIDTH);
  const repair_after_dye = new Float64Array(nodes.count * TALLY_WIDTH);
  const events = emptyEvents();
  const node: NodeState = { k: 0, mean_m: 0, mean_b: 0, clock: 0 };
  const dye_wait = Math.min(DYE_WAIT_YEARS, question.plan.keep_years);
  const dye_fade = Math.exp(-ledger.horizon.fade * dye_wait);
  for (let n = 0; n < nodes.count; n++) {
    node.k = nodes.k[n]!;
    node.mean_m = nodes.mean_m[n]!;
    node.mean_b = nodes.mean_b[n]!;
    node.clock = nodes.growth_index[n]!;
    eventsOf(events, node, start, table, ledger.horizon, question.nameplate_g);
    walk(events, node, table, ledger, rules, top_off, n * rules.length);
    const at = n * TALLY_WIDTH;
    if (start.top_up_now) ledger.addTopOff(repair_after_dye, at, 0, 1, events.grams[0]!);
    ledger.addRepair(repair_after_dye, at, dye_wait, dye_fade);
    repair_after_dye[at + TALLY.release]! += node.k * tableAt(table.surviving[node.clock]!, dye_wait);
  }
  const repair_now = new Float64Array(TALLY_WIDTH);
  ledger.addRepair(repair_now, 0, 0, 1);
  return {
    start,
    table,
    ledger,
    rules,
    top_off,
    top_off_mean: meanRows(top_off, nodes.weight, rules.length),
    repair_now,
    repair_after_dye,
    repair_after_dye_mean: meanRows(repair_after_dye, nodes.weight, 1),
  };
}

const running = new Float64Array(TALLY_WIDTH);

/** Tallies a node's events under every rule into rows `first_row`…; a rule ends in a repair at the first spell under it. */
export function walk(
  events: Events,
  node: NodeState,
  table: MonthTable,
  ledger: Ledger,
  rules: readonly number[],
  into: Float64Array,
  first_row: number,
): void {
  const surviving = table.surviving[node.clock]!;
  const { years, fade: rate } = ledger.horizon;
  running.fill(0);
  let active = rules.length;
  for (let e = 0; e < events.count && active > 0; e++) {
    const t = events.t[e]!;
    const fade = t === 0 ? 1 : Math.exp(-rate * t);
    if (t > 0) running[TALLY.lows]! += fade;
    const spell = events.spell[e]!;
    while (active > 0 && rules[active - 1]! > spell) {
      active--;
      const at = (first_row + active) * TALLY_WIDTH;
      into.set(running, at);
      into[at + TALLY.release]! += node.k * tableAt(surviving, t);
      ledger.addRepair(into, at, t, fade);
    }
    ledger.addTopOff(running, 0, t, fade, events.grams[e]!);
  }
  const leak = active > 0 ? node.k * tableAt(surviving, years) : 0;
  while (active > 0) {
    active--;
    const at = (first_row + active) * TALLY_WIDTH;
    into.set(running, at);
    into[at + TALLY.release]! += leak;
  }
}

/** Weighted mean over nodes of `per_node` rows each. */
function meanRows(tallies: Float64Array, weight: Float64Array, per_node: number): Float64Array {
  const width = per_node * TALLY_WIDTH;
  const mean = new Float64Array(width);
  for (let n = 0; n < weight.length; n++) {
    const w = weight[n]!;
    const at = n * width;
    for (let c = 0; c < width; c++) mean[c]! += w * tallies[at + c]!;
  }
  return mean;
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
