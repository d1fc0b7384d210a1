import type { Child } from "hono/jsx";
import { Term } from "../parts/term.tsx";
import { bestLeak_g, saidLeak } from "../words/estimates.ts";
import { saidMass, saidMoney } from "../words/numbers.ts";
import { Charge, Money } from "../words/said.tsx";
import { comparedCost, type Outcome, repairAndTopOff, repairToday } from "./outcome.ts";

/** Break-evens beyond these are of no practical use. */
const MOST_CARBON_PER_T = 1000;
const MOST_CHARGES_A_YEAR = 3;

/**
 * Where topping off and repairing cost the same; null where that lies on the wrong side, or beyond what can be acted
 * on.
 */
export interface TellingBreakEvens {
  leak_g_per_year: number | null;
  repair_price: { factor: number; at: number; now: number } | null;
  carbon_price_per_t: number | null;
}

/**
 * The break-evens worth showing: each is where the option that is now more expensive becomes the cheaper one. For a
 * repair: the whole price on the day at which the two cost the same, and the price now.
 */
export function tellingBreakEvens(outcome: Pick<Outcome, "answer" | "question">): TellingBreakEvens {
  const { answer, question } = outcome;
  const { leak_g_per_year: leak, repair_price_factor: factor, carbon_price_per_t: carbon } = answer.break_even;
  const { repair, topOff } = repairAndTopOff(answer);
  const topping_is_cheaper = comparedCost(topOff) < comparedCost(repair);
  const best = bestLeak_g(answer.leak.g_per_year);
  const leak_tells =
    leak !== null &&
    leak <= MOST_CHARGES_A_YEAR * question.nameplate_g &&
    (topping_is_cheaper ? leak > best : leak < best);
  const price_tells = factor !== null && (topping_is_cheaper ? factor < 1 : factor > 1);
  const carbon_tells =
    carbon !== null && topping_is_cheaper && carbon > question.plan.carbon_price_per_t && carbon <= MOST_CARBON_PER_T;
  return {
    leak_g_per_year: leak_tells ? leak : null,
    repair_price: price_tells ? repairPriceAt(outcome, factor) : null,
    carbon_price_per_t: carbon_tells ? carbon : null,
  };
}

/** The price on the day when all locations' prices are multiplied by `factor`; the service around them stays. */
function repairPriceAt(outcome: Pick<Outcome, "answer" | "question">, factor: number) {
  const now = repairToday(outcome);
  const { price } = outcome.question.prices;
  const parts = outcome.answer.locations.reduce((sum, { probability }, l) => sum + probability * price[l]!, 0);
  return { factor, now, at: now + (factor - 1) * parts };
}

/** The values at which topping off, with a repair later where it pays, and repairing now cost the same. */
export function BreakEvens({ outcome }: { outcome: Outcome }) {
  const { answer, question, units, currency } = outcome;
  const { leak_g_per_year, repair_price, carbon_price_per_t } = tellingBreakEvens(outcome);
  const { season_worth } = answer.break_even;
  const lines: Child[] = [];
  if (leak_g_per_year !== null) {
    lines.push(
      <>
        the <Term id="leak-rate">leak</Term> were <Charge>{saidMass(leak_g_per_year, units)} a year</Charge> (best
        estimate: {saidLeak(answer.leak.g_per_year, units).best})
      </>,
    );
  }
  if (repair_price !== null) {
    lines.push(
      <>
        a repair cost <Money>{saidMoney(repair_price.at, currency)}</Money> on the day (now:{" "}
        {saidMoney(repair_price.now, currency)})
      </>,
    );
  }
  if (carbon_price_per_t !== null) {
    lines.push(
      <>
        a metric ton of <Term id="co2e">CO₂e</Term> cost <Money>{saidMoney(carbon_price_per_t, currency)}</Money>
      </>,
    );
  }
  return (
    <>
      {lines.length === 0 ? (
        <p>No single number, changed within reason, would make repairing now and topping off cost the same.</p>
      ) : (
        <>
          <p>
            Topping off and repairing now would <Term id="break-even">cost the same</Term> if
          </p>
          <ul class="bullets">
            {lines.map((line) => (
              <li>{line}</li>
            ))}
          </ul>
        </>
      )}
      {season_worth !== null && question.plan.season_worth !== null && (
        <p>
          Going without is the cheapest only while a year of cooling is worth less than{" "}
          <Money>{saidMoney(season_worth, currency)}</Money> to you.
        </p>
      )}
    </>
  );
}
