import { type Horizon, type MonthTable, monthReaching, partReaching } from "../leak/month-table.ts";
import type { Nodes } from "../leak/nodes.ts";

/** The state at the assessment date that the future starts from, with the log's last fill. */
export interface Start {
  nodes: Nodes;
  /** One decision for all nodes: top up now. */
  top_up_now: boolean;
  /** Season-adjusted time of the log's last fill, at most 0; null without a fill. */
  last_fill_season: number | null;
  /** The spell since that fill counts: the fill left enough. */
  last_fill_counts: boolean;
}

/** Charge below which a node cools weakly, kept within what is plausible. */
function plausibleLow(mean_b: number, nameplate_g: number): number {
  return Math.min(0.9 * nameplate_g, Math.max(0.1 * nameplate_g, mean_b));
}

/** What a node does from today on: top-offs at `t`, of `grams`, after a judged `spell` (∞ where it is not judged). */
export interface Events {
  count: number;
  /** Years ahead, ascending. */
  t: Float64Array;
  /** What goes into the system. */
  grams: Float64Array;
  /** Years of season-adjusted time since the fill before. */
  spell: Float64Array;
}

export function emptyEvents(): Events {
  return { count: 0, t: new Float64Array(64), grams: new Float64Array(64), spell: new Float64Array(64) };
}

function push(events: Events, t: number, grams: number, spell: number): void {
  const n = events.count++;
  if (n === events.t.length) {
    for (const name of ["t", "grams", "spell"] as const) {
      const longer = new Float64Array(2 * n);
      longer.set(events[name]);
      events[name] = longer;
    }
  }
  events.t[n] = t;
  events.grams[n] = grams;
  events.spell[n] = spell;
}

/** A single node's rates and charges. */
export interface NodeState {
  /** Leak rate at the assessment date, grams a year. */
  k: number;
  /** Mean charge, grams. */
  mean_m: number;
  /** Mean charge below which it cools poorly, grams. */
  mean_b: number;
  /** Index of its clock in the table. */
  clock: number;
}

/** Events of all nodes, one after the other: those of node n from `first[n]` to before `first[n + 1]`. */
export interface NodeEvents {
  events: Events;
  first: Int32Array;
}

/**
 * What every node does before `years` ahead. A spell shorter than `shortest`, the least of the switch rules, ends every
 * path, so no more is asked of a node after it.
 */
export function eventsOfNodes(
  start: Start,
  table: MonthTable,
  years: number,
  nameplate_g: number,
  shortest: number,
): NodeEvents {
  const { nodes } = start;
  const events = emptyEvents();
  const first = new Int32Array(nodes.count + 1);
  const node: NodeState = { k: 0, mean_m: 0, mean_b: 0, clock: 0 };
  for (let n = 0; n < nodes.count; n++) {
    nodeState(node, nodes, n);
    appendEvents(events, node, start, table, years, nameplate_g, shortest);
    first[n + 1] = events.count;
  }
  return { events, first };
}

/** Sets `node` to the rates and charges of node `n`. */
export function nodeState(node: NodeState, nodes: Nodes, n: number): void {
  node.k = nodes.k[n]!;
  node.mean_m = nodes.mean_m[n]!;
  node.mean_b = nodes.mean_b[n]!;
  node.clock = nodes.growth_index[n]!;
}

/** Fills `events` with a node's top-off now, if any, and its low charges before the horizon. */
export function eventsOf(
  events: Events,
  node: NodeState,
  start: Start,
  table: MonthTable,
  horizon: Pick<Horizon, "years">,
  nameplate_g: number,
  shortest = 0,
): void {
  events.count = 0;
  appendEvents(events, node, start, table, horizon.years, nameplate_g, shortest);
}

function appendEvents(
  events: Events,
  node: NodeState,
  start: Start,
  table: MonthTable,
  years: number,
  nameplate_g: number,
  shortest: number,
): void {
  const { k, mean_m } = node;
  const low = plausibleLow(node.mean_b, nameplate_g);
  const clock = table.clock[node.clock]!;
  const { season, last } = table;
  let grams = nameplate_g - low;
  let due: number;
  let from_season: number | null;
  if (start.top_up_now) {
    push(events, 0, Math.max(0, nameplate_g - mean_m), Infinity);
    due = (Math.max(mean_m, nameplate_g) - low) / k;
    from_season = 0;
  } else {
    due = Math.max(0, mean_m - low) / k;
    from_season = start.last_fill_counts ? start.last_fill_season : null;
    if (mean_m < low) grams = nameplate_g - mean_m;
  }
  const step = (nameplate_g - low) / k;
  let j = 0;
  for (;;) {
    j = monthReaching(clock, due, j, last);
    if (j >= last) return;
    const part = partReaching(clock, due, j);
    const t = (j + part) / 12;
    if (t >= years) return;
    const at_season = season[j]! + (season[j + 1]! - season[j]!) * part;
    const spell = from_season === null ? Infinity : at_season - from_season;
    push(events, t, grams, spell);
    if (spell < shortest) return;
    from_season = at_season;
    grams = nameplate_g - low;
    due += step;
  }
}
