import { answerOf } from "./assess.ts";
import { type CostBand, costBandOf } from "./options/cost-spread.ts";
import { outlookOfRequest } from "./options/outlook.ts";
import type { AssessAnswer, AssessRequest, OptionAnswer } from "./question/contract.ts";

/** The answer with what only a page shows beside it. */
export interface PageAnswer extends AssessAnswer {
  /** How the cost of the option in focus may run. */
  cost_band: CostBand;
}

/** `assess` for a page: the same answer, and the band, which takes the same posterior. */
export function pageAnswer(request: AssessRequest, options: { sensitivity?: boolean } = {}): PageAnswer {
  const outlook = outlookOfRequest(request);
  const answer = answerOf(outlook, options);
  return { ...answer, cost_band: costBandOf(outlook, focusOption(answer).id) };
}

/** The option that the charts dwell on: the one of the verdict, else topping off. */
export function focusOption({ verdict, options }: AssessAnswer): OptionAnswer {
  const focus = options.find(({ id }) => id === verdict.option) ?? options.find(({ id }) => id === "top-off");
  if (focus === undefined) throw new RangeError("An answer without topping off");
  return focus;
}
