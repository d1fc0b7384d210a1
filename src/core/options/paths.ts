import { type MonthTable, tableAt } from "../leak/month-table.ts";
import { decayed } from "../maths/normal.ts";
import { workRoom } from "../maths/work-room.ts";
import type { NodeState } from "./node-events.ts";
import type { Schedule } from "./schedule.ts";
import type { Decay, Schedules } from "./schedules.ts";
import { addRows, type Spending } from "./spending.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/** Tallies of topping off under switch rules, each ending in a repair: of one node, and means over all of them. */

/**
 * Adds the paths of one node under every rule, of which there are `rules`, to the rows from `at` on: path r for rule r,
 * a row each.
 */
export function addNodePaths(
  into: Float64Array,
  at: number,
  schedule: Schedule,
  { k, clock }: Pick<NodeState, "k" | "clock">,
  rules: number,
  spending: Spending,
  table: MonthTable,
): void {
  const { years, fade, hazard } = spending.horizon;
  const surviving = table.surviving[clock]!;
  addNodeTopOffs(into, at, schedule, spending);
  let stay = rules;
  for (let i = 0; i < schedule.repairs && schedule.repair_t[i]! < years; i++) stay = schedule.repair_from[i]!;
  if (stay > 0) spending.addLeak(into, at + (stay - 1) * TALLY_WIDTH, k, surviving, years);
  shareOut(into, at, rules, TALLY_WIDTH);
  for (let i = 0; i < schedule.repairs && schedule.repair_t[i]! < years; i++) {
    const t = schedule.repair_t[i]!;
    const faded = decayed(fade, t);
    const has_tools = schedule.count > 0 && schedule.t[0]! < t;
    const ended = spending.repairAt(t, !has_tools, faded, decayed(spending.net_fade, t), decayed(hazard, t));
    if (t > 0) ended[TALLY.lows]! += faded;
    spending.addLeak(ended, 0, k, surviving, t);
    for (let rule = schedule.repair_from[i]!; rule < schedule.repair_to[i]!; rule++) {
      addRows(into, at + rule * TALLY_WIDTH, 1, ended);
    }
  }
}

/** Adds the top-offs of a node to the row of the longest rule that has them. */
function addNodeTopOffs(into: Float64Array, at: number, schedule: Schedule, spending: Spending): void {
  const { count, t, grams, rule } = schedule;
  const { years, fade, hazard } = spending.horizon;
  for (let first = 0, end = 1; first < count && t[first]! < years; first = end++) {
    // The first stands alone, since tools are bought for it.
    while (first > 0 && end < count && t[end]! < years && grams[end] === grams[first] && rule[end] === rule[first]) {
      end++;
    }
    const row = at + rule[first]! * TALLY_WIDTH;
    const faded = decayedSum(schedule, fade, first, end);
    into[row + TALLY.visits]! += faded;
    if (t[first]! > 0) into[row + TALLY.lows]! += faded;
    if (first === 0) into[row + TALLY.tools]! += faded;
    const units = spending.refrigerantUnits(grams[first]!);
    into[row + TALLY.refrigerant]! += decayedSum(schedule, spending.net_fade, first, end) * units;
    if (!spending.diy) continue;
    into[row + TALLY.cans]! += faded * units;
    into[row + TALLY.release]! += decayedSum(schedule, hazard, first, end) * spending.heelRelease(grams[first]!);
  }
}

/** Σ e^{−rate·t} over the top-offs of the groups from `first` to before `end`: as `Schedules` has it. */
function decayedSum({ t, times, squares, fourths }: Schedule, rate: number, first: number, end: number): number {
  const rate2 = rate * rate;
  let sum = 0;
  for (let i = first; i < end; i++) {
    sum += decayed(rate, t[i]!) * (times[i]! + rate2 * (squares[i]! / 2 + (rate2 / 24) * fourths[i]!));
  }
  return sum;
}

/** Gives to each rule what it shares with longer ones, of paths of `path` values from `at` on. */
function shareOut(into: Float64Array, at: number, rules: number, path: number): void {
  for (let i = at + (rules - 1) * path - 1; i >= at; i--) into[i]! += into[i + path]!;
}

/**
 * The mean paths over all nodes under the rules at the positions `picked` of `schedules.rules`, ascending: path r for
 * the r-th of them, with a row for each period of `spending`.
 */
export function meanPaths(
  schedules: Schedules,
  spending: Spending,
  table: MonthTable,
  picked: readonly number[],
): Float64Array {
  const path = spending.periods * TALLY_WIDTH;
  const into = new Float64Array(picked.length * path);
  // Of the rules picked, how many are among the first i: what is counted for the longest of some rules goes to the row
  // before that.
  const among = Int32Array.from({ length: schedules.rules.length + 1 }, (_, i) => picked.filter((p) => p < i).length);
  addMeanTopOffs(into, schedules, spending, among);
  addMeanTools(into, schedules, spending, among);
  addMeanLeak(into, schedules, spending, table, among);
  shareOut(into, 0, picked.length, path);
  addMeanRepairs(into, schedules, spending, table, among);
  return into;
}

