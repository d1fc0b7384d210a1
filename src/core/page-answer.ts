import { answerOf, outlookForAnswer } from "./assess.ts";
import { curveAhead, type LikelyLow, likelyLowOf } from "./leak/forecast.ts";
import { DAYS_PER_YEAR } from "./leak/leak-clock.ts";
import { posteriorOf } from "./leak/posterior.ts";
import { type CostBand, costBandOf, paidToday } from "./options/cost-spread.ts";
import type { Outlook } from "./options/outlook.ts";
import { repairWorth } from "./options/repair-worth.ts";
import { isTopUpDue } from "./options/top-up-due.ts";
import { dayNumber } from "./quantities/dates.ts";
import type { AssessAnswer, AssessRequest, CurvePoint, OptionAnswer } from "./question/contract.ts";
import { comparedOption, optionOf } from "./question/option-of.ts";
import { questionOf } from "./question/question.ts";

/** The answer, and what only a page shows besides. */
export interface PageAnswer extends AssessAnswer {
  /** Range of the money spent on the option in focus by the end of each year. */
  cost_band: CostBand;
  /** What each option costs on the day itself, on average, in the order of `options`. */
  paid_today: number[];
  /** Up to what price on the day a repair pays once the advised test has shown where it leaks; else null. */
  repair_worth: number | null;
  /** Whether topping off would start with a top-off today: it is low, or nearly so (MODEL §6). */
  low_now: boolean;
  /** The likely range of the next low charge, 5 to 95 %. */
  likely_low: LikelyLow;
  /** The charge from today on if it is topped off today, where that is the answer; else null. */
  topped_off: CurvePoint[] | null;
}

/** The answer of `assess` with what a page shows besides; the posterior is worked out once. */
export function pageAnswer(request: AssessRequest, options: { sensitivity?: boolean } = {}): PageAnswer {
  const outlook = outlookForAnswer(request, options);
  const answer = answerOf(outlook, options);
  const low_now = isTopUpDue(answer);
  const { option } = answer.verdict;
  return {
    ...answer,
    cost_band: costBandOf(outlook, focusOption(answer).id),
    paid_today: paidToday(outlook),
    repair_worth: repairWorth(outlook),
    low_now,
    likely_low: likelyLowOf(outlook.question, outlook.posterior, outlook.nodes),
    topped_off: low_now && (option === "top-off" || option === "dye-test") ? toppedOff(request, answer, outlook) : null,
  };
}

/** The option that the charts focus on: the one of the verdict, else topping off. */
export function focusOption(answer: AssessAnswer): OptionAnswer {
  return optionOf(answer, answer.verdict.option) ?? comparedOption(answer, "top-off");
}

/** How many years a topped-off charge is plotted: past the watch date, but no further than is useful. */
const CURVE_YEARS = { least: 2, past_watch: 0.25, most: 6 } as const;

/** The curve of the charge if it is topped off today with what is missing on average. */
function toppedOff(request: AssessRequest, answer: AssessAnswer, { question }: Outlook): CurvePoint[] {
  const missing_g = Math.max(0, question.nameplate_g - answer.leak.charge_now_g.mean);
  const by_cans = question.plan.service === "diy";
  const filled = questionOf({
    ...request,
    log: [
      ...(request.log ?? []),
      {
        date: request.as_of,
        added_g: by_cans ? missing_g / (1 - question.assumptions.heel) : missing_g,
        added_by: by_cans ? "cans" : "scale",
        finish: "unknown",
      },
    ],
  });
  const { watch_date } = comparedOption(answer, "top-off");
  const watched = watch_date === null ? 0 : (dayNumber(watch_date) - question.as_of_day) / DAYS_PER_YEAR;
  const years = Math.min(CURVE_YEARS.most, Math.max(CURVE_YEARS.least, watched + CURVE_YEARS.past_watch));
  return curveAhead(filled, posteriorOf(filled, { record: false }), years);
}
