import type { Horizon, MonthTable } from "../leak/month-table.ts";
import type { Nodes } from "../leak/nodes.ts";
import { type Decay, forgetDecays } from "./event-decays.ts";

/** Where the future starts, at the assessment date. */
export interface Start {
  /** The nodes, with their charge. */
  nodes: Nodes;
  /** Whether topping off begins with a top-up today; the same for all nodes. */
  top_up_now: boolean;
  /** Season-adjusted time of the log's last fill, years, 0 or negative; null without a fill. */
  last_fill_season: number | null;
  /** Whether the spell since that fill is judged by switch rules: only if the fill left enough. */
  last_fill_counts: boolean;
}

/** Charge, grams, below which a node cools weakly, kept between 10 and 90 % of the nameplate charge. */
function plausibleLow(mean_b: number, nameplate_g: number): number {
  return Math.min(0.9 * nameplate_g, Math.max(0.1 * nameplate_g, mean_b));
}

/** Top-offs from today on; the arrays hold a value for each of the first `count` of them and have room for more. */
export interface Events {
  /** How many there are. */
  count: number;
  /** When, years ahead, ascending for a node. */
  t: Float64Array;
  /** What goes into the system, grams. */
  grams: Float64Array;
  /** Season-adjusted time since the fill before, years, by which switch rules judge; ∞ where they do not. */
  spell: Float64Array;
  /** What they count for, by the rate at which that falls, per year; as far as somebody asked. */
  decays: Map<number, Decay>;
}

/** No events, with room for some: `most` of them at first. */
export function emptyEvents(most = 64): Events {
  const room = () => new Float64Array(most);
  return { count: 0, t: room(), grams: room(), spell: room(), decays: new Map() };
}

/** Makes room for events up to the position before `most`. */
function makeRoom(events: Events, most: number): void {
  const room = events.t.length;
  if (most <= room) return;
  for (const name of ["t", "grams", "spell"] as const) {
    const longer = new Float64Array(Math.max(most, 2 * room));
    longer.set(events[name]);
    events[name] = longer;
  }
}

/** One node at the assessment date. */
export interface NodeState {
  /** Leak rate at the assessment date, grams a year. */
  k: number;
  /** Mean charge, grams. */
  mean_m: number;
  /** Mean charge below which it cools poorly, grams. */
  mean_b: number;
  /** Index of its growth's clock in the month table. */
  clock: number;
}

/** The events of all nodes in one list. */
export interface NodeEvents {
  /** How far they go, years. */
  years: number;
  /** Those of node 0, then those of node 1, and so on. */
  events: Events;
  /** Position of the first event of each node, and after the last node the total: node n ends before `first[n + 1]`. */
  first: Int32Array;
}

/** As many as most questions have: making room over and over takes longer than what is left unused. */
const EVENTS_AT_FIRST = 4096;

/**
 * The events of every node before `years` ahead. `shortest`, years, is the shortest switch rule: a spell shorter than
 * it ends the path of every rule in a repair, so a node's events end there.
 */
export function eventsOfNodes(
  start: Start,
  table: MonthTable,
  years: number,
  nameplate_g: number,
  shortest: number,
): NodeEvents {
  const { nodes } = start;
  const events = emptyEvents(EVENTS_AT_FIRST);
  const first = new Int32Array(nodes.count + 1);
  const node: NodeState = { k: 0, mean_m: 0, mean_b: 0, clock: 0 };
  for (let n = 0; n < nodes.count; n++) {
    nodeState(node, nodes, n);
    appendEvents(events, node, start, table, years, nameplate_g, shortest);
    first[n + 1] = events.count;
  }
  return { years, events, first };
}

/** Sets `node`, which is used over and over, to node `n`. */
export function nodeState(node: NodeState, nodes: Nodes, n: number): void {
  node.k = nodes.k[n]!;
  node.mean_m = nodes.mean_m[n]!;
  node.mean_b = nodes.mean_b[n]!;
  node.clock = nodes.growth_index[n]!;
}

/** Fills `events` anew with those of one node before the horizon; `shortest` as in `eventsOfNodes`. */
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
  forgetDecays(events);
  appendEvents(events, node, start, table, horizon.years, nameplate_g, shortest);
}

/** Appends a top-up now where one is due, and a top-off each time the node runs low. */
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
  const after_first = nameplate_g - low;
  const step = after_first / k;
  // A top-up now, the first low charge, and those that fit in between the clock's beginning and its end.
  makeRoom(events, events.count + Math.ceil(clock[last]! / step) + 3);
  const { t: when, grams: amounts, spell: spells } = events;
  let e = events.count;
  let grams = after_first;
  let due: number;
  // Where the spell before does not count: so long ago that it lasted forever.
  let from_season: number;
  if (start.top_up_now) {
    when[e] = 0;
    amounts[e] = Math.max(0, nameplate_g - mean_m);
    spells[e++] = Infinity;
    due = (Math.max(mean_m, nameplate_g) - low) / k;
    from_season = 0;
  } else {
    due = Math.max(0, mean_m - low) / k;
    from_season = (start.last_fill_counts ? start.last_fill_season : null) ?? -Infinity;
    if (mean_m < low) grams = nameplate_g - mean_m;
  }
  for (let j = 0; ; due += step) {
    // As in `clockTime`; a call for each event would take as long as all the rest of it.
    while (j < last && clock[j + 1]! < due) j++;
    if (j >= last) break;
    const rise = clock[j + 1]! - clock[j]!;
    const part = rise > 0 ? (due - clock[j]!) / rise : 0;
    const t = (j + part) / 12;
    if (t >= years) break;
    const at_season = season[j]! + (season[j + 1]! - season[j]!) * part;
    const spell = at_season - from_season;
    when[e] = t;
    amounts[e] = grams;
    spells[e++] = spell;
    if (spell < shortest) break;
    from_season = at_season;
    grams = after_first;
  }
  events.count = e;
}
