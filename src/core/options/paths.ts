import type { MonthTable } from "../leak/month-table.ts";
import type { Events, NodeState } from "./node-events.ts";
import type { Spending } from "./spending.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/**
 * Walks the years ahead of nodes and collects what topping off comes to under every switch rule, in the periods of
 * `spending`. A rule ends in a repair at the first spell shorter than it, so the longer a rule, the sooner its path
 * leaves that of the others: what they still share is counted once.
 */
export class Paths {
  private readonly spending: Spending;
  private readonly table: MonthTable;
  /** Years; ascending. */
  private readonly rules: readonly number[];
  /** Length of a path's rows. */
  private readonly path: number;
  /** Path r: what rules 0 to r share while r is the longest that has not repaired. */
  private readonly shared: Float64Array;
  /** Path r: what rule r has to itself: what leaks to its end, and its repair. */
  private readonly own: Float64Array;

  constructor(spending: Spending, table: MonthTable, rules: readonly number[]) {
    this.spending = spending;
    this.table = table;
    this.rules = rules;
    this.path = spending.periods * TALLY_WIDTH;
    this.shared = new Float64Array(rules.length * this.path);
    this.own = new Float64Array(rules.length * this.path);
  }

  /** Counts `weight` times the path of `node`, whose events are those from position `first` to before `end`. */
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

  /** Writes what was walked since `clear` to `into` from `at` on: path r is that of rule r. */
  tallies(into: Float64Array, at = 0): Float64Array {
    const { shared, own, path } = this;
    const length = own.length;
    for (let i = length - 1; i >= 0; i--) {
      // Longer rules leave the shared path first, so what is shared adds up from the longest down.
      if (i < length - path) shared[i]! += shared[i + path]!;
      into[at + i] = shared[i]! + own[i]!;
    }
    return into;
  }

  clear(): void {
    this.shared.fill(0);
    this.own.fill(0);
  }
}
