import { GENERAL_CURRENCY } from "../../data/currencies.ts";
import { guard as GUARD, LOCATED_SHARE } from "../../data/model-constants.ts";
import { focusOption, type PageAnswer } from "../../src/core/page-answer.ts";
import { monthsAfter } from "../../src/core/quantities/dates.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type {
  AssessAnswer,
  AssessRequest,
  LogEntry,
  OptionAnswer,
  ReadingsSay,
} from "../../src/core/question/contract.ts";
import { comparedOption, optionOf } from "../../src/core/question/option-of.ts";
import { type Question, questionOf } from "../../src/core/question/question.ts";
import type { FindingId } from "../../src/core/readings/readings-contract.ts";
import { type LocalRules, localRules } from "../../src/core/rules/local-rules.ts";
import type { RuledOption } from "../../src/core/rules/rules.ts";
import type { PricesUsed } from "../parts/prices-used.tsx";
import type { AnswerGround } from "../words/answer-words.ts";

/** Whether high voltage drives the compressor (hybrid, electric), as far as anyone said. */
export type Electric = "yes" | "no" | "not-sure";

/** The context of a question, for the page. */
export interface Surroundings {
  /** What the law says where the vehicle is. */
  local: LocalRules;
  /** What readings found, where they count and decide. */
  found: FindingId | null;
  /** The readings that count, with their day; none unless said. */
  read?: { says: ReadingsSay; date: string } | null;
  /** "not-sure" by default. */
  electric?: Electric;
  /** What its money is in, ISO 4217; US dollars unless said. */
  currency?: string | undefined;
  /** Whose prices it was worked out with; the general ones unless said. */
  prices?: PricesUsed | undefined;
}

const GENERAL: PricesUsed = { currency: GENERAL_CURRENCY, wanted: null, book: null };

/** An answer with its question, and how the person wants it worded. */
export interface Outcome extends Surroundings {
  request: AssessRequest;
  /** The request with every default filled in. */
  question: Question;
  answer: PageAnswer;
  units: UnitSystem;
  currency: string;
  prices: PricesUsed;
  electric: Electric;
  read: { says: ReadingsSay; date: string } | null;
}

/** `around` is the context that the request was made in; without it, no local rules and no readings. */
export function outcomeOf(
  request: AssessRequest,
  answer: PageAnswer,
  units: UnitSystem,
  { local, found, read = null, electric = "not-sure", currency = GENERAL_CURRENCY, prices = GENERAL }: Surroundings = {
    local: localRules(request, "elsewhere", "USD"),
    found: null,
  },
): Outcome {
  return { request, question: questionOf(request), answer, units, currency, prices, electric, local, found, read };
}

/** The option that the verdict names; undefined when it names none. */
export function chosenOption({ answer }: Pick<Outcome, "answer">): OptionAnswer | undefined {
  return optionOf(answer, answer.verdict.option);
}

/** Repair and top-off are always there: the two that everything else is measured against. */
export function repairAndTopOff(answer: AssessAnswer): { repair: OptionAnswer; topOff: OptionAnswer } {
  return { repair: comparedOption(answer, "repair"), topOff: comparedOption(answer, "top-off") };
}

/** Whether the location of the leak is settled, by test results or by supposing it. */
export function isPlaceKnown({ locations }: AssessAnswer): boolean {
  return locations.some(({ probability }) => probability > 0.99);
}

/** Whether the log has nothing in it, so that the answer rests on what is usual. */
export function isFromPriorOnly({ question }: Pick<Outcome, "question">): boolean {
  return question.log.length === 0;
}

/** What the wording of the answer depends on. */
export function groundOf({
  answer: { verdict, low_now },
  question,
}: Pick<Outcome, "answer" | "question">): AnswerGround {
  return { verdict, low_now, no_entries: question.log.length === 0 };
}

/** Whether emissions have a price: all compared figures then include it. */
export function countsCarbon({ question }: Pick<Outcome, "question">): boolean {
  return question.plan.carbon_price_per_t > 0;
}

/** The average cost that options are compared by: with the carbon price where one is set. */
export function comparedCost(option: OptionAnswer): number {
  return option.expected_cost_with_carbon;
}

