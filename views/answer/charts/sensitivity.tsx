import type { SensitivityRow, SensitivitySide } from "../../../src/core/question/contract.ts";
import { ChartFigure } from "../../parts/figure.tsx";
import { ChartHead } from "../../parts/table-head.tsx";
import { OPTION_ANSWERS } from "../../words/answer-words.ts";
import { inSentence } from "../../words/in-sentence.ts";
import { saidMoney } from "../../words/numbers.ts";
import { saidYears } from "../../words/times.ts";
import { comparedCost, type Outcome, repairAndTopOff } from "../outcome.ts";

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
      title={title(turning, outcome)}
      summary={
        <>
          Each bar changes one assumption from low to high. Left of zero, topping off is cheaper; right of zero, repair
          is.
          {turning.length > 0 && " A dark bar changes the answer, to what stands beside it."}
        </>
      }
      settings={{
        "data-gap": comparedCost(topOff) - comparedCost(repair),
        "data-currency": saidMoney(0, outcome.currency).replace("0", "").trim(),
      }}
    >
      <ChartHead
        words={{ assumption: "Assumption" }}
        figures={{ low: "At its low value", high: "At its high value" }}
      />
      <tbody>
        {answer.sensitivity.map(({ assumption, low, high }) => (
          <tr
            data-kind={turning.some((row) => row.assumption === assumption) ? "turns" : "holds"}
            data-turns-to={turnsTo({ assumption, low, high }, outcome) ?? undefined}
          >
            <th scope="row" data-short={NAMES[assumption]?.short ?? NAMES[assumption]?.name ?? assumption}>
              {NAMES[assumption]?.name ?? assumption}
            </th>
            <Side side={low} assumption={assumption} currency={outcome.currency} />
            <Side side={high} assumption={assumption} currency={outcome.currency} />
          </tr>
        ))}
      </tbody>
    </ChartFigure>
  );
}

function nameOf({ assumption }: SensitivityRow): string {
  return inSentence(NAMES[assumption]?.name ?? assumption);
}

/** How an assumption changes the answer, in few words: `at 10 years: repair it`; null where it does not. */
function turnsTo({ assumption, low, high }: SensitivityRow, { answer, currency }: Outcome): string | null {
  const turned = [low, high].find(({ verdict }) => verdict !== answer.verdict.option);
  if (turned === undefined) return null;
  const value = NAMES[assumption]?.said(turned.value, currency) ?? String(turned.value);
  return `at ${value}: ${inSentence(OPTION_ANSWERS[turned.verdict ?? "none"])}`;
}

function title(turning: readonly SensitivityRow[], outcome: Outcome): string {
  const [first, second] = turning;
  if (first === undefined) return "No single assumption changes the answer";
  const to = turnsTo(first, outcome);
  if (second === undefined) return `One assumption could change the answer: ${nameOf(first)} (${to})`;
  return turning.length === 2
    ? `Two assumptions could change the answer: ${nameOf(first)} (${to}) and ${nameOf(second)}`
    : `${turning.length} assumptions could change the answer, ${nameOf(first)} most of all (${to})`;
}

function Side({ side, assumption, currency }: { side: SensitivitySide; assumption: string; currency: string }) {
  return (
    <td class="figure-cell">
      <data value={side.gap}>{saidMoney(side.gap, currency)}</data>
      <small>
        {NAMES[assumption]?.said(side.value, currency) ?? side.value}:{" "}
        {inSentence(OPTION_ANSWERS[side.verdict ?? "none"])}
      </small>
    </td>
  );
}

interface AssumptionName {
  name: string;
  /** Beside a bar. */
  short?: string;
  said: (value: number, currency: string) => string;
}

const percent = (value: number) => `${Math.round(value * 100)}%`;
const times = (value: number) => `${value} times`;

const NAMES: Readonly<Record<string, AssumptionName>> = {
  keep_years: { name: "Years kept", said: saidYears },
  repair_prices: { name: "Repair prices", said: times },
  refrigerant_price: { name: "Refrigerant price", said: times },
  low_fraction: { name: "Charge level where cooling gets poor", short: "Poor cooling below", said: percent },
  discount: { name: "Discount rate", said: percent },
  refrigerant_growth: { name: "Refrigerant price rise", said: percent },
  damage_chance: { name: "Compressor damage from running low", short: "Compressor damage", said: percent },
  relapse_rate: { name: "Repairs that leak again", said: percent },
  seep_fraction: { name: "Normal seepage", said: percent },
  hour_worth: { name: "Value of your time", said: saidMoney },
  carbon_price_per_t: { name: "Carbon price", said: saidMoney },
};
