import type { Events } from "./node-events.ts";
import type { Spans } from "./spans.ts";

/**
 * When one node is topped off and repaired under every switch rule, whatever that costs: no price, rate or seep changes
 * it. The path of a rule ends in a repair at the first spell shorter than the rule, so longer rules leave first, and
 * those that still top off are always the shortest ones. It is used over and over.
 */
export class Schedule {
  /** Number of groups of top-offs: of one amount, at even intervals within one span, under the same rules. */
  count = 0;
  /** Mean time of each group, years ahead, ascending. */
  t = new Float64Array(64);
  /** How many top-offs a group has; the first group has one. */
  times = new Float64Array(64);
  /** Sum of the squares of their distances from the mean time, years². */
  squares = new Float64Array(64);
  /** Sum of the fourth powers of the same, years⁴. */
  fourths = new Float64Array(64);
  /** What goes into the system at each, grams, above 0. */
  grams = new Float64Array(64);
  /** Index of the longest rule under which they are topped off. */
  rule = new Int32Array(64);
  /** Index of their span. */
  span = new Int32Array(64);
  /** Number of repairs: at one time each, under some rules. */
  repairs = 0;
  /** When, years ahead, ascending. */
  repair_t = new Float64Array(16);
  /** Index of the shortest rule that repairs then. */
  repair_from = new Int32Array(16);
  /** Index after the longest rule that repairs then. */
  repair_to = new Int32Array(16);

  /** Follows a node through its events under `rules`, years, ascending, as far as the spans go. */
  follow(events: Events, rules: readonly number[], spans: Spans): void {
    const { count, t: when, times: many, gap, gap_spell, grams: amounts, spell: spells } = events;
    // A group is split at most once for each rule and each edge within it, and after the first top-off.
    this.#makeRoom(2 * count + rules.length + 1, rules.length);
    const { t: into_t, times, squares, fourths, grams, rule, span } = this;
    const { edges } = spans;
    this.repairs = 0;
    let i = 0;
    let active = rules.length;
    for (let e = 0; e < count && active > 0; e++) {
      const apart = gap[e]!;
      let t = when[e]!;
      let left = many[e]!;
      let spell = spells[e]!;
      while (left > 0) {
        const s = spans.at(t);
        if (s === spans.count) {
          this.count = i;
          return;
        }
        if (rules[active - 1]! > spell) active = this.#repair(t, spell, active, rules);
        if (active === 0) break;
        // The next of a group come after another spell than the first, which may be short.
        let taken = left > 1 && i > 0 && gap_spell[e]! >= rules[active - 1]! ? left : 1;
        while (taken > 1 && t + (taken - 1) * apart >= edges[s + 1]!) taken--;
        if (amounts[e]! > 0) {
          const apart2 = apart * apart;
          const sum = taken === 1 ? 0 : (apart2 * taken * (taken * taken - 1)) / 12;
          into_t[i] = t + 0.5 * (taken - 1) * apart;
          times[i] = taken;
          squares[i] = sum;
          fourths[i] = taken === 1 ? 0 : (apart2 * sum * (3 * taken * taken - 7)) / 20;
          grams[i] = amounts[e]!;
          rule[i] = active - 1;
          span[i] = s;
          i++;
        }
        left -= taken;
        t += taken * apart;
        spell = gap_spell[e]!;
      }
    }
    this.count = i;
  }

  /** Appends a repair under the rules longer than `spell`, of the shortest `active`; gives how many stay. */
  #repair(t: number, spell: number, active: number, rules: readonly number[]): number {
    let stay = active;
    while (stay > 0 && rules[stay - 1]! > spell) stay--;
    this.repair_t[this.repairs] = t;
    this.repair_from[this.repairs] = stay;
    this.repair_to[this.repairs++] = active;
    return stay;
  }

  #makeRoom(groups: number, repairs: number): void {
    if (groups > this.t.length) {
      const most = 2 * groups;
      this.t = new Float64Array(most);
      this.times = new Float64Array(most);
      this.squares = new Float64Array(most);
      this.fourths = new Float64Array(most);
      this.grams = new Float64Array(most);
      this.rule = new Int32Array(most);
      this.span = new Int32Array(most);
    }
    if (repairs > this.repair_t.length) {
      this.repair_t = new Float64Array(repairs);
      this.repair_from = new Int32Array(repairs);
      this.repair_to = new Int32Array(repairs);
    }
  }
}
