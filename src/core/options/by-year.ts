import { DYE_WAIT_YEARS, REPAIR_RELEASE_SHARE } from "../../../data/model-constants.ts";
import { tableAt } from "../leak/month-table.ts";
import type { Branch, Option } from "./compare.ts";
import { eventFreeRelease, type Futures } from "./futures.ts";
import type { Outlook } from "./outlook.ts";
import { fadingIntegral, type Spending } from "./spending.ts";
import { placePrices, TALLY, TALLY_WIDTH, tallyCost, tallyRelease } from "./tally.ts";

/** Cost and release of every option year by year. Tallies here have one row a year, ⌊t⌋. */

export interface YearSplit {
  cost_by_year: number[];
  release_by_year_g: number[];
}

export function yearSplits({ question, futures, tags, comparison }: Outlook): YearSplit[] {
  const years = Math.ceil(question.plan.keep_years);
  const rules = new Set<number>();
  for (const { branches } of comparison.options) {
    for (const branch of branches) if (branch.course === "top-off") rules.add(branch.rule);
  }
  const top_off = topOffYears(futures, [...rules], years);
  const repair_now = new Float64Array(years * TALLY_WIDTH);
  addRepairYears(repair_now, futures.spending, 0, 1, 1);
  const repair_after_dye = dyeRepairYears(futures, years);
  const of = (branch: Branch): Float64Array => {
    if (branch.course === "repair-now") return repair_now;
    if (branch.course === "repair-after-dye") return repair_after_dye;
    return top_off.get(branch.rule)!;
  };
  return comparison.options.map((option) => {
    if (option.id === "live-without") return withoutYears(option, futures, years);
    const cost_by_year = new Array<number>(years).fill(0);
    const release_by_year_g = new Array<number>(years).fill(0);
    cost_by_year[0]! += option.fixed;
    for (const branch of option.branches) {
      const tallies = of(branch);
      const place = placePrices(branch.belief, tags, branch.locate);
      for (let year = 0; year < years; year++) {
        cost_by_year[year]! += branch.chance * tallyCost(tallies, year, tags, place);
        release_by_year_g[year]! += branch.chance * tallyRelease(tallies, year, tags);
      }
    }
    return { cost_by_year, release_by_year_g };
  });
}

/** Mean tallies by year of topping off under each of `rules`. */
function topOffYears(futures: Futures, rules: readonly number[], years: number): Map<number, Float64Array> {
  const { start, table, spending, rules: all_rules } = futures;
  const { nodes } = start;
  const tallies = new Map(rules.map((rule) => [rule, new Float64Array(years * TALLY_WIDTH)]));
  const { events, first } = futures.events;
  const one_node = new Float64Array(years * TALLY_WIDTH);
  for (let n = 0; n < nodes.count; n++) {
    for (const [rule, sum] of tallies) {
      one_node.fill(0);
      let until = spending.horizon.years;
      let tools_bought = false;
      for (let e = first[n]!; e < first[n + 1]!; e++) {
        const t = events.t[e]!;
        if (t >= spending.horizon.years) break;
        const at = Math.floor(t) * TALLY_WIDTH;
        const fade = Math.exp(-spending.horizon.fade * t);
        if (t > 0) one_node[at + TALLY.lows]! += fade;
        if (all_rules[rule]! > events.spell[e]!) {
          until = t;
          addRepairYears(one_node, spending, t, fade, tools_bought ? 0 : 1);
          break;
        }
        const tools = one_node[at + TALLY.tools]!;
        spending.addTopOff(one_node, at, t, fade, events.grams[e]!);
        // A year's row looks like the start of a path; only the first top-off of all buys tools.
        if (tools_bought) one_node[at + TALLY.tools] = tools;
        else if (events.grams[e]! > 0) tools_bought = true;
      }
      addLeakYears(one_node, nodes.k[n]!, table.surviving[nodes.growth_index[n]!]!, until);
      for (let i = 0; i < sum.length; i++) sum[i]! += nodes.weight[n]! * one_node[i]!;
    }
  }
  return tallies;
}

