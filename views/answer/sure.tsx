import { formatMonths } from "../../src/core/quantities/format.ts";
import type { OptionAnswer } from "../../src/core/question/contract.ts";
import { Term } from "../parts/term.tsx";
import { saidChance, saidMoney } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Money } from "../words/said.tsx";
import { chosenOption, type Outcome } from "./outcome.ts";

/** How sure the answer is, in plain words and as a share. */
export function HowSure({ outcome }: { outcome: Outcome }) {
  const { answer, question } = outcome;
  const { option: verdict, guard, tie_break, reasons } = answer.verdict;
  const option = chosenOption(outcome);
  if (option === undefined || verdict === null || verdict === "check-first") return null;
  const floor = reasons.find((reason) => reason.code === "floor");
  if (guard === "floor" && floor !== undefined) {
    return (
      <>
        In {saidChance(floor.values.probability)} cases like this, a full charge lasts less than{" "}
        {formatMonths(question.plan.floor_months)}.
      </>
    );
  }
  if (verdict === "dye-test" || verdict === "electronic-test") {
    const net = verdict === "dye-test" ? answer.value_of.dye_test_net : answer.value_of.electronic_test_net;
    return (
      <>
        A test pays because it can change what you do: on average it saves <Money>{saidMoney(net ?? 0)}</Money> over
        going ahead without it, its own price counted. In {saidChance(option.leads_to_repair ?? 0)} cases it leads to a
        repair.
      </>
    );
  }
  const share = option.probability_cheapest;
  return (
    <>
      {sureness(share)}: in {saidChance(share)} cases like this it turns out to be the{" "}
      <Term id="chance-cheapest">cheapest</Term>
      {tie_break ? ". The others cost nearly the same, so the smaller release decides." : "."}
      <MoreOften outcome={outcome} option={option} />
    </>
  );
}

/** Another way that wins more often than the one that is best on average, where there is one. */
function MoreOften({ outcome, option }: { outcome: Outcome; option: OptionAnswer }) {
  const other = outcome.answer.options.reduce((best, one) =>
    one.probability_cheapest > best.probability_cheapest ? one : best,
  );
  if (other.probability_cheapest <= option.probability_cheapest) return null;
  return (
    <>
      {" "}
      More often, in {saidChance(other.probability_cheapest)}, it is {OPTION_NAMES[other.id].doing}
      {other.expected_cost_with_carbon > option.expected_cost_with_carbon
        ? ", which costs more on average."
        : ", which saves too little on average to be worth the trouble."}
    </>
  );
}

function sureness(share: number): string {
  if (share >= 0.95) return "As sure as this gets";
  if (share >= 0.8) return "Quite sure";
  if (share >= 0.6) return "Fairly sure";
  if (share >= 0.4) return "A close call";
  return "Best on average, though seldom the very best";
}
