import { TOP_UP_NOW_RATIO } from "../../data/model-constants.ts";
import type { AssessAnswer, AssessRequest, OptionAnswer, OptionId } from "../../src/core/contract.ts";
import { type CostBand, costBand } from "../../src/core/cost-band.ts";
import { type Question, questionOf } from "../../src/core/question.ts";
import type { UnitSystem } from "../../src/core/units.ts";

/** An answer with the question that it belongs to, and how the person wants it said. */
export interface Outcome {
  request: AssessRequest;
  /** The request with every default filled in. */
  question: Question;
  answer: AssessAnswer;
  units: UnitSystem;
  /** How the cost of the option in focus may run. */
  cost_band: CostBand;
}

export function outcomeOf(request: AssessRequest, answer: AssessAnswer, units: UnitSystem): Outcome {
  const cost_band = costBand(request, focusOption(answer).id);
  return { request, question: questionOf(request), answer, units, cost_band };
}

/** The option that the charts dwell on: the one of the verdict, else topping off. */
export function focusOption(answer: AssessAnswer): OptionAnswer {
  return chosenOption({ answer }) ?? repairAndTopOff(answer).topOff;
}

/** The numbers of one option; `live-without` is absent when a season has no worth. */
export function optionOf(answer: AssessAnswer, id: OptionId): OptionAnswer | undefined {
  return answer.options.find((option) => option.id === id);
}

/** The option that the verdict names; undefined when it names none. */
export function chosenOption({ answer }: Pick<Outcome, "answer">): OptionAnswer | undefined {
  const { option } = answer.verdict;
  return option === null || option === "check-first" ? undefined : optionOf(answer, option);
}

/** Repair and top-off are always there: the two that everything else is measured against. */
export function repairAndTopOff(answer: AssessAnswer): { repair: OptionAnswer; topOff: OptionAnswer } {
  const repair = optionOf(answer, "repair");
  const topOff = optionOf(answer, "top-off");
  if (repair === undefined || topOff === undefined) throw new RangeError("An answer without repair or top-off");
  return { repair, topOff };
}

/** Whether topping off starts with a top-up today: the charge is near or under the low line (MODEL §6). */
export function isTopUpDue({ leak }: AssessAnswer): boolean {
  return leak.charge_now_g.mean < TOP_UP_NOW_RATIO * leak.low_below_g;
}

/** Whether the place of the leak is settled, by findings or by supposing it. */
export function isPlaceKnown({ locations }: AssessAnswer): boolean {
  return locations.some(({ probability }) => probability > 0.99);
}

/** Whether the log has nothing in it, so that the answer rests on what is usual. */
export function isFromPriorOnly({ question }: Outcome): boolean {
  return question.log.length === 0;
}
