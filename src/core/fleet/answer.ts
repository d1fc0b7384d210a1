import type { Clocks } from "../leak/clocks.ts";
import { type LikelyLow, likelyLowOf, nextLowOf } from "../leak/forecast.ts";
import { chargeNowOf, leakFractionOf } from "../leak/leak.ts";
import { posteriorOf } from "../leak/posterior.ts";
import { yearSplits } from "../options/by-year.ts";
import { probabilitiesCheapest } from "../options/cost-spread.ts";
import { futuresOf } from "../options/futures.ts";
import { type Outlook, outlookOf } from "../options/outlook.ts";
import { watchDate } from "../options/watch-date.ts";
import type { ForecastAnswer, OptionId, Spread, Verdict } from "../question/contract.ts";
import type { LeakPrior, Question } from "../question/question.ts";
import { co2eKg } from "../refrigerant/gwp.ts";
import { type AsIs, asIsOf } from "./as-is.ts";
import { type AuditYear, auditYears } from "./audit.ts";
import { ownShare } from "./cohort.ts";

/** One option of a vehicle as lists and the budget need it. Money with the carbon price counted in only where said. */
export interface FleetOption {
  id: OptionId;
  offered: boolean;
  expected_cost: number;
  expected_cost_with_carbon: number;
  /** See `firstYearOutlays`. */
  outlay_first_year: number;
  release_g: number;
  co2e_kg: number;
  probability_cheapest: number;
}

/** The parts of a vehicle's answer that the fleet stores: the numbers of `assess`, under the cohort's prior. */
export interface FleetAnswer {
  as_of: string;
  /** Of nameplate, per year. */
  leak_fraction: Spread;
  charge_now_g: { mean: number; p05: number; p95: number };
  next_low: ForecastAnswer["next_low"];
  /** The likely range of the next low charge, 5 to 95 %. */
  likely_low: LikelyLow;
  /** Whether topping off would start with a top-off that day: it is low, or nearly so. */
  low_now: boolean;
  /** Whether nothing is in its log. */
  no_entries: boolean;
  verdict: Pick<Verdict, "option" | "guard" | "tie_break">;
  /** Of one that is topped off and holds for now: low again before it means repair. Null for every other answer. */
  watch_date: string | null;
  options: FleetOption[];
  /** Topping off for ever, without a repair: the baseline for every option. */
  as_is: AsIs;
  keep_years: number;
  /**
   * The share of the estimate that comes from the vehicle's own log; the rest is from its group, or from leaks in
   * general.
   */
  own_share: number;
  /** What was believed of the leak before the log: with it, `leak_prior` of a request, the answer can be had again. */
  prior: LeakPrior;
  audit: AuditYear[];
}

/**
 * The answer for one vehicle of a fleet: `assess` without what lists do not show (curve, break-evens, value of tests,
 * sensitivity), under the prior of its cohort, in a quarter of the time. `clocks` of the question, if they are there
 * already.
 */
export function fleetAnswer(
  question: Question,
  ln_x_prior: LeakPrior = question.leak_prior,
  clocks: Clocks | null = null,
): FleetAnswer {
  const posterior = posteriorOf(question, { record: false, ln_x_prior, clocks });
  const outlook = outlookOf(question, posterior);
  const { nodes, comparison } = outlook;
  const chances = probabilitiesCheapest(outlook);
  const first_year = firstYearOf(outlook);
  const outlays = firstYearOutlays(first_year);
  const { option, guard, tie_break } = comparison.verdict;
  const { start, rules } = outlook.futures;
  const waits = option === "top-off" && !start.top_up_now;
  return {
    as_of: question.as_of,
    leak_fraction: leakFractionOf(posterior),
    charge_now_g: chargeNowOf(posterior, nodes, question.nameplate_g),
    next_low: nextLowOf(question, posterior, nodes),
    likely_low: likelyLowOf(question, posterior, nodes),
    low_now: start.top_up_now,
    no_entries: question.log.length === 0,
    verdict: { option, guard, tie_break },
    watch_date: waits ? watchDate(question, start, posterior.clocks, rules[comparison.best_rule]!) : null,
    options: comparison.options.map((one, o) => ({
      id: one.id,
      offered: one.offered,
      expected_cost: one.expected_cost,
      expected_cost_with_carbon: one.expected_cost_with_carbon,
      outlay_first_year: outlays[o]!,
      release_g: one.release_g,
      co2e_kg: co2eKg(question.plan.gwp, question.refrigerant, one.release_g),
      probability_cheapest: chances[o]!,
    })),
    as_is: asIsOf(outlook, first_year),
    keep_years: question.plan.keep_years,
    own_share: ownShare(posterior, ln_x_prior),
    prior: ln_x_prior,
    audit: auditYears(question, posterior, ln_x_prior),
  };
}

/**
 * The same outlook for a year from the assessment date with nothing discounted (discount rate and hazard 0); the
 * choices after tests and the switch rule stay those of the answer.
 */
function firstYearOf(outlook: Outlook): Outlook {
  const { question, start, posterior } = outlook;
  const first_year: Question = {
    ...question,
    plan: { ...question.plan, hazard: 0, keep_years: Math.min(1, question.plan.keep_years) },
    assumptions: { ...question.assumptions, discount: 0 },
  };
  const table = posterior.clocks.months({ years: first_year.plan.keep_years, hazard: 0 });
  return {
    ...outlook,
    question: first_year,
    futures: futuresOf(first_year, start, table, { schedules: outlook.futures.schedules }),
  };
}

/**
 * Money that each option is expected to make due within that year: `cost_by_year[0]` of its outlook. Living without it
 * costs comfort, not money: 0.
 */
function firstYearOutlays(first_year: Outlook): number[] {
  const splits = yearSplits(first_year);
  return first_year.comparison.options.map(({ id }, o) => (id === "live-without" ? 0 : splits[o]!.cost_by_year[0]!));
}
