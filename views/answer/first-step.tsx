import { GENERAL_CURRENCY } from "../../data/currencies.ts";
import { FIRST_STEP } from "../../data/first-step.ts";
import type { FirstStep as Step } from "../../src/core/question/contract.ts";
import { Entry } from "../parts/entry.tsx";
import { estimated, saidChance, saidMoney } from "../words/numbers.ts";
import type { Ways } from "./next-step.tsx";
import type { Outcome } from "./outcome.ts";

/** The cheapest repair, before any test or top-off: price, chance and steps. Nothing where the ports are unlikely. */
export function FirstStep({ outcome, ways }: { outcome: Outcome; ways?: Ways | undefined }) {
  const { first_step } = outcome.answer;
  if (first_step === null) return null;
  return (
    <Entry name="Cheapest first" id="first-step">
      <p>
        <strong>
          Look it over, and put new sealing caps on the service ports
          {outcome.currency === GENERAL_CURRENCY &&
            ` (${saidMoney(FIRST_STEP.caps_price, GENERAL_CURRENCY)}; the look is free)`}
          .
        </strong>{" "}
        The leak is at a port in {saidChance(first_step.probability)} cases.
      </p>
      <details class="fold-in">
        <summary>How to do it</summary>
        <p>The cap is the port's main seal. {saidCores(first_step, outcome.currency)}</p>
        <ol class="steps">
          {FIRST_STEP.steps.map(({ does, caution }) => (
            <li>
              {does}
              {caution !== null && <p class="step-caution">{caution}</p>}
            </li>
          ))}
        </ol>
        <p class="small soft">{FIRST_STEP.source}</p>
        {ways !== undefined && <Then ways={ways} />}
      </details>
    </Entry>
  );
}

/** What new cores cost, and whether that pays before the leak is found. */
function saidCores({ price, ends_leak, saves }: Step, currency: string): string {
  const cores = `New valve cores as well cost about ${saidMoney(price, currency)} at a shop, without refrigerant, and end the leak in ${saidChance(ends_leak)} cases.`;
  if (estimated(saves) > 0) return `${cores} Done first, they save about ${saidMoney(saves, currency)} on average.`;
  if (estimated(saves) === 0) return `${cores} On average they are worth about what they cost.`;
  return `${cores} On average that costs about ${saidMoney(-saves, currency)} more than it saves, so have them replaced when the system is open anyway, or if you find oil at a port.`;
}

function Then({ ways: { leak_tests, log_look, log_repair } }: { ways: Ways }) {
  return (
    <p class="next-step">
      <a href={`${leak_tests}#visual`}>How to look it over</a>
      {log_look !== null && <a href={log_look}>Log what you saw</a>}
      {log_repair !== null && <a href={log_repair}>Log new caps and cores</a>}
    </p>
  );
}
