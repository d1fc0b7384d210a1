import type { Horizon, MonthTable } from "../leak/month-table.ts";
import type { Nodes } from "../leak/nodes.ts";

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

/**
 * Top-offs of a node from today on, in groups: several within a month of the table come at even intervals. The arrays
 * hold a value for each of the first `count` groups and have room for more.
 */
export interface Events {
  /** How many groups there are. */
  count: number;
  /** When the first of a group is due, years ahead, ascending. */
  t: Float64Array;
  /** How many top-offs are in a group, 1 or more. */
  times: Float64Array;
  /** Years from each top-off of a group to the next; 0 where it has one. */
  gap: Float64Array;
  /** Season-adjusted time of that, years: the spell of all but the first; ∞ where there is one. */
  gap_spell: Float64Array;
  /** What goes into the system, grams. */
  grams: Float64Array;
  /** Season-adjusted time from the fill before to the first, years, by which rules judge; ∞ where they do not. */
  spell: Float64Array;
}

/** No events, with room for some: `most` of them at first. */
export function emptyEvents(most = 64): Events {
  const room = () => new Float64Array(most);
  return { count: 0, t: room(), times: room(), gap: room(), gap_spell: room(), grams: room(), spell: room() };
}

/** Makes room for `most` groups, in place of those that were there. */
function makeRoom(events: Events, most: number): void {
  const room = events.t.length;
  if (most <= room) return;
  for (const name of ["t", "times", "gap", "gap_spell", "grams", "spell"] as const) {
    events[name] = new Float64Array(Math.max(most, 2 * room));
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

/**
 * Fills `events` anew with those of one node before the horizon: a top-up now where one is due, and a top-off each time
 * it runs low. They end after a spell shorter than `shortest`, years.
 */
export function eventsOf(
  events: Events,
  node: NodeState,
  start: Pick<Start, "top_up_now" | "last_fill_season" | "last_fill_counts">,
  table: MonthTable,
  { years }: Pick<Horizon, "years">,
  nameplate_g: number,
  shortest = 0,
): void {
  const { k, mean_m } = node;
  const low = plausibleLow(node.mean_b, nameplate_g);
  const clock = table.clock[node.clock]!;
  const { season, last } = table;
  const after_first = nameplate_g - low;
  const step = after_first / k;
  // A top-up now, the first low charge, and those that fit in between the clock's beginning and its end: a group a
  // month, or one more where a month has others after the first.
  makeRoom(events, Math.ceil(Math.min(last, clock[last]! / step)) + 4);
  const { t: when, times, gap, gap_spell, grams: amounts, spell: spells } = events;
  let e = 0;
  let grams = after_first;
  let due: number;
  // Where the spell before does not count: so long ago that it lasted forever.
  let from_season: number;
  if (start.top_up_now) {
    when[e] = 0;
    times[e] = 1;
    gap[e] = 0;
    gap_spell[e] = Infinity;
    amounts[e] = Math.max(0, nameplate_g - mean_m);
    spells[e++] = Infinity;
    due = (Math.max(mean_m, nameplate_g) - low) / k;
    from_season = 0;
  } else {
    due = Math.max(0, mean_m - low) / k;
    from_season = (start.last_fill_counts ? start.last_fill_season : null) ?? -Infinity;
    if (mean_m < low) grams = nameplate_g - mean_m;
  }
  for (let j = 0; due <= clock[last]!; ) {
    // As in `clockTime`, by years first; a call for each event would take as long as all the rest of it.
    while (j + 12 < last && clock[j + 12]! < due) j += 12;
    while (clock[j + 1]! < due) j++;
    const rise = clock[j + 1]! - clock[j]!;
    const part = rise > 0 ? (due - clock[j]!) / rise : 0;
    const t = (j + part) / 12;
    if (t >= years) break;
    const season_rise = season[j + 1]! - season[j]!;
    const at_season = season[j]! + season_rise * part;
    const spell = at_season - from_season;
    when[e] = t;
    amounts[e] = grams;
    spells[e] = spell;
    const inner = (season_rise * step) / rise;
    const alike = due + step <= clock[j + 1]! && grams === after_first && spell >= shortest && inner >= shortest;
    const more = alike ? Math.floor((clock[j + 1]! - due) / step) : 0;
    times[e] = 1 + more;
    gap[e] = more > 0 ? step / (12 * rise) : 0;
    gap_spell[e++] = more > 0 ? inner : Infinity;
    if (spell < shortest) break;
    from_season = at_season + more * inner;
    due += step + more * step;
    grams = after_first;
  }
  events.count = e;
}