/** What top-offs and repairs count for at the rates of a question. */
function decaysOf(
  schedules: Schedules,
  { horizon, net_fade }: Spending,
): Record<"faded" | "net_faded" | "survived", Decay> {
  return {
    faded: schedules.decay(horizon.fade),
    net_faded: schedules.decay(net_fade),
    survived: schedules.decay(horizon.hazard),
  };
}

/** Adds the top-offs of all nodes to the rows of the longest picked rule that has them. */
function addMeanTopOffs(into: Float64Array, schedules: Schedules, spending: Spending, among: Int32Array): void {
  const { visits, grams, cans } = schedules;
  const { periods, diy, horizon } = spending;
  const { faded, net_faded, survived } = decaysOf(schedules, spending);
  // Both are linear in grams, but for cans that are used up.
  const units_per_g = cans === null ? spending.refrigerantUnits(1) : 1;
  const heel_per_g = spending.heelRelease(1);
  for (let period = 0; period < periods; period++) {
    const sums = (decay: Decay, moments: Float64Array): Float64Array =>
      periods === 1
        ? decay.sumsBefore(moments, horizon.years)
        : decay.sums(moments, period, spending.periodEnd(period));
    const visits_here = sums(faded, visits);
    const refrigerant_here = sums(net_faded, cans ?? grams);
    const cans_here = diy ? sums(faded, cans ?? grams) : null;
    const heel_here = diy ? sums(survived, grams) : null;
    for (let rule = 0; rule < visits_here.length; rule++) {
      const path = among[rule + 1]! - 1;
      if (path < 0) continue;
      const row = (path * periods + period) * TALLY_WIDTH;
      into[row + TALLY.visits]! += visits_here[rule]!;
      into[row + TALLY.lows]! += visits_here[rule]!;
      into[row + TALLY.refrigerant]! += refrigerant_here[rule]! * units_per_g;
      if (cans_here !== null) into[row + TALLY.cans]! += cans_here[rule]! * units_per_g;
      if (heel_here !== null) into[row + TALLY.release]! += heel_here[rule]! * heel_per_g;
    }
  }
}

/** Adds the tools of all nodes, at their first top-offs; one of today was not low. */
function addMeanTools(into: Float64Array, schedules: Schedules, spending: Spending, among: Int32Array): void {
  const { nodes, first_t, first_rule, first_weight } = schedules;
  const faded = schedules.decay(spending.horizon.fade).first;
  for (let n = 0; n < nodes; n++) {
    const t = first_t[n]!;
    const path = among[first_rule[n]! + 1]! - 1;
    if (path < 0 || t >= spending.horizon.years) continue;
    const row = (path * spending.periods + spending.periodOf(t)) * TALLY_WIDTH;
    into[row + TALLY.tools]! += first_weight[n]! * faded[n]!;
    if (t === 0) into[row + TALLY.lows]! -= first_weight[n]!;
  }
}

/** Adds what leaks under the rules that have not repaired by the horizon. */
function addMeanLeak(
  into: Float64Array,
  schedules: Schedules,
  spending: Spending,
  table: MonthTable,
  among: Int32Array,
): void {
  const { rules, leak, repairs, repair_t, repair_from, repair_to, repair_leak, repair_clock } = schedules;
  const { years } = spending.horizon;
  const clocks = leak.length;
  // Σ w·k by longest rule that stays, and clock.
  const staying = new Float64Array((rules.length + 1) * clocks);
  staying.set(leak, rules.length * clocks);
  for (let i = 0; i < repairs; i++) {
    if (repair_t[i]! >= years) continue;
    staying[repair_to[i]! * clocks + repair_clock[i]!]! -= repair_leak[i]!;
    staying[repair_from[i]! * clocks + repair_clock[i]!]! += repair_leak[i]!;
  }
  for (let rule = 1; rule <= rules.length; rule++) {
    const path = among[rule]! - 1;
    if (path < 0) continue;
    for (let j = 0; j < clocks; j++) {
      const k = staying[rule * clocks + j]!;
      spending.addLeak(into, path * spending.periods * TALLY_WIDTH, k, table.surviving[j]!, years);
    }
  }
}

