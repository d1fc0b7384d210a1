import type { MonthTable } from "../leak/month-table.ts";
import type { Events, NodeState } from "./node-events.ts";
import type { Spending } from "./spending.ts";
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
    const { years } = spending.horizon;
    const surviving = this.table.surviving[clock]!;
    let active = rules.length;
    let has_tools = false;
    for (let e = first; e < end && active > 0; e++) {
      const t = events.t[e]!;
      if (t >= years) break;
      const fade = spending.fadeAt(t);
      if (t > 0) shared[(active - 1) * path + spending.periodOf(t) * TALLY_WIDTH + TALLY.lows]! += weight * fade;
      const spell = events.spell[e]!;
      if (rules[active - 1]! > spell) {
        const repaired = spending.repairAt(t, fade);
        while (active > 0 && rules[active - 1]! > spell) {
          active--;
          spending.addLeak(own, active * path, weight * k, surviving, t);
          spending.addRepaired(own, active * path, weight, repaired, t, !has_tools);
        }
      }
      if (active === 0) return;
      const grams = events.grams[e]!;
      spending.addTopOff(shared, (active - 1) * path, weight, t, fade, grams, !has_tools);
      has_tools ||= grams > 0;
    }
    if (active > 0) spending.addLeak(shared, (active - 1) * path, weight * k, surviving, years);
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
