import type { Child } from "hono/jsx";
import type { OptionAnswer } from "../../src/core/question/contract.ts";
import { Term } from "../parts/term.tsx";
import { saidChance, saidCo2e, saidMass, saidMoney } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { saidYears } from "../words/times.ts";
import type { Outcome } from "./outcome.ts";

/** Every option beside the others: what it costs, what it lets out, how often it turns out cheapest. */
export function OptionsTable({ outcome }: { outcome: Outcome }) {
  const { answer, question } = outcome;
  return (
    <table class="options">
      <caption class="visually-hidden">
        The options over {saidYears(question.plan.keep_years)}: cost, release, chance of being cheapest
      </caption>
      <thead>
        <tr>
          <th scope="col">Option</th>
          <th scope="col" class="figure-cell">
            <Term id="expected-cost">Cost on average</Term>
            <br />
            <Term id="likely-range">likely range</Term>
          </th>
          <th scope="col" class="figure-cell">
            Release
            <br />
            <Term id="co2e">as CO₂e</Term>
          </th>
          <th scope="col" class="figure-cell">
            <Term id="chance-cheapest">Cheapest</Term> in
          </th>
        </tr>
      </thead>
      <tbody>
        {answer.options.map((option) => (
          <OptionRow option={option} outcome={outcome} />
        ))}
      </tbody>
    </table>
  );
}

function OptionRow({ option, outcome }: { option: OptionAnswer; outcome: Outcome }) {
  const chosen = option.id === outcome.answer.verdict.option;
  return (
    <tr class={chosen ? "chosen" : undefined} data-option={option.id}>
      <th scope="row">
        {OPTION_NAMES[option.id].name}
        {chosen && <small>the answer</small>}
        {option.not_offered_because !== null && <small>{whyNot(option.not_offered_because)}</small>}
      </th>
      <td class="figure-cell">
        <data class="money" value={option.expected_cost}>
          {saidMoney(option.expected_cost)}
        </data>
        <small>
          {saidMoney(option.cost_p05)} to {saidMoney(option.cost_p95)}
        </small>
      </td>
      <td class="figure-cell">
        <data class="release" value={option.release_g}>
          {saidMass(option.release_g, outcome.units)}
        </data>
        <small>
          {outcome.units === "us" && (
            <>
              {saidMass(option.release_g, "metric")}
              <br />
            </>
          )}
          <data value={option.co2e_kg}>{saidCo2e(option.co2e_kg)} CO₂e</data>
        </small>
      </td>
      <td class="figure-cell">
        {option.offered ? (
          <data value={option.probability_cheapest}>{saidChance(option.probability_cheapest)}</data>
        ) : (
          <span class="soft">not open</span>
        )}
      </td>
    </tr>
  );
}

function whyNot(because: NonNullable<OptionAnswer["not_offered_because"]>): Child {
  return because === "rule" ? <a href="#local-rules">barred by local rules</a> : WHY_NOT[because];
}

const WHY_NOT = {
  empty: "no pressure is left",
  floor: "the leak is too fast for it",
  done: "done already",
} as const;
