import type { MonthTable } from "../leak/month-table.ts";
import { type Decay, decayOf } from "./event-decays.ts";
import type { Events, NodeState } from "./node-events.ts";
import { addRows, type Spending } from "./spending.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

const NOTHING_KNOWN: Decay = { count: 0, each: new Float64Array(0), sum: new Float64Array(0) };

/**
 * Walks the years ahead of nodes and tallies topping off under every switch rule, in the periods of `spending`. The
 * path of a rule ends in a repair at the first spell shorter than the rule, so longer rules leave first; what the
 * remaining ones share is counted once.
 */
export class Paths {
  private readonly spending: Spending;
  private readonly table: MonthTable;
  /** Switch rules, years, ascending. */
  private readonly rules: readonly number[];
  /** Values that the tally of a path takes. */
  private readonly path: number;
  /** Path r: what rules 0 to r share while r is the longest rule that has not repaired. */
  private readonly shared: Float64Array;
  /** Path r: what rule r alone counts, its leak until the repair and the repair. */
  private readonly own: Float64Array;
  private events: Events | null = null;
  private faded: Decay = NOTHING_KNOWN;
  private net_faded: Decay = NOTHING_KNOWN;
  private survived: Decay = NOTHING_KNOWN;

  constructor(spending: Spending, table: MonthTable, rules: readonly number[]) {
    this.spending = spending;
    this.table = table;
    this.rules = rules;
    this.path = spending.periods * TALLY_WIDTH;
    this.shared = new Float64Array(rules.length * this.path);
    this.own = new Float64Array(rules.length * this.path);
  }

  /** Adds `weight` times the paths of a node, whose events are at positions `first` to before `end`. */
  walk(events: Events, first: number, end: number, { k, clock }: Pick<NodeState, "k" | "clock">, weight = 1): void {
    const { spending, rules, shared, own, path } = this;
    const { t: when, grams: amounts, spell: spells } = events;
    if (events !== this.events || this.faded.count < events.count) this.takeDecays(events);
    const { faded, net_faded, survived } = this;
    const { years } = spending.horizon;
    const surviving = this.table.surviving[clock]!;
    let active = rules.length;
    if (active === 0) return;
    let has_tools = false;
    let e = first;
    while (e < end) {
      const t = when[e]!;
      if (t >= years) break;
      const row = spending.periodOf(t) * TALLY_WIDTH;
      if (t > 0) shared[(active - 1) * path + row + TALLY.lows]! += weight * faded.each[e]!;
      const spell = spells[e]!;
      if (rules[active - 1]! > spell) {
        const ended = spending.repairAt(t, faded.each[e]!, !has_tools, net_faded.each[e]!, survived.each[e]!);
        spending.addLeak(ended, 0, k, surviving, t);
        while (active > 0 && rules[active - 1]! > spell) addRows(own, --active * path, weight, ended);
        if (active === 0) return;
      }
      const at = (active - 1) * path + row;
      const grams = amounts[e]!;
      const last = this.lastAlike(events, e, end, rules[active - 1]!);
      if (last > e) shared[at + TALLY.lows]! += weight * (faded.sum[last]! - faded.sum[e]!);
      if (grams > 0) {
        if (!has_tools) shared[at + TALLY.tools]! += weight * faded.each[e]!;
        has_tools = true;
        const sums = {
          faded: sumOf(faded, e, last),
          net_faded: sumOf(net_faded, e, last),
          survived: sumOf(survived, e, last),
        };
        spending.addTopOffs(shared, at, weight, grams, sums);
      }
      e = last + 1;
    }
    spending.addLeak(shared, (active - 1) * path, weight * k, surviving, years);
  }

  /** What these events count for, at the rates of the question. */
  private takeDecays(events: Events): void {
    const { horizon, net_fade } = this.spending;
    this.events = events;
    this.faded = decayOf(events, horizon.fade);
    this.net_faded = decayOf(events, net_fade);
    this.survived = decayOf(events, horizon.hazard);
  }

  /** The last of the events after `from`, of the same period and amount, after spells not shorter than `shortest`. */
  private lastAlike({ t: when, grams, spell: spells }: Events, from: number, end: number, shortest: number): number {
    const { spending } = this;
    const until = spending.periodEnd(spending.periodOf(when[from]!));
    const amount = grams[from]!;
    let e = from + 1;
    while (e < end && when[e]! < until && spells[e]! >= shortest && grams[e]! === amount) e++;
    return e - 1;
  }

  /**
   * Writes the tallies of what was walked since `clear` to `into`, from index `at` on, path r for rule r. Call it once.
   */
  tallies(into: Float64Array, at = 0): Float64Array {
    const { shared, own, path } = this;
    const length = own.length;
    for (let i = length - 1; i >= 0; i--) {
      // A rule also has what it shared with longer rules until they left, so sum from the longest down.
      if (i < length - path) shared[i]! += shared[i + path]!;
      into[at + i] = shared[i]! + own[i]!;
    }
    return into;
  }

  /** Starts over at zero. */
  clear(): void {
    this.shared.fill(0);
    this.own.fill(0);
  }
}

/** Sum over the events of one node from `first` to `last`. */
function sumOf({ each, sum }: Decay, first: number, last: number): number {
  return each[first]! + (sum[last]! - sum[first]!);
}
