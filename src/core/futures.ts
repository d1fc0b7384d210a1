import {
  DYE_WAIT_YEARS,
  REPAIR_RELEASE_SHARE,
  SEEP_LN_SD,
  SEEP_POINTS,
  SPELL_FILL_SHARE,
  SWITCH_RULES_MONTHS,
  TOP_UP_NOW_RATIO,
} from "../../data/model-constants.ts";
import type { ClockReading } from "./leak-clock.ts";
import type { Nodes } from "./nodes.ts";
import type { Posterior } from "./posterior.ts";
import type { Question } from "./question.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/**
 * The years ahead (MODEL §6): when each node runs low, and what topping off with a switch rule, or a repair, tallies up to.
 * Years and grams; a node follows its mean path.
 */

/** Clock values at t = j/12, j = 0..⌈12H⌉; linear between. */
export interface MonthTable {
  /** Last index; the table may reach past H. */
  last: number;
  /** Season-adjusted time S. */
  season: Float64Array;
  /** Leak clock c by growth index, and the same weighted with survival (R). */
  clock: Float64Array[];
  surviving: Float64Array[];
}

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
    top_up_now: m < TOP_UP_NOW_RATIO * b,
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

/** Discounting and survival over the horizon. */
export interface Horizon {
  years: number;
  /** r + h: discount rate and hazard together. */
  fade: number;
  hazard: number;
  growth: number;
}

/** ∫ from a to b of e^{−rate·t} dt. */
export function fadingIntegral(rate: number, a: number, b: number): number {
  if (Math.abs(rate) < 1e-12) return b - a;
  return (Math.exp(-rate * a) * -Math.expm1(-rate * (b - a))) / rate;
}

/** How a question's top-offs and repairs count on a tally. */
export class Ledger {
  readonly horizon: Horizon;
  readonly nameplate_g: number;
  private readonly diy: boolean;
  private readonly pierced: boolean;
  private readonly heel: number;
  private readonly can_net_g: number;
  /** Top-offs of a sound system, `after` years from its repair, ascending; each a quarter of one. */
  readonly seep_after: Float64Array;
  private readonly seep_fade: Float64Array;
  private readonly seep_grown: Float64Array;
  private readonly seep_survival: Float64Array;
  /** First top-off after a repair, by quarter, years. */
  readonly seep_first: readonly number[];
  private readonly seep_amount: number;
  private readonly seep_heel_g: number;

  constructor(question: Question) {
    const { plan, prices, assumptions, nameplate_g } = question;
    this.horizon = {
      years: plan.keep_years,
      fade: assumptions.discount + plan.hazard,
      hazard: plan.hazard,
      growth: assumptions.refrigerant_growth,
    };
    this.nameplate_g = nameplate_g;
    this.diy = plan.service === "diy";
    this.pierced = prices.can_seal === "pierced";
    this.heel = assumptions.heel;
    this.can_net_g = prices.can_net_g;
    const low_share = 1 - assumptions.low_fraction;
    const after: number[] = [];
    this.seep_first = SEEP_POINTS.map((z) => low_share / (assumptions.seep_fraction * Math.exp(SEEP_LN_SD * z)));
    for (const spell of this.seep_first) {
      for (let t = spell; t < plan.keep_years; t += spell) after.push(t);
    }
    this.seep_after = Float64Array.from(after).sort();
    this.seep_amount = this.refrigerantUnits(low_share * nameplate_g);
    this.seep_heel_g = this.heelRelease(low_share * nameplate_g);
    this.seep_fade = runningSum(this.seep_after, (t) => Math.exp(-this.horizon.fade * t));
    this.seep_grown = runningSum(this.seep_after, (t) => Math.exp((this.horizon.growth - this.horizon.fade) * t));
    this.seep_survival = runningSum(this.seep_after, (t) => Math.exp(-this.horizon.hazard * t));
  }

  /** Cans for `grams` into the system at home, the grams themselves at a shop. */
  refrigerantUnits(grams: number): number {
    if (!this.diy) return grams;
    const cans = grams / (1 - this.heel) / this.can_net_g;
    return this.pierced ? Math.ceil(cans - 1e-9) : cans;
  }

  /** Grams left in hose and cans that get out, for `grams` into the system. */
  heelRelease(grams: number): number {
    return this.diy ? (grams * this.heel) / (1 - this.heel) : 0;
  }

  /** Adds a repair at `t`, and the sound years after it, to a tally. `fade` is D(t). */
  addRepair(tally: Float64Array, at: number, t: number, fade: number): void {
    const { years, fade: rate, hazard, growth } = this.horizon;
    const grown = fade * Math.exp(growth * t);
    const survival = Math.exp(-hazard * t);
    tally[at + TALLY.fix]! += fade;
    tally[at + TALLY.fix_grown]! += grown;
    tally[at + TALLY.relapse]! += fadingIntegral(rate, t, years);
    tally[at + TALLY.release]! += REPAIR_RELEASE_SHARE * this.nameplate_g * survival;
    tally[at + TALLY.sound]! += fadingIntegral(hazard, t, years);
    // Seep after the repair: top-offs at t + after < H, each a quarter.
    let count = 0;
    while (count < this.seep_after.length && t + this.seep_after[count]! < years) count++;
    if (count === 0) return;
    const visits = 0.25 * fade * this.seep_fade[count - 1]!;
    tally[at + TALLY.visits]! += visits;
    tally[at + TALLY.lows]! += visits;
    if (this.diy) tally[at + TALLY.cans]! += visits * this.seep_amount;
    tally[at + TALLY.refrigerant]! += 0.25 * grown * this.seep_grown[count - 1]! * this.seep_amount;
    tally[at + TALLY.release]! += 0.25 * survival * this.seep_survival[count - 1]! * this.seep_heel_g;
    if (tally[at + TALLY.tools] === 0) tally[at + TALLY.tools] = fade * this.seepTools(t);
  }

