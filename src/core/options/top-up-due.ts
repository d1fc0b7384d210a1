import { TOP_UP_NOW_RATIO } from "../../../data/model-constants.ts";
import type { AssessAnswer } from "../question/contract.ts";

/**
 * Whether topping off starts with a top-up on the day of the answer (MODEL §6): the charge is near or below the charge
 * that cools poorly, or a low look stands, in which case the forecast has it low today.
 */
export function isTopUpDue({ as_of, leak, forecast }: Pick<AssessAnswer, "as_of" | "leak" | "forecast">): boolean {
  return forecast.next_low.p90 === as_of || leak.charge_now_g.mean < TOP_UP_NOW_RATIO * leak.low_below_g;
}
