import { formatDate } from "../../src/core/quantities/dates.ts";
import { formatAmount } from "../../src/core/quantities/money.ts";
import { LOCATION_IDS } from "../../src/core/question/contract.ts";
import type { QuoteOption } from "../../src/core/quotes/quote.ts";
import { type QuoteSnapshot, quoteNumber } from "../../src/core/quotes/quote-document.ts";
import type { QuoteOutlook } from "../../src/core/quotes/quote-outlook.ts";
import { saidLeak } from "../words/estimates.ts";
import { capitalized } from "../words/in-sentence.ts";
import { saidChance, saidMass, saidRelease } from "../words/numbers.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { Day } from "../words/said.tsx";
import { saidMonth, saidYears } from "../words/times.ts";
import { Fact, PaperHead, vehicleFacts } from "./paper-head.tsx";
import { PriceTable } from "./price-table.tsx";
import { type MoneyStyle, saidSum, saidWhy } from "./said-quote.ts";

/** What an offer is shown from: the quote as it was sent, and its outlook over the years that the reader asks about. */
export interface OfferProps {
  snapshot: QuoteSnapshot;
  outlook: QuoteOutlook;
}

/** Who gives the quote, to whom, about what, until when. */
export function OfferHead({ snapshot }: { snapshot: QuoteSnapshot }) {
  const { letterhead, customer, vehicle, sent_on, valid_until } = snapshot;
  return (
    <PaperHead letterhead={letterhead}>
      <Fact name="Quote">{quoteNumber(snapshot)}</Fact>
      <Fact name="Date">
        <Day iso={sent_on} />
      </Fact>
      <Fact name="Valid until">
        <Day iso={valid_until} />
      </Fact>
      {customer !== "" && <Fact name="For">{customer}</Fact>}
      {vehicleFacts(vehicle).map(([name, text]) => (
        <Fact name={name}>{text}</Fact>
      ))}
    </PaperHead>
  );
}

/** What the shop recommends and why, and its note. */
export function Recommendation({ snapshot, outlook }: OfferProps) {
  const { options, recommended, recommended_why, note } = snapshot;
  const option = options.find(({ id }) => id === recommended);
  return (
    <div class="offer-word">
      <h1>{headline(option, outlook)}</h1>
      {option !== undefined && recommended_why !== "" && <p>{recommended_why}</p>}
      {outlook.not_needed === true && (
        <p>
          By the record nothing needs to be done today: the charge is well above where cooling gets poor
          {outlook.nothing.low_on !== null && <>, which we expect around {saidMonth(outlook.nothing.low_on)}</>}.
        </p>
      )}
      {outlook.check_first && (
        <p>
          It may not be low on refrigerant.
          {recommended_why === "" && " Readings should settle that before any of these."}
        </p>
      )}
      <ByTheNumbers snapshot={snapshot} outlook={outlook} />
      {outlook.first_step != null && (
        <p>
          Cheapest first: new valve cores and sealing caps on the service ports, about{" "}
          {saidSum(outlook.first_step.price, snapshot)} without refrigerant. The leak is there in{" "}
          {saidChance(outlook.first_step.probability)} cases like yours.
        </p>
      )}
      {note !== "" && <p class="letterhead-text">{note}</p>}
      <p class="soft">
        <WhatIsKnown snapshot={snapshot} outlook={outlook} />
      </p>
    </div>
  );
}

function headline(option: QuoteOption | undefined, { not_needed, check_first }: QuoteOutlook): string {
  if (option !== undefined) return `We recommend: ${option.title}`;
  if (not_needed === true) return "Nothing needs to be done today";
  return check_first ? "First find out what is wrong" : "What can be done about the leak";
}

/** The option that the estimate favors, and its true reason. */
function ByTheNumbers({ snapshot, outlook }: OfferProps) {
  const advised = snapshot.options.find(({ id }) => id === outlook.advised);
  if (advised === undefined) return null;
  const because = saidWhy(outlook, snapshot);
  if (advised.id === snapshot.recommended) return because === null ? null : <p>{`${capitalized(because)}.`}</p>;
  return (
    <p>
      The estimate alone speaks for <strong>{advised.title}</strong>
      {because === null ? "." : `: ${because}.`}
    </p>
  );
}

function WhatIsKnown({ snapshot, outlook }: OfferProps) {
  const { units, vehicle } = snapshot;
  const { g_per_year, charge_now_g, from_nothing } = outlook.leak;
  if (from_nothing)
    return <>The estimates are typical for a leaking vehicle: no loss has been measured on this one yet.</>;
  const holds = `about ${saidMass(charge_now_g, units)} of ${saidMass(vehicle.nameplate_g, units)}`;
  // Quotes sent before had the mean alone.
  const leak = saidLeak({ ...g_per_year, median: g_per_year.median ?? g_per_year.mean }, units);
  const loses = `about ${leak.best} (likely range ${leak.range})`;
  return (
    <>
      From its charge log: {holds} of {vehicle.refrigerant} is left, and it loses {loses}.
    </>
  );
}

