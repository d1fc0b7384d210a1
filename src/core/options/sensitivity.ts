import { sensitivityRows } from "../../../data/sensitivity.ts";
import { type Checkpoint, posteriorOf } from "../leak/posterior.ts";
import type { SensitivityRow, SensitivitySide } from "../question/contract.ts";
import { comparedOption } from "../question/option-of.ts";
import type { Assumptions, Plan, Prices, Question } from "../question/question.ts";
import type { Walking } from "./futures.ts";
import { type Outlook, outlookOf, withFutures, withinKeepYears, withPrices } from "./outlook.ts";
import { type Schedules, schedulesOf } from "./schedules.ts";

/**
 * What would change the answer: each assumption at its low and at its high value, all others as they are (MODEL §6),
 * the largest swing first. Only what depends on the assumption is computed again.
 */
export function sensitivityOf(base: Outlook): SensitivityRow[] {
  const walking = { schedules: schedulesFor(base), means_only: true };
  const rows = sensitivityRows.map(({ assumption, low, high }): SensitivityRow => {
    const side = (given: number): SensitivitySide => {
      const value = assumption === "keep_years" ? withinKeepYears(base.question.plan.keep_years * given) : given;
      return { value, ...answerTo(base, walking, assumption, value) };
    };
    return { assumption, low: side(low), high: side(high) };
  });
  // The sort is stable, so ties keep the order of the data.
  return rows.toSorted((a, b) => swing(b) - swing(a));
}

/** The other horizons of the rows, as multiples of the plan's years. */
export const HORIZONS: readonly number[] = sensitivityRows.flatMap(({ assumption, low, high }) =>
  assumption === "keep_years" ? [low, high] : [],
);

/** Schedules of every node that serve all these horizons. */
function schedulesFor({ question, start, futures, posterior }: Outlook): Schedules {
  const { keep_years, hazard } = question.plan;
  const ends = [keep_years, ...HORIZONS.map((times) => withinKeepYears(times * keep_years))];
  if (ends.every((years) => futures.schedules.spans.edges.includes(years))) return futures.schedules;
  const table = posterior.clocks.months({ years: Math.max(...ends), hazard });
  const { cansOf } = futures.spending;
  return schedulesOf(start, table, question.nameplate_g, { rules: futures.rules, ends, cansOf });
}

function swing({ low, high }: SensitivityRow): number {
  return Math.abs(high.gap - low.gap);
}

type Assumption = (typeof sensitivityRows)[number]["assumption"];

function answerTo(
  base: Outlook,
  walking: Walking,
  assumption: Assumption,
  value: number,
): Omit<SensitivitySide, "value"> {
  const { comparison } = changed(base, walking, assumption, value);
  const cost = (id: "repair" | "top-off"): number => comparedOption(comparison, id).expected_cost_with_carbon;
  return { verdict: comparison.verdict.option, gap: cost("top-off") - cost("repair") };
}

function changed(base: Outlook, walking: Walking, assumption: Assumption, value: number): Outlook {
  const { question } = base;
  const { prices } = question;
  switch (assumption) {
    case "keep_years":
      return withFutures({ ...base, question: withPlan(question, { keep_years: value }) }, walking);
    case "repair_prices":
      return withPrices({
        ...base,
        question: withMoney(question, {
          price: prices.price.map((one) => one * value),
          repair_service: prices.repair_service * value,
        }),
      });
    case "refrigerant_price":
      return withPrices({
        ...base,
        question: withMoney(question, {
          can_price: prices.can_price * value,
          shop_refrigerant_per_g: prices.shop_refrigerant_per_g * value,
        }),
      });
    case "hour_worth":
      return withPrices({ ...base, question: withMoney(question, { hour_worth: value }) });
    case "carbon_price_per_t":
      return withPrices({ ...base, question: withPlan(question, { carbon_price_per_t: value }) });
    case "damage_chance":
    case "relapse_rate":
      return withPrices({ ...base, question: withAssumption(question, { [assumption]: value }) });
    case "discount":
    case "refrigerant_growth":
      return withFutures({ ...base, question: withAssumption(question, { [assumption]: value }) }, walking);
    case "seep_fraction": {
      const other = withAssumption(question, { seep_fraction: value });
      const { before_repair } = base.posterior;
      return before_repair === null
        ? withFutures({ ...base, question: other }, walking)
        : recompute(base, other, before_repair);
    }
    case "low_fraction":
      return recompute(base, withAssumption(question, { low_fraction: value }));
  }
}

/** All stages again, the posterior from the checkpoint on where there is one. Clocks do not depend on assumptions. */
function recompute(base: Outlook, question: Question, from: Checkpoint | null = null): Outlook {
  const { clocks, stretches } = base.posterior;
  const posterior = posteriorOf(question, { record: false, clocks, within: stretches, from });
  return outlookOf(question, posterior, { means_only: true, passing: true });
}

function withPlan(question: Question, change: Partial<Plan>): Question {
  return { ...question, plan: { ...question.plan, ...change } };
}

function withMoney(question: Question, change: Partial<Prices>): Question {
  return { ...question, prices: { ...question.prices, ...change } };
}

function withAssumption(question: Question, change: Partial<Assumptions>): Question {
  return { ...question, assumptions: { ...question.assumptions, ...change } };
}
