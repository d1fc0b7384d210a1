import type { Child } from "hono/jsx";
import { Term } from "../parts/term.tsx";
import { saidMass, saidMoney, saidPercent, saidTimes } from "../words/numbers.ts";
import { Charge, Money } from "../words/said.tsx";
import type { Outcome } from "./outcome.ts";

/** The values at which topping off and repairing cost the same. */
export function BreakEvens({ outcome }: { outcome: Outcome }) {
  const { answer, units } = outcome;
  const { leak_g_per_year, repair_price_factor, carbon_price_per_t, season_worth } = answer.break_even;
  const lines: Child[] = [];
  if (leak_g_per_year !== null) {
    lines.push(
      <>
        the <Term id="leak-rate">leak</Term> is <Charge>{saidMass(leak_g_per_year, units)} a year</Charge> (it is likely
        about {saidMass(answer.leak.g_per_year.mean, units)})
      </>,
    );
  }
  if (repair_price_factor !== null) {
    lines.push(
      <>
        repairs cost{" "}
        <Money>
          {repair_price_factor < 1 ? `${saidPercent(repair_price_factor)} of` : saidTimes(repair_price_factor)}
        </Money>{" "}
        the prices assumed
      </>,
    );
  }
  if (carbon_price_per_t !== null) {
    lines.push(
      <>
        a tonne of <Term id="co2e">CO₂e</Term> is priced at <Money>{saidMoney(carbon_price_per_t)}</Money>
      </>,
    );
  }
  if (season_worth !== null && outcome.question.plan.season_worth !== null) {
    lines.push(
      <>
        a year of cooling is worth <Money>{saidMoney(season_worth)}</Money> to you
      </>,
    );
  }
  if (lines.length === 0) return <p>Topping off and repairing never cost the same here, whatever one number does.</p>;
  return (
    <>
      <p>
        All else as it is, topping off and repairing <Term id="break-even">break even</Term> when
      </p>
      <ul class="bullets">
        {lines.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
    </>
  );
}