/** The consequence of waiting: a sentence, since doing nothing has no price to compare. */
export function DoingNothing({ snapshot, outlook }: OfferProps) {
  const { low_now, low_on, release_g } = outlook.nothing;
  const released = `${saidRelease(release_g, snapshot.units)} of refrigerant would reach the air over ${saidYears(outlook.keep_years)}.`;
  return (
    <p class="offer-nothing">
      <strong>If nothing is done:</strong> {saidNothing(low_now, low_on, outlook.check_first)} About {released}
    </p>
  );
}

function saidNothing(low_now: boolean, low_on: string | null, check_first: boolean): string {
  if (check_first) return "what is wrong stays as it is, and may get worse.";
  if (low_now)
    return "it will cool less and less, then not at all. A compressor that runs low on refrigerant is short of oil, too, and may be damaged.";
  if (low_on === null) return "it will go on cooling for many years, as far as the record tells.";
  return `it will cool well until about ${saidMonth(low_on)}, then less and less.`;
}

/** What each price is made of. */
export function Prices({ snapshot, outlook }: OfferProps) {
  const { options, currency, number_format } = snapshot;
  return (
    <div class="price-tables">
      {options.map((option, i) => {
        const shown = outlook.options[i];
        if (shown === undefined) return null;
        return (
          <div class="price-part">
            <PriceTable option={option} price={shown.price} money={{ currency, number_format }} />
            <Elsewhere option={option} today_minor={shown.price.total_minor} money={{ currency, number_format }} />
          </div>
        );
      })}
    </div>
  );
}

/** Of a repair of what is found: what it comes to at the other places. */
function Elsewhere({ option, today_minor, money }: { option: QuoteOption; today_minor: number; money: MoneyStyle }) {
  const { found } = option;
  if (found === null) return null;
  const difference = today_minor - found.totals_minor[found.priced_for];
  return (
    <p class="small">
      This price is for {PLACE_NAMES[found.priced_for].at}, the most likely location. The total if the leak is
      elsewhere:{" "}
      {LOCATION_IDS.filter((id) => id !== found.priced_for)
        .map(
          (id) =>
            `${PLACE_NAMES[id].at} ${formatAmount(Math.max(0, found.totals_minor[id] + difference), money.currency, money.number_format)}`,
        )
        .join(", ")}
      .
    </p>
  );
}

/** What can hurt, and what the rules of the place say. */
export function Cautions({ snapshot }: { snapshot: QuoteSnapshot }) {
  const { vehicle, rules, sent_on } = snapshot;
  return (
    <>
      <section class="offer-part offer-cautions small">
        <h2>Take care</h2>
        <ul>
          {vehicle.electric && (
            <li>
              High voltage drives this compressor and can kill: leave it to a technician who is trained for high
              voltage. Only the compressor's own oil, and dye in that oil, may go in.
            </li>
          )}
          <li>
            Leave the refrigerant to people who are trained for it: it freezes skin and eyes, and venting it is against
            the law in many places.
          </li>
          <li>Put no sealer in, and no refrigerant of another kind.</li>
          {vehicle.refrigerant === "R-1234yf" && <li>R-1234yf burns: no flame or spark near a leak.</li>}
          {vehicle.electric !== true && (
            <li>In a hybrid or electric vehicle the compressor may run on high voltage: do not touch it.</li>
          )}
        </ul>
      </section>
      {rules.length > 0 && (
        <section class="offer-part offer-rules">
          <h2>Rules here</h2>
          <ul>
            {rules.map(({ title, says, citation }) => (
              <li>
                <strong>{title}.</strong> {says} <span class="soft">({citation})</span>
              </li>
            ))}
          </ul>
          <p>As we knew them on {formatDate(sent_on)}. Check your local code; this is not legal advice.</p>
        </section>
      )}
    </>
  );
}

/** The shop's warranty and terms, to be read before an answer. */
export function WarrantyAndTerms({ snapshot }: Pick<OfferProps, "snapshot">) {
  const { terms } = snapshot.letterhead;
  const { months, words } = snapshot.warranty;
  const warranted = months > 0 && words !== "" && snapshot.options.some(({ work }) => work.repair !== null);
  if (!warranted && terms === "") return null;
  return (
    <section class="offer-part">
      <h2>Warranty and terms</h2>
      {warranted && (
        <p>
          Warranty, {months} months: {words}
        </p>
      )}
      {terms !== "" && <p class="letterhead-text">{terms}</p>}
    </section>
  );
}

/** What the numbers mean. */
export function SmallPrint() {
  return (
    <section class="offer-part">
      <details class="offer-fold on-paper">
        <summary>
          <h2>What the numbers are</h2>
        </summary>
        <p>
          Prices today are exact and include tax. What comes later is an estimate from the vehicle's charge record, in
          today's money: every way the leak may turn out, counted by how likely it is. “Likely” leaves out one case in
          ten. Amounts are rounded to the cent, or to the smallest unit of the currency, a half upwards; each tax is
          taken once, of the sum that it falls on.
        </p>
      </details>
    </section>
  );
}
