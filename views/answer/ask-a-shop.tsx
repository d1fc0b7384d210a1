import { LOCATED_SHARE } from "../../data/model-constants.ts";
import { formatMoney } from "../../src/core/quantities/format.ts";
import { ouncesFromGrams, type UnitSystem } from "../../src/core/quantities/units.ts";
import { Entry } from "../parts/entry.tsx";
import { answerKind } from "../words/answer-words.ts";
import { estimated, joined, saidExactMass, saidMoney, saidMoneySpan } from "../words/numbers.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { Unbroken } from "../words/said.tsx";
import { ASK_A_SHOP, type Ways } from "./next-step.tsx";
import { groundOf, type Outcome } from "./outcome.ts";

const FOR_A_SHOP = new Set(["repair", "repair-fast", "repair-empty", "find-leak", "electronic-test"]);

/** Where a shop is the next step: what to ask it for, what that should cost and why, what to refuse. */
export function AskAShop({ outcome, ways }: { outcome: Outcome; ways?: Ways | undefined }) {
  if (!FOR_A_SHOP.has(answerKind(groundOf(outcome)))) return null;
  const price = priceOf(outcome);
  const asks = asksOf(outcome);
  return (
    <Entry name="At the shop" id={ASK_A_SHOP}>
      <div class="ask-a-shop">
        <h3>A fair price: {price.range}</h3>
        <details class="fold-in" data-opened-by={ASK_A_SHOP}>
          <summary>Its parts, what to ask for, what to refuse</summary>
          <p>{price.parts}</p>
          <h3>Ask for</h3>
          <ol>
            {asks.map((ask) => (
              <li>
                <Unbroken text={ask} />
              </li>
            ))}
          </ol>
          <h3>Say no to</h3>
          <ul>
            {REFUSALS.map((refusal) => (
              <li>{refusal}</li>
            ))}
          </ul>
          <p class="next-step">
            <a class="button-quiet" href={mailOf(outcome, asks, price.range)}>
              Send this by e-mail
            </a>
            {ways?.quote != null && <a href={ways.quote}>Write a quote</a>}
          </p>
        </details>
      </div>
    </Entry>
  );
}

const REFUSALS = [
  "Sealer. It damages seals and recovery machines, and many shops then refuse the car.",
  "A refill without a search for the leak.",
  "A new part before anyone has shown you where it leaks.",
] as const;

function asksOf({ question, units }: Outcome): string[] {
  const charge = exactly(question.nameplate_g, units);
  return [
    "Find the leak, and show me where it is, before anything is repaired.",
    "Recover what is left. Don't vent it.",
    "Repair it, and replace the seals that were opened. If the system was empty or open, replace the drier too.",
    "Evacuate it, and check that it holds the vacuum.",
    `Charge ${charge} of ${question.refrigerant} by weight, and write the amount on the bill.`,
    "Check it again in a month.",
  ];
}

/** The price on the day from the cheapest to the most expensive location, and its parts, from the prices in use. */
function priceOf({ answer, question, currency }: Outcome) {
  const { price, service, repair_service, shop_refrigerant_per_g, locate_fee } = question.prices;
  const refrigerant = shop_refrigerant_per_g * question.nameplate_g;
  const known = answer.locations.find(({ probability }) => probability >= LOCATED_SHARE);
  const totals = answer.locations.flatMap(({ id, probability }, l) =>
    known === undefined ? (probability > 0 ? [wholeOf(l, locate_fee)] : []) : id === known.id ? [wholeOf(l, 0)] : [],
  );
  function wholeOf(l: number, locate: number): number {
    return locate + price[l]! + service[l]! * (repair_service + refrigerant);
  }
  const said = (amount: number) => saidMoney(amount, currency);
  const least = Math.min(...totals);
  const most = Math.max(...totals);
  const parts = [
    ...(known === undefined && locate_fee > 0 ? [`${said(locate_fee)} to find the leak`] : []),
    known === undefined
      ? `${saidMoneySpan(Math.min(...price), Math.max(...price), currency)} for parts and labor, by where it leaks`
      : `${said(price[answer.locations.indexOf(known)]!)} for parts and labor at ${PLACE_NAMES[known.id].at}`,
    `${said(repair_service)} to recover, evacuate and recharge`,
    `${formatMoney(estimated(refrigerant), currency)} for ${question.refrigerant}`,
  ];
  return {
    range: saidMoneySpan(least, most, currency),
    parts: `Its parts: ${parts.slice(0, -1).join(", ")}, and ${parts.at(-1)}. A valve core can be changed under pressure and needs less of the service.`,
  };
}

/** To the tenth of an ounce, and in ounces alone: what a scale at a shop is set to. */
function exactly(grams: number, units: UnitSystem): string {
  return units === "us" ? joined(`${Number(ouncesFromGrams(grams).toFixed(1))} oz`) : saidExactMass(grams, units);
}

/** What to ask a shop for, as an e-mail. */
function mailOf({ question, units }: Outcome, asks: readonly string[], range: string): string {
  const subject = `Air conditioning: find and repair a leak (${question.refrigerant}, ${exactly(question.nameplate_g, units)})`;
  const body = [
    `My car's air conditioner leaks ${question.refrigerant}. Please quote for this:`,
    "",
    ...asks.map((ask, i) => `${i + 1}. ${ask}`),
    "",
    `I expect ${range}, by where it leaks. No sealer, and no refill without a search for the leak. Please call before doing more.`,
  ].join("\r\n");
  const plain = (text: string) => encodeURIComponent(text.replaceAll("\u00a0", " "));
  return `mailto:?subject=${plain(subject)}&body=${plain(body)}`;
}