/** The compared cost year by year: the money of each year, and the carbon price on its release. */
export function comparedCostByYear({ cost_by_year, release_by_year_g, release_g, ...option }: OptionAnswer): number[] {
  const carbon = option.expected_cost_with_carbon - option.expected_cost;
  return cost_by_year.map((cost, y) => cost + (release_g > 0 ? (carbon * (release_by_year_g[y] ?? 0)) / release_g : 0));
}

/** The option to compare the answer with: the best of the others that are open, tests apart. */
export function rivalOf(outcome: Pick<Outcome, "answer">): OptionAnswer | undefined {
  const focus = focusOption(outcome.answer);
  const open = outcome.answer.options.filter(
    ({ id, offered, leads_to_repair }) => offered && id !== focus.id && leads_to_repair === null,
  );
  return open.toSorted((a, b) => comparedCost(a) - comparedCost(b))[0];
}

/**
 * What a repair costs on the day, on average over where it may leak: location, parts and labor, service and
 * refrigerant, and finding it where that is not known. The same prices as the model's (MODEL §6).
 */
export function repairToday({ answer, question }: Pick<Outcome, "answer" | "question">): number {
  const { price, service, repair_service, shop_refrigerant_per_g, locate_fee } = question.prices;
  const full_service = repair_service + shop_refrigerant_per_g * question.nameplate_g;
  const located = answer.locations.some(({ probability }) => probability >= LOCATED_SHARE);
  return answer.locations.reduce(
    (sum, { probability }, l) => sum + probability * (price[l]! + service[l]! * full_service),
    located ? 0 : locate_fee,
  );
}

/**
 * The ground of the guard against topping off a fast leak: whether any full charge is likely to be low again too soon,
 * or the last one was. Null where that guard does not hold.
 */
export function tooFastBecause({ answer }: Pick<Outcome, "answer">): "any charge" | "last charge" | null {
  if (answer.verdict.guard !== "floor") return null;
  const floor = answer.verdict.reasons.find((reason) => reason.code === "floor");
  return floor === undefined || floor.values.probability > GUARD.likely ? "any charge" : "last charge";
}

/** The watch date of a question's answer, where it has something to say. */
export function watchDateOf({ answer, question }: Pick<Outcome, "answer" | "question">): string | null {
  return watchDateIn(answer, question.plan.keep_years);
}

/**
 * The watch date where it has something to say: topping off is the answer or goes with it, the date lies ahead, and the
 * vehicle is still there then; else null.
 */
export function watchDateIn(answer: AssessAnswer, keep_years: number): string | null {
  const { option } = answer.verdict;
  const { topOff } = repairAndTopOff(answer);
  if ((option !== "top-off" && option !== "dye-test") || !topOff.offered) return null;
  const { watch_date } = topOff;
  if (watch_date === null || watch_date <= answer.as_of) return null;
  return watch_date < monthsAfter(answer.as_of, 12 * keep_years) ? watch_date : null;
}

/** Whether the log has no fill in it: then the answer rests on what is usual, whatever was seen today. */
export function restsOnTypical({ question }: Pick<Outcome, "question">): boolean {
  return !question.log.some(({ added_g, finish }) => (added_g ?? 0) > 0 || finish != null);
}

/** Whether it was seen to cool poorly since the last fill and repair: the newest look of a log, oldest entry first. */
export function isLowAsSeen(log: readonly Pick<LogEntry, "cooling" | "added_g" | "finish" | "repair">[]): boolean {
  const look = log.findLastIndex(({ cooling }) => cooling != null);
  const cooling = log[look]?.cooling;
  if (cooling == null || cooling === "ok") return false;
  // What is done at a visit comes after the look.
  return !log.slice(look).some(({ added_g, finish, repair }) => added_g != null || finish != null || repair != null);
}

/**
 * Why a shop has to top it off in the owner's place: the high voltage that drives its compressor, or the rule that bars
 * the owner; null where neither does.
 */
export function shopOnlyBecause({
  local,
  electric,
}: Pick<Outcome, "local" | "electric">): "high-voltage" | RuledOption | null {
  if (electric === "yes") return "high-voltage";
  if (local.service !== "shop") return null;
  return local.owner_may_not.find(({ option }) => option === "top-off") ?? null;
}
