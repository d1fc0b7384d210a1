import type { OptionAnswer } from "../../src/core/question/contract.ts";
import { Term } from "../parts/term.tsx";
import { sureness } from "../words/answer-words.ts";
import { capitalized } from "../words/in-sentence.ts";
import { saidChance, saidMoney } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Money, Whole } from "../words/said.tsx";
import { saidMonths } from "../words/times.ts";
import { chosenOption, comparedCost, type Outcome, restsOnTypical, tooFastBecause } from "./outcome.ts";
import { Tie } from "./tie.tsx";

/** How certain the answer is, in plain words and as a chance. */
export function HowSure({ outcome }: { outcome: Outcome }) {
  const { answer, question, currency } = outcome;
  const { option: verdict, guard, reasons } = answer.verdict;
  const option = chosenOption(outcome);
  const surprise = reasons.find((reason) => reason.code === "surprise");
  if (surprise !== undefined) {
    return (
      <>
        Going by the log, it would be low this soon in only {saidChance(surprise.values.probability)} cases. Gauge and
        vent readings tell which it is.
      </>
    );
  }
  if (option === undefined || verdict === null || verdict === "check-first") return null;
  const floor = reasons.find((reason) => reason.code === "floor");
  if (guard === "floor" && floor !== undefined) {
    const { probability } = floor.values;
    if (tooFastBecause(outcome) === "any charge")
      return (
        <>
          {sureness(probability)}: that is so in {saidChance(probability)} cases like yours.
        </>
      );
    return (
      <>
        In <Whole>{saidChance(floor.values.probability)}</Whole> cases like yours, a full charge is low again in under{" "}
        {saidMonths(question.plan.floor_months)}.
      </>
    );
  }
  if (guard === "empty") return <>Air and moisture get into a system without pressure, and a top-off seals them in.</>;
  if (verdict === "dye-test" || verdict === "electronic-test") {
    const net = verdict === "dye-test" ? answer.value_of.dye_test_net : answer.value_of.electronic_test_net;
    return (
      <>
        The test is worth it because it can change your decision. After paying for it, you save about{" "}
        <Money>{saidMoney(net ?? 0, currency)}</Money> on average. It leads to a repair in{" "}
        {saidChance(option.leads_to_repair ?? 0)} cases.
      </>
    );
  }
  const share = option.probability_cheapest;
  const typical = restsOnTypical(outcome);
  return (
    <>
      {sureness(share, typical)}: the <Term id="chance-cheapest">cheapest</Term> option in{" "}
      <Whole>{saidChance(share)}</Whole> {typical ? "such vehicles" : "cases like yours"}.
      <MoreOften outcome={outcome} option={option} />
      <Tie outcome={outcome} />
    </>
  );
}

/** Another option that is cheapest more often than the one that is best on average, where there is one. */
function MoreOften({ outcome, option }: { outcome: Outcome; option: OptionAnswer }) {
  const other = outcome.answer.options.reduce((best, one) =>
    one.probability_cheapest > best.probability_cheapest ? one : best,
  );
  if (other.leads_to_repair !== null || other.probability_cheapest <= option.probability_cheapest) return null;
  if (comparedCost(other) <= comparedCost(option)) return null;
  return (
    <>
      {" "}
      {capitalized(OPTION_NAMES[other.id].doing)} is the cheapest more often ({saidChance(other.probability_cheapest)}),
      but costs more on average.
    </>
  );
}
