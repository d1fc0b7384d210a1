import { TOP_UP_NOW_RATIO } from "../../../data/model-constants.ts";
import type { AssessAnswer } from "../question/contract.ts";

/**
 * Whether topping off starts with a top-up on the day of the answer (MODEL §6): the charge is near or under the charge
 * that cools poorly, or a low look stands, which the forecast says by being low today at every chance.
 */
export function isTopUpDue({ as_of, leak, forecast }: Pick<AssessAnswer, "as_of" | "leak" | "forecast">): boolean {
  return forecast.next_low.p90 === as_of || leak.charge_now_g.mean < TOP_UP_NOW_RATIO * leak.low_below_g;
}
