import { DYE_WAIT_YEARS, REPAIR_RELEASE_SHARE, SEEP_LN_SD, SEEP_POINTS } from "../../data/model-constants.ts";
import type { MonthTable } from "../../src/core/leak/month-table.ts";
import { nodesOf } from "../../src/core/leak/nodes.ts";
import type { Posterior } from "../../src/core/leak/posterior.ts";
import { startOf, switchRuleMonths } from "../../src/core/options/futures.ts";
import type { Start } from "../../src/core/options/node-events.ts";
import type { Question } from "../../src/core/question/question.ts";

/** What the years ahead of a question are walked from: as `futuresOf` takes it. */
export interface Walkable {
  question: Question;
  start: Start;
  table: MonthTable;
}

/** The years ahead of a posterior, still to be walked. */
export function walkable(question: Question, posterior: Posterior): Walkable {
  const { keep_years: years, hazard } = question.plan;
  const start = startOf(question, posterior, nodesOf(posterior, question.nameplate_g));
  return { question, start, table: posterior.clocks.months({ years, hazard }) };
}

/** The same as numbers that `c/walk.c` understands, in the order in which it reads them. Grams and years. */
export function walkInput({ question, start, table }: Walkable): number[] {
  const { plan, prices, assumptions, nameplate_g } = question;
  const { nodes } = start;
  const rules = switchRuleMonths(plan.floor_months).map((months) => months / 12);
  const fade = assumptions.discount + plan.hazard;
  return [
    ...[nodes.count, table.clock.length, table.last, rules.length],
    ...[plan.keep_years, fade, fade - assumptions.refrigerant_growth, plan.hazard],
    ...[nameplate_g, REPAIR_RELEASE_SHARE, DYE_WAIT_YEARS, Number(start.top_up_now)],
    (start.last_fill_counts ? start.last_fill_season : null) ?? -Infinity,
    ...[Number(plan.service === "diy"), Number(prices.can_seal === "pierced"), assumptions.heel, prices.can_net_g],
    ...[assumptions.low_fraction, assumptions.seep_fraction, SEEP_LN_SD, ...SEEP_POINTS],
    ...rules,
    ...table.season,
    ...table.clock.flatMap((values) => [...values]),
    ...table.surviving.flatMap((values) => [...values]),
    ...[...nodes.weight, ...nodes.k, ...nodes.mean_m, ...nodes.mean_b, ...nodes.growth_index],
  ];
}
