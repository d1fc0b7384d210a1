import type { MonthTable } from "../leak/month-table.ts";
import type { Events, NodeState } from "./node-events.ts";
import { addRows, decayed, type Spending } from "./spending.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

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
    const { years } = spending.horizon;
    const surviving = this.table.surviving[clock]!;
    let active = rules.length;
    if (active === 0) return;
    let has_tools = false;
    let e = first;
    while (e < end) {
      const t = when[e]!;
      if (t >= years) break;
      const fade = spending.fadeAt(t);
      const row = spending.periodOf(t) * TALLY_WIDTH;
      if (t > 0) shared[(active - 1) * path + row + TALLY.lows]! += weight * fade;
      const spell = spells[e]!;
      if (rules[active - 1]! > spell) {
        const ended = spending.repairAt(t, fade, !has_tools);
        spending.addLeak(ended, 0, k, surviving, t);
        while (active > 0 && rules[active - 1]! > spell) addRows(own, --active * path, weight, ended);
        if (active === 0) return;
      }
      const at = (active - 1) * path;
      const grams = amounts[e]!;
      spending.addTopOff(shared, at, weight, t, fade, grams, !has_tools);
      has_tools ||= grams > 0;
      e++;
      if (e < end && amounts[e]! === grams) e = this.walkAlike(events, e, end, at + row, weight, rules[active - 1]!);
    }
    spending.addLeak(shared, (active - 1) * path, weight * k, surviving, years);
  }

  /**
   * Adds `weight` times the low charges from event `from` on, each with a top-off as large as the one before, to the
   * row that begins at `row`: those of the same period, after spells not shorter than `shortest`. Gives the position of
   * the first event that was not added.
   */
  private walkAlike(
    { t: when, grams: amounts, spell: spells }: Events,
    from: number,
    end: number,
    row: number,
    weight: number,
    shortest: number,
  ): number {
    const { spending } = this;
    const { fade, hazard } = spending.horizon;
    const { net_fade, diy } = spending;
    const grams = amounts[from]!;
    const until = spending.periodEnd(spending.periodOf(when[from - 1]!));
    let faded = 0;
    let net_faded = 0;
    let survived = 0;
    let e = from;
    for (; e < end; e++) {
      const t = when[e]!;
      if (t >= until || spells[e]! < shortest || amounts[e]! !== grams) break;
      faded += decayed(fade, t);
      net_faded += decayed(net_fade, t);
      if (diy) survived += decayed(hazard, t);
    }
    if (e > from) spending.addTopOffs(this.shared, row, weight, grams, { faded, net_faded, survived });
    return e;
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
