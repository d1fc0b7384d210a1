import type { CostBand } from "../../src/core/options/cost-spread.ts";
import type { PageAnswer } from "../../src/core/page-answer.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { AssessAnswer, AssessRequest, OptionAnswer, OptionId } from "../../src/core/question/contract.ts";
import { type Question, questionOf } from "../../src/core/question/question.ts";
import type { FindingId } from "../../src/core/readings/contract.ts";
import { type LocalRules, localRules } from "../../src/core/rules/local-rules.ts";

/** What stands around a question to the model, for the page to say. */
export interface Surroundings {
  /** What the law says where the vehicle is. */
  local: LocalRules;
  /** What readings found, where they count and decide. */
  found: FindingId | null;
}

/** An answer with the question that it belongs to, and how the person wants it said. */
export interface Outcome extends Surroundings {
  request: AssessRequest;
  /** The request with every default filled in. */
  question: Question;
  answer: AssessAnswer;
  units: UnitSystem;
  /** How the cost of the option in focus may run. */
  cost_band: CostBand;
}

/** `around` is as the request was asked; without it, somewhere without rules that we know, and without readings. */
export function outcomeOf(
  request: AssessRequest,
  { cost_band, ...answer }: PageAnswer,
  units: UnitSystem,
  { local, found }: Surroundings = { local: localRules(request, "elsewhere", "USD"), found: null },
): Outcome {
  return { request, question: questionOf(request), answer, units, cost_band, local, found };
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

/** Whether the place of the leak is settled, by findings or by supposing it. */
export function isPlaceKnown({ locations }: AssessAnswer): boolean {
  return locations.some(({ probability }) => probability > 0.99);
}

/** Whether the log has nothing in it, so that the answer rests on what is usual. */
export function isFromPriorOnly({ question }: Outcome): boolean {
  return question.log.length === 0;
}