function addLeakYears(tallies: Float64Array, k: number, surviving: Float64Array, until: number): void {
  for (let year = 0; year < until; year++) {
    tallies[year * TALLY_WIDTH + TALLY.release]! +=
      k * (tableAt(surviving, Math.min(until, year + 1)) - tableAt(surviving, year));
  }
}

/**
 * A repair at `t` and the sound years after it; `fade` is D(t). Tools are bought at the first top-off after it by the
 * share `without_tools`.
 */
function addRepairYears(
  tallies: Float64Array,
  spending: Spending,
  t: number,
  fade: number,
  without_tools: number,
): void {
  const { years, fade: rate, hazard, growth } = spending.horizon;
  const first = Math.floor(t);
  const at = first * TALLY_WIDTH;
  tallies[at + TALLY.fix]! += fade;
  tallies[at + TALLY.fix_grown]! += fade * Math.exp(growth * t);
  tallies[at + TALLY.release]! += REPAIR_RELEASE_SHARE * spending.nameplate_g * Math.exp(-hazard * t);
  for (let year = first; year < years; year++) {
    const from = Math.max(t, year);
    const to = Math.min(years, year + 1);
    tallies[year * TALLY_WIDTH + TALLY.relapse]! += fadingIntegral(rate, from, to);
    tallies[year * TALLY_WIDTH + TALLY.sound]! += fadingIntegral(hazard, from, to);
  }
  for (const after of spending.seep_after) {
    if (t + after >= years) break;
    spending.addSeep(tallies, Math.floor(t + after) * TALLY_WIDTH, t + after);
  }
  for (const first_after of spending.seep_first) {
    const when = t + first_after;
    if (when < years)
      tallies[Math.floor(when) * TALLY_WIDTH + TALLY.tools]! += 0.25 * without_tools * Math.exp(-rate * when);
  }
}

/** Top-up now if the rule makes one, the leak until the dye is looked for, and the repair then; means over nodes. */
function dyeRepairYears(futures: Futures, years: number): Float64Array {
  const { spending, start, repair_after_dye, repair_after_dye_mean } = futures;
  const wait = Math.min(DYE_WAIT_YEARS, spending.horizon.years);
  const fade = Math.exp(-spending.horizon.fade * wait);
  let without_tools = 0;
  for (let n = 0; n < start.nodes.count; n++) {
    // Tools bought today stand in the tally undiscounted.
    if (repair_after_dye[n * TALLY_WIDTH + TALLY.tools] !== 1) without_tools += start.nodes.weight[n]!;
  }
  const tallies = new Float64Array(years * TALLY_WIDTH);
  addRepairYears(tallies, spending, wait, fade, without_tools);
  // All but the repair and its sound years falls in the first year.
  for (let c = 0; c < TALLY_WIDTH; c++) {
    let later = 0;
    for (let year = 0; year < years; year++) later += tallies[year * TALLY_WIDTH + c]!;
    tallies[c]! += repair_after_dye_mean[c]! - later;
  }
  return tallies;
}

/** Living without it: the worth of each season, and what leaks out. */
function withoutYears(option: Option, futures: Futures, years: number): YearSplit {
  const { horizon } = futures.spending;
  const { nodes } = futures.start;
  const whole = fadingIntegral(horizon.fade, 0, horizon.years);
  const cost_by_year: number[] = [];
  const release_by_year_g: number[] = [];
  let released = 0;
  for (let year = 0; year < years; year++) {
    const end = Math.min(horizon.years, year + 1);
    cost_by_year.push((option.fixed * fadingIntegral(horizon.fade, year, end)) / whole);
    let by_end = 0;
    for (let n = 0; n < nodes.count; n++) by_end += nodes.weight[n]! * eventFreeRelease(futures, n, end);
    release_by_year_g.push(by_end - released);
    released = by_end;
  }
  return { cost_by_year, release_by_year_g };
}
