import type { MonthTable } from "../../src/core/leak/month-table.ts";
import type { Events, NodeState } from "../../src/core/options/node-events.ts";
import { addNodePaths } from "../../src/core/options/paths.ts";
import { Schedule } from "../../src/core/options/schedule.ts";
import { Spans } from "../../src/core/options/spans.ts";
import type { Spending } from "../../src/core/options/spending.ts";
import { TALLY_WIDTH } from "../../src/core/options/tally.ts";

/** The tallies of one node with these events, a row for each rule. */
export function nodePaths(
  events: Events,
  node: Pick<NodeState, "k" | "clock">,
  rules: readonly number[],
  spending: Spending,
  table: MonthTable,
): Float64Array {
  const schedule = new Schedule();
  schedule.follow(events, rules, new Spans([spending.horizon.years]));
  const tallies = new Float64Array(rules.length * TALLY_WIDTH);
  addNodePaths(tallies, 0, schedule, node, rules.length, spending, table);
  return tallies;
}

/** Events one by one, of which none comes at even intervals with another. */
export function singleEvents(t: readonly number[], grams: readonly number[], spell: readonly number[]): Events {
  return {
    count: t.length,
    t: Float64Array.from(t),
    times: new Float64Array(t.length).fill(1),
    gap: new Float64Array(t.length),
    gap_spell: new Float64Array(t.length).fill(Infinity),
    grams: Float64Array.from(grams),
    spell: Float64Array.from(spell),
  };
}
