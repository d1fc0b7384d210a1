import type { SensitivityRow, SensitivitySide } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { saidMoney } from "../../words/numbers.ts";
import { OPTION_NAMES } from "../../words/places.ts";
import { saidYears } from "../../words/times.ts";
import { type Outcome, repairAndTopOff } from "../outcome.ts";

/** How far each assumption moves the gap between topping off and repairing, and whether that changes the answer. */
export function Sensitivity({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const { repair, topOff } = repairAndTopOff(answer);
  const verdict = answer.verdict.option;
  const turning = answer.sensitivity.filter(({ low, high }) => low.verdict !== verdict || high.verdict !== verdict);
  return (
    <ChartFigure
      id="sensitivity"
      kind="sensitivity"
      shape="tall"
      title={title(turning)}
      summary={
        <>
          Each bar moves one assumption from a low to a high value and shows what topping off then costs more (to the
          right) or less (to the left) than repairing. Where a bar crosses zero, the cheaper of the two changes.
        </>
      }
      settings={{ "data-gap": topOff.expected_cost_with_carbon - repair.expected_cost_with_carbon }}
    >
      <thead>
        <tr>
          <th scope="col" data-column="assumption">
            Assumption
          </th>
          <th scope="col" class="figure-cell" data-column="low">
            At its low value
          </th>
          <th scope="col" class="figure-cell" data-column="high">
            At its high value
          </th>
        </tr>
      </thead>
      <tbody>
        {answer.sensitivity.map(({ assumption, low, high }) => (
          <tr data-kind={turning.some((row) => row.assumption === assumption) ? "turns" : "holds"}>
            <th scope="row" data-short={NAMES[assumption]?.name ?? assumption}>
              {NAMES[assumption]?.name ?? assumption}
            </th>
            <Side side={low} assumption={assumption} />
            <Side side={high} assumption={assumption} />
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function title(turning: readonly SensitivityRow[]): string {
  const names = turning.map(({ assumption }) => (NAMES[assumption]?.name ?? assumption).toLowerCase());
  switch (names.length) {
    case 0:
      return "No single assumption changes the answer";
    case 1:
      return `One assumption could change the answer: ${names[0]}`;
    case 2:
      return `Two assumptions could change the answer: ${names[0]} and ${names[1]}`;
    default:
      return `${names.length} assumptions could change the answer, ${names[0]} most of all`;
  }
}

function Side({ side, assumption }: { side: SensitivitySide; assumption: string }) {
  const { verdict } = side;
  return (
    <td class="figure-cell">
      <data value={side.gap}>{saidMoney(side.gap)}</data>
      <small>
        {NAMES[assumption]?.said(side.value) ?? side.value}:{" "}
        {verdict === null
          ? "none open"
          : verdict === "check-first"
            ? "check first"
            : OPTION_NAMES[verdict].name.toLowerCase()}
      </small>
    </td>
  );
}

interface AssumptionName {
  name: string;
  said: (value: number) => string;
}

const percent = (value: number) => `${Math.round(value * 100)} %`;
const times = (value: number) => `× ${value}`;

const NAMES: Readonly<Record<string, AssumptionName>> = {
  keep_years: { name: "Years kept", said: saidYears },
  repair_prices: { name: "Repair prices", said: times },
  refrigerant_price: { name: "Refrigerant price", said: times },
  low_fraction: { name: "Where cooling turns weak", said: percent },
  discount: { name: "Discount rate", said: percent },
  refrigerant_growth: { name: "Refrigerant price rise", said: percent },
  damage_chance: { name: "Harm of running low", said: percent },
  relapse_rate: { name: "Repairs that leak again", said: percent },
  seep_fraction: { name: "Normal seep", said: percent },
  hour_worth: { name: "Worth of your hour", said: saidMoney },
  carbon_price_per_t: { name: "Carbon price", said: saidMoney },
};