  /** Tools for a path whose first top-offs come `after` its repair at `t`: share of D at each quarter's first. */
  private seepTools(t: number): number {
    let tools = 0;
    for (const first of this.seep_first) {
      if (t + first < this.horizon.years) tools += 0.25 * Math.exp(-this.horizon.fade * first);
    }
    return tools;
  }

  /** Adds one sound system's top-off at `t`, a quarter of one, to a tally. */
  addSeep(tally: Float64Array, at: number, t: number): void {
    const { fade, hazard, growth } = this.horizon;
    const quarter = 0.25 * Math.exp(-fade * t);
    tally[at + TALLY.visits]! += quarter;
    tally[at + TALLY.lows]! += quarter;
    if (this.diy) tally[at + TALLY.cans]! += quarter * this.seep_amount;
    tally[at + TALLY.refrigerant]! += quarter * Math.exp(growth * t) * this.seep_amount;
    tally[at + TALLY.release]! += 0.25 * Math.exp(-hazard * t) * this.seep_heel_g;
  }

  /** Adds a top-off of `grams` at `t` to a tally; nothing for 0 g. Tools are for the path's first. */
  addTopOff(tally: Float64Array, at: number, t: number, fade: number, grams: number): void {
    if (!(grams > 0)) return;
    const units = this.refrigerantUnits(grams);
    if (tally[at + TALLY.tools] === 0) tally[at + TALLY.tools] = fade;
    tally[at + TALLY.visits]! += fade;
    if (this.diy) tally[at + TALLY.cans]! += fade * units;
    tally[at + TALLY.refrigerant]! += fade * Math.exp(this.horizon.growth * t) * units;
    if (this.diy) tally[at + TALLY.release]! += this.heelRelease(grams) * Math.exp(-this.horizon.hazard * t);
  }
}

function runningSum(points: Float64Array, f: (t: number) => number): Float64Array {
  let sum = 0;
  return points.map((t) => {
    sum += f(t);
    return sum;
  });
}

/** The switch rules compared, in months, ascending: the floor, and the fixed ones longer than it. */
export function switchRuleMonths(floor_months: number): number[] {
  return [floor_months, ...SWITCH_RULES_MONTHS.filter((months) => months > floor_months)];
}

/** Clock tables to the horizon for each growth clock given. */
export function monthTable(
  season: ClockReading,
  clocks: readonly ClockReading[],
  horizon: Pick<Horizon, "years" | "hazard">,
): MonthTable {
  const last = Math.ceil(12 * horizon.years);
  const at = (reading: ClockReading): Float64Array =>
    Float64Array.from({ length: last + 1 }, (_, j) => reading(j / 12));
  const survival = Float64Array.from({ length: last }, (_, j) => Math.exp((-horizon.hazard * (2 * j + 1)) / 24));
  const clock = clocks.map(at);
  const surviving = clock.map((c) => {
    const sum = new Float64Array(last + 1);
    for (let j = 1; j <= last; j++) sum[j] = sum[j - 1]! + (c[j]! - c[j - 1]!) * survival[j - 1]!;
    return sum;
  });
  return { last, season: at(season), clock, surviving };
}

/** A table's value at `t` years, linear between months. */
export function tableAt(table: Float64Array, t: number): number {
  const month = 12 * t;
  const j = Math.min(Math.floor(month), table.length - 2);
  return table[j]! + (table[j + 1]! - table[j]!) * (month - j);
}

/** Charge below which a node cools weakly, kept within what is plausible. */
function plausibleLow(mean_b: number, nameplate_g: number): number {
  return Math.min(0.9 * nameplate_g, Math.max(0.1 * nameplate_g, mean_b));
}

/** What a node does from today on: top-offs at `t`, of `grams`, after a judged `spell` (∞ where it is not judged). */
export interface Events {
  count: number;
  t: Float64Array;
  grams: Float64Array;
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
  k: number;
  mean_m: number;
  mean_b: number;
  /** Index of its clock in the table. */
  clock: number;
}

/** Fills `events` with a node's top-off now, if any, and its low charges before the horizon. */
export function eventsOf(
  events: Events,
  node: NodeState,
  start: Start,
  table: MonthTable,
  horizon: Horizon,
  nameplate_g: number,
): void {
  events.count = 0;
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
    // The first month in which the clock reaches `due`; a month without leaking is passed over.
    while (j < last && clock[j + 1]! < due) j++;
    if (j >= last) return;
    const rise = clock[j + 1]! - clock[j]!;
    const part = rise > 0 ? (due - clock[j]!) / rise : 0;
    const t = (j + part) / 12;
    if (t >= horizon.years) return;
    const at_season = season[j]! + (season[j + 1]! - season[j]!) * part;
    push(events, t, grams, from_season === null ? Infinity : at_season - from_season);
    from_season = at_season;
    grams = nameplate_g - low;
    due += step;
  }
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

/** First time, years, at which a clock table reaches `due`; the table must reach it. */
function clockTime(clock: Float64Array, due: number): number {
  let j = 0;
  while (j < clock.length - 2 && clock[j + 1]! < due) j++;
  const rise = clock[j + 1]! - clock[j]!;
  return (j + (rise > 0 ? (due - clock[j]!) / rise : 0)) / 12;
}
