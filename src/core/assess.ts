import { forecastOf } from "./leak/forecast.ts";
import { leakOf } from "./leak/leak.ts";
import { breakEven } from "./options/break-even.ts";
import { yearSplits } from "./options/by-year.ts";
import { costSpreads } from "./options/cost-spread.ts";
import { firstStepOf } from "./options/first-step.ts";
import { switchRuleMonths } from "./options/futures.ts";
import { informationValues } from "./options/information-values.ts";
import { type Outlook, outlookOfRequest } from "./options/outlook.ts";
import { HORIZONS, sensitivityOf } from "./options/sensitivity.ts";
import { watchDate } from "./options/watch-date.ts";
import { type AssessAnswer, type AssessRequest, LOCATION_IDS, type OptionAnswer } from "./question/contract.ts";
import type { Question } from "./question/question.ts";
import { co2eKg } from "./refrigerant/gwp.ts";

/** Part of the key of cached answers: changes whenever the same request may get another answer. */
export const MODEL_VERSION = "4";

/**
 * The answer to a request: pure and deterministic, with the date as data. Ranges and dates are checked where requests
 * come in (the contract's table); a date that does not exist throws RangeError. `sensitivity: false` leaves its rows
 * out, for lists that do not show them.
 *
 * @example
 * assess({
 *   as_of: "2026-05-01",
 *   vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
 *   log: [
 *     { date: "2024-05-10", finish: "weighed" },
 *     { date: "2026-04-28", cooling: "weak" },
 *   ],
 * })
 * // { as_of: "2026-05-01", verdict: { option: "top-off", guard: null } }
 */
export function assess(request: AssessRequest, options: { sensitivity?: boolean } = {}): AssessAnswer {
  return answerOf(outlookForAnswer(request, options), options);
}

/** The outlook of a request, walked as far ahead as its answer needs. */
export function outlookForAnswer(request: AssessRequest, { sensitivity = true }: { sensitivity?: boolean }): Outlook {
  return outlookOfRequest(request, { horizons: sensitivity ? HORIZONS : [] });
}

/** The answer that an outlook holds. */
export function answerOf(outlook: Outlook, { sensitivity = true }: { sensitivity?: boolean } = {}): AssessAnswer {
  const { question, posterior, nodes, known, comparison } = outlook;
  return {
    as_of: question.as_of,
    leak: leakOf(question, posterior, nodes),
    forecast: forecastOf(question, posterior, nodes),
    locations: LOCATION_IDS.map((id, l) => ({ id, probability: known.belief[l]! })),
    options: optionAnswers(question, outlook),
    first_step: firstStepOf(outlook),
    verdict: comparison.verdict,
    value_of: informationValues(outlook),
    break_even: breakEven(outlook),
    sensitivity: sensitivity ? sensitivityOf(outlook) : [],
  };
}

function optionAnswers(question: Question, outlook: Outlook): OptionAnswer[] {
  const { comparison, futures, posterior } = outlook;
  const spreads = costSpreads(outlook);
  const splits = yearSplits(outlook);
  const rule_years = futures.rules[comparison.best_rule]!;
  const rule_months = switchRuleMonths(question.plan.floor_months)[comparison.best_rule]!;
  return comparison.options.map((option, o): OptionAnswer => {
    const is_top_off = option.id === "top-off";
    return {
      id: option.id,
      offered: option.offered,
      not_offered_because: option.not_offered_because,
      expected_cost: option.expected_cost,
      cost_p05: spreads[o]!.p05,
      cost_p95: spreads[o]!.p95,
      cost_by_year: splits[o]!.cost_by_year,
      release_g: option.release_g,
      co2e_kg: co2eKg(question.plan.gwp, question.refrigerant, option.release_g),
      release_by_year_g: splits[o]!.release_by_year_g,
      expected_cost_with_carbon: option.expected_cost_with_carbon,
      probability_cheapest: spreads[o]!.probability_cheapest,
      leads_to_repair: option.leads_to_repair,
      switch_months: is_top_off ? rule_months : null,
      watch_date: is_top_off ? watchDate(question, futures.start, posterior.clocks, rule_years) : null,
    };
  });
}
