import type { Child } from "hono/jsx";
import { formatMoney } from "../../src/core/quantities/format.ts";
import type { OptionAnswer } from "../../src/core/question/contract.ts";
import { comparedOption } from "../../src/core/question/option-of.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { Term } from "../parts/term.tsx";
import { estimated, saidCo2e, saidMass, saidMoney, saidMoneySpan } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { saidYears } from "../words/times.ts";
import { comparedCost, countsCarbon, type Outcome, repairToday } from "./outcome.ts";

/** All options side by side, the answer first: costs and release. */
export function OptionsTable({ outcome }: { outcome: Outcome }) {
  const { answer, question } = outcome;
  const chosen = ({ id }: OptionAnswer) => id === answer.verdict.option;
  const options = answer.options.toSorted(
    (a, b) =>
      Number(chosen(b)) - Number(chosen(a)) ||
      Number(b.offered) - Number(a.offered) ||
      comparedCost(a) - comparedCost(b),
  );
  return (
    <>
      <table class="options">
        <caption>
          Average cost, likely range and refrigerant released, over {saidYears(question.plan.keep_years)}
          {countsCarbon(outcome) &&
            `, with CO₂e at ${saidMoney(question.plan.carbon_price_per_t, outcome.currency)} a metric ton`}
        </caption>
        <thead>
          <tr>
            <th scope="col">Option</th>
            <th scope="col" class="figure-cell">
              <Term id="expected-cost">Average cost</Term>
              <br />
              <Term id="likely-range">likely range</Term>
            </th>
            <th scope="col" class="figure-cell">
              Release
              <br />
              <Term id="co2e">as CO₂e</Term>
            </th>
          </tr>
        </thead>
        <tbody>
          {options.map((option) => (
            <OptionRow option={option} outcome={outcome} />
          ))}
        </tbody>
      </table>
      <RepairParts outcome={outcome} />
    </>
  );
}

function OptionRow({ option, outcome }: { option: OptionAnswer; outcome: Outcome }) {
  const { answer, units, currency } = outcome;
  const chosen = option.id === answer.verdict.option;
  const cost = comparedCost(option);
  return (
    <tr class={chosen ? "chosen" : option.offered ? undefined : "closed"} data-option={option.id}>
      <th scope="row">
        {OPTION_NAMES[option.id].name}
        {chosen && <small>the answer</small>}
        {option.not_offered_because !== null && <small>{whyNot(option, outcome)}</small>}
      </th>
      <FigureCell heading="Average cost">
        <data class="money" value={cost}>
          {saidMoney(cost, currency)}
        </data>
        <small>
          {saidMoneySpan(option.cost_p05, option.cost_p95, currency)}
          {countsCarbon(outcome) && " before CO₂e"}
        </small>
      </FigureCell>
      <FigureCell heading="Release">
        <data class="release" value={option.release_g}>
          {saidMass(option.release_g, units)}
        </data>
        <small>
          <data value={option.co2e_kg}>{saidCo2e(option.co2e_kg)} CO₂e</data>
        </small>
      </FigureCell>
    </tr>
  );
}

/** The parts of a repair's average cost: paid on the day, and later. */
function RepairParts({ outcome }: { outcome: Outcome }) {
  const { answer, currency } = outcome;
  const repair = comparedOption(answer, "repair");
  const today = estimated(repairToday(outcome));
  const later = estimated(repair.expected_cost) - today;
  const carbon = estimated(comparedCost(repair)) - estimated(repair.expected_cost);
  if (later <= 0) return null;
  return (
    <p class="small soft" id="repair-parts">
      Repairing it: {formatMoney(today, currency)} on the day, about {formatMoney(later, currency)} later on average, as
      it may not hold, may leak again, and seeps.
      {carbon > 0 && ` CO₂e adds ${formatMoney(carbon, currency)}.`}
    </p>
  );
}

function whyNot({ id, not_offered_because: because }: OptionAnswer, { local, electric }: Outcome): Child {
  if (because === null) return null;
  if (because !== "rule") return WHY_NOT[because];
  const by_law = local.barred.some(({ option }) => option === id);
  return electric === "yes" && !by_law ? "not with high voltage" : <a href="#local-rules">not allowed here</a>;
}

const WHY_NOT = {
  empty: "not on an empty system",
  floor: "leak too fast",
  done: "already done",
} as const;