/** Adds the repairs, with the leak until then. */
function addMeanRepairs(
  into: Float64Array,
  schedules: Schedules,
  spending: Spending,
  table: MonthTable,
  among: Int32Array,
): void {
  const path = spending.periods * TALLY_WIDTH;
  const picked = among[among.length - 1]!;
  const rows = roomForRows(picked * (picked + 1) * path);
  const path_of = pathsOfRepairs(schedules, spending.horizon.years, among);
  if (spending.inOne) addRepairsInOne(rows, schedules, spending, table, path_of);
  else addRepairsByPeriod(rows, schedules, spending, table, path_of);
  for (let from = 0; from < picked; from++) {
    for (let to = from + 1; to <= picked; to++) {
      const at = (from * (picked + 1) + to) * path;
      for (let rule = from; rule < to; rule++) addRows(into, rule * path, 1, rows, at, path);
    }
  }
}

const roomForRows = workRoom();

/**
 * Which path each repair is added to, −1 for none: those of the rules from the a-th picked to before the b-th, which
 * end together, are first added up in one, number a·(picked + 1) + b.
 */
function pathsOfRepairs({ repairs, repair_t, repair_from, repair_to }: Schedules, years: number, among: Int32Array) {
  const path_of = new Int32Array(repairs).fill(-1);
  const ends = among[among.length - 1]! + 1;
  for (let i = 0; i < repairs; i++) {
    const from = among[repair_from[i]!]!;
    const to = among[repair_to[i]!]!;
    if (repair_t[i]! < years && from !== to) path_of[i] = from * ends + to;
  }
  return path_of;
}

function addRepairsByPeriod(
  rows: Float64Array,
  schedules: Schedules,
  spending: Spending,
  table: MonthTable,
  path_of: Int32Array,
): void {
  const { repairs, repair_t, repair_weight, repair_leak, repair_clock, repair_has_tools } = schedules;
  const { faded, net_faded, survived } = decaysOf(schedules, spending);
  for (let i = 0; i < repairs; i++) {
    if (path_of[i]! < 0) continue;
    const t = repair_t[i]!;
    const at = path_of[i]! * spending.periods * TALLY_WIDTH;
    const weight = repair_weight[i]!;
    const share = faded.repairs[i]!;
    const tools = repair_has_tools[i] === 0;
    spending.addRepair(rows, at, weight, t, share, net_faded.repairs[i]!, survived.repairs[i]!, tools);
    if (t > 0) rows[at + spending.periodOf(t) * TALLY_WIDTH + TALLY.lows]! += weight * share;
    spending.addLeak(rows, at, repair_leak[i]!, table.surviving[repair_clock[i]!]!, t);
  }
}

/**
 * The same where the horizon is one period: only what each repair adds by itself is added up one by one, in a loop
 * without calls, in two thirds of the time; what follows from the sums is added at the end.
 */
function addRepairsInOne(
  rows: Float64Array,
  schedules: Schedules,
  spending: Spending,
  table: MonthTable,
  path_of: Int32Array,
): void {
  const { repairs, repair_t, repair_weight, repair_leak, repair_clock, repair_has_tools } = schedules;
  const { faded, net_faded, survived } = decaysOf(schedules, spending);
  const { years } = spending.horizon;
  const { seep_after, seep_within, seep_fade, seep_grown, seep_survival, seep_tools } = spending;
  const weights = new Float64Array(rows.length / TALLY_WIDTH);
  for (let i = 0; i < repairs; i++) {
    if (path_of[i]! < 0) continue;
    const t = repair_t[i]!;
    const at = path_of[i]! * TALLY_WIDTH;
    const weight = repair_weight[i]!;
    let seeps = seep_within[Math.floor(12 * (years - t))]!;
    while (seeps < seep_after.length && t + seep_after[seeps]! < years) seeps++;
    const share = weight * faded.repairs[i]!;
    const grown = weight * net_faded.repairs[i]!;
    const surviving = weight * survived.repairs[i]!;
    weights[path_of[i]!]! += weight;
    rows[at + TALLY.fix]! += share;
    rows[at + TALLY.fix_grown]! += grown;
    // To begin with, D and survival at the repair, of which the integrals to the horizon follow.
    rows[at + TALLY.sound]! += surviving;
    rows[at + TALLY.visits]! += share * seep_fade[seeps]!;
    rows[at + TALLY.refrigerant]! += grown * seep_grown[seeps]!;
    rows[at + TALLY.cans]! += surviving * seep_survival[seeps]!;
    if (repair_has_tools[i] === 0) rows[at + TALLY.tools]! += share * seep_tools[seeps]!;
    if (t > 0) rows[at + TALLY.lows]! += share;
    rows[at + TALLY.release]! += repair_leak[i]! * tableAt(table.surviving[repair_clock[i]!]!, t);
  }
  for (let row = 0; row < weights.length; row++) {
    if (weights[row]! > 0) spending.finishRepairs(rows, row * TALLY_WIDTH, weights[row]!);
  }
}
