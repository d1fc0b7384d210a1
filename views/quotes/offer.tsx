import type { Child } from "hono/jsx";
import { formatDate } from "../../src/core/quantities/format.ts";
import { formatAmount } from "../../src/core/quantities/money.ts";
import { LOCATION_IDS } from "../../src/core/question/contract.ts";
import { excludedBy, type QuoteOption } from "../../src/core/quotes/quote.ts";
import type { QuoteSnapshot } from "../../src/core/quotes/quote-document.ts";
import type { OptionOutlook, QuoteOutlook } from "../../src/core/quotes/quote-outlook.ts";
import { saidCo2e, saidMass, saidRelease } from "../words/numbers.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { Day } from "../words/said.tsx";
import { saidMonth, saidYears } from "../words/times.ts";
import { PriceTable } from "./price-table.tsx";
import { type MoneyStyle, saidSum, saidSums, saidSureness } from "./said-quote.ts";

/** What an offer is shown from: the quote as it was sent, and its outlook over the years that the reader asks about. */
export interface OfferProps {
  snapshot: QuoteSnapshot;
  outlook: QuoteOutlook;
}

/** Who gives the quote, to whom, about what, until when. */
export function OfferHead({ snapshot }: { snapshot: QuoteSnapshot }) {
  const { letterhead, number, customer, vehicle, sent_on, valid_until } = snapshot;
  const { shop, address, phone, email, certificate, tax_number } = letterhead;
  const reach = [phone, email].filter((text) => text !== "");
  const papers = [certificate, tax_number === "" ? "" : `Tax number ${tax_number}`].filter((text) => text !== "");
  return (
    <div class="offer-head">
      <div class="letterhead">
        <p class="letterhead-shop">{shop}</p>
        {address !== "" && <p class="letterhead-text">{address}</p>}
        {reach.length > 0 && <p>{reach.join(" · ")}</p>}
        {papers.length > 0 && <p class="soft">{papers.join(" · ")}</p>}
      </div>
      <dl class="offer-facts">
        <Fact name="Quote">{number}</Fact>
        <Fact name="Date">
          <Day iso={sent_on} />
        </Fact>
        <Fact name="Holds until">
          <Day iso={valid_until} />
        </Fact>
        {customer !== "" && <Fact name="For">{customer}</Fact>}
        <Fact name="Vehicle">{vehicle.label}</Fact>
      </dl>
    </div>
  );
}

function Fact({ name, children }: { name: string; children: Child }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** The shop's word: what it recommends and why, and what it has to say. */
export function Recommendation({ snapshot, outlook }: OfferProps) {
  const { options, recommended, recommended_why, note } = snapshot;
  const option = options.find(({ id }) => id === recommended);
  const advised = options.find(({ id }) => id === outlook.advised);
  const over = saidYears(outlook.keep_years);
  return (
    <div class="offer-word">
      <h1>{option === undefined ? "What can be done about the leak" : <>We recommend: {option.title}</>}</h1>
      {option !== undefined && recommended_why !== "" && <p>{recommended_why}</p>}
      {advised !== undefined && advised === option && <p>Counted over {over}, the numbers below speak for it, too.</p>}
      {advised !== undefined && option !== undefined && advised !== option && (
        <p>
          Counted over {over}, the numbers alone speak for <strong>{advised.title}</strong>.
        </p>
      )}
      {outlook.check_first && <p>It may not be low on refrigerant. Readings should settle that before any of these.</p>}
      {note !== "" && <p class="letterhead-text">{note}</p>}
      <p class="soft">
        <WhatIsKnown snapshot={snapshot} outlook={outlook} />
      </p>
    </div>
  );
}

function WhatIsKnown({ snapshot, outlook }: OfferProps) {
  const { units, vehicle } = snapshot;
  const { g_per_year, charge_now_g, from_nothing } = outlook.leak;
  const holds = `about ${saidMass(charge_now_g, units)} of ${saidMass(vehicle.nameplate_g, units)}`;
  const loses = `about ${saidMass(g_per_year.mean, units)} a year, likely ${saidMass(g_per_year.p05, units)} to ${saidMass(g_per_year.p95, units)}`;
  if (from_nothing)
    return <>Nothing is on record for this vehicle yet: the numbers are what usually holds for a leaking one.</>;
  return (
    <>
      What the record says: {holds} of {vehicle.refrigerant} is in it, and it loses {loses}.
    </>
  );
}

/** The options beside each other, and what happens if nothing is done: what changes with the years kept. */
export function OptionsCompared({ snapshot, outlook }: OfferProps) {
  return (
    <div class="offers">
      {snapshot.options.map((option, i) => {
        const shown = outlook.options[i];
        return shown === undefined ? null : (
          <OfferedOption option={option} shown={shown} snapshot={snapshot} outlook={outlook} />
        );
      })}
      <DoingNothing snapshot={snapshot} outlook={outlook} />
    </div>
  );
}

interface OfferedOptionProps extends OfferProps {
  option: QuoteOption;
  shown: OptionOutlook;
}

function OfferedOption({ option, shown, snapshot, outlook }: OfferedOptionProps) {
  const { years, price } = shown;
  const over = saidYears(outlook.keep_years);
  const recommended = snapshot.recommended === option.id;
  return (
    <article class={recommended ? "offer offer-recommended" : "offer"} aria-labelledby={`offer-${option.id}`}>
      <div class="offer-name">
        <h3 id={`offer-${option.id}`}>{option.title}</h3>
        {recommended && <p class="offer-mark">We recommend this</p>}
      </div>
      <p class="offer-words">{option.words}</p>
      <dl>
        <Row name="Price today" strong>
          {formatAmount(price.total_minor, snapshot.currency, snapshot.number_format)}
        </Row>
        {years === null ? (
          <Row name={`Over ${over}`}>Not estimated for this work.</Row>
        ) : (
          <>
            <Row name={`With what follows, over ${over}`} strong>
              about {saidSum(years.total, snapshot)}
              <small>likely {saidSums(years.likely.from, years.likely.to, snapshot)}</small>
            </Row>
            {outlook.keep_years > 1 && <Row name="For each year">about {saidSum(years.yearly, snapshot)}</Row>}
            <Row name="Refrigerant to air">
              {saidRelease(years.release_g, snapshot.units)}
              <small>warms like {saidCo2e(years.co2e_kg)} of CO₂</small>
            </Row>
            <Row name="How sure">{saidSureness(years.sure)}</Row>
          </>
        )}
        <Row name="Good to know">
          <Remarks option={option} shown={shown} snapshot={snapshot} />
        </Row>
      </dl>
    </article>
  );
}

function Row({ name, strong = false, children }: { name: string; strong?: boolean; children: Child }) {
  return (
    <div class={strong ? "offer-row offer-row-strong" : "offer-row"}>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** What it covers and what not, what it makes unnecessary, and why it may not be a choice at all. */
function Remarks({ option, shown, snapshot }: Omit<OfferedOptionProps, "outlook">) {
  const { options, warranty } = snapshot;
  const titles = (ids: readonly string[]) =>
    options.filter(({ id }) => ids.includes(id)).map(({ title }) => `“${title}”`);
  const replaced = titles(option.replaces);
  const excluded = titles(excludedBy(option.id, options));
  return (
    <ul>
      {option.not_covered !== "" && <li>Not covered: {option.not_covered}</li>}
      {option.work.repair !== null && warranty.months > 0 && <li>{warranty.months} months' warranty.</li>}
      {replaced.length > 0 && <li>It makes {listed(replaced)} unnecessary.</li>}
      {excluded.length > 0 && <li>It does not go with {listed(excluded)}.</li>}
      {shown.not_open_because !== null && <li>{WHY_NOT[shown.not_open_because]}</li>}
    </ul>
  );
}

const WHY_NOT = {
  rule: "Local rules may not allow this: ask us before you choose it.",
  empty: "No pressure is left: the leak has to be found first, then the system evacuated and charged by weight.",
  floor: "This leak is fast: a full charge may not last half a year.",
  done: "This test was made before.",
} as const;

function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

function DoingNothing({ snapshot, outlook }: OfferProps) {
  const { low_now, low_on, release_g, co2e_kg } = outlook.nothing;
  return (
    <article class="offer offer-nothing" aria-labelledby="offer-nothing">
      <div class="offer-name">
        <h3 id="offer-nothing">If nothing is done</h3>
      </div>
      <p class="offer-words">
        {low_now
          ? "The charge is low, or nearly so. It cools less and less, and then not at all."
          : low_on === null
            ? "As far as the record tells, it goes on cooling for many years."
            : `It cools well until about ${saidMonth(low_on)}, then less and less.`}{" "}
        A compressor that runs low on refrigerant is short of oil, too, and may be damaged.
      </p>
      <dl>
        <Row name="Price today" strong>
          {formatAmount(0, snapshot.currency, snapshot.number_format)}
        </Row>
        <Row name={`With what follows, over ${saidYears(outlook.keep_years)}`} strong>
          nothing, without cooling
        </Row>
        {outlook.keep_years > 1 && <Row name="For each year">nothing</Row>}
        <Row name="Refrigerant to air">
          {saidRelease(release_g, snapshot.units)}
          <small>warms like {saidCo2e(co2e_kg)} of CO₂</small>
        </Row>
      </dl>
    </article>
  );
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
      The price is for {PLACE_NAMES[found.priced_for].at}, the likeliest place. To pay if the leak is elsewhere:{" "}
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
      <section class="offer-part cautions">
        <h2>Take care</h2>
        <ul>
          <li>
            Leave the refrigerant to people who are trained for it: it freezes skin and eyes, and letting it out is
            against the law in many places.
          </li>
          <li>Put no sealer in, and no refrigerant of another kind.</li>
          {vehicle.refrigerant === "R-1234yf" && <li>R-1234yf burns: no flame or spark near a leak.</li>}
          <li>In a hybrid or electric vehicle the compressor may run on high voltage: do not touch it.</li>
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

/** What the numbers are, and the shop's terms. */
export function SmallPrint({ snapshot }: { snapshot: QuoteSnapshot }) {
  const { terms } = snapshot.letterhead;
  const { months, words } = snapshot.warranty;
  const repairs = snapshot.options.some(({ work }) => work.repair !== null);
  return (
    <section class="offer-part">
      <h2>What the numbers are</h2>
      <p>
        Prices today are exact and include tax. What follows is an estimate from the vehicle's charge record, in today's
        money: every way the leak may turn out, counted by how likely it is. “Likely” leaves out one case in ten.
        Amounts are rounded to the smallest coin, a half upwards; each tax is taken once, of the sum that it falls on.
      </p>
      {repairs && months > 0 && words !== "" && (
        <p>
          Warranty, {months} months: {words}
        </p>
      )}
      {terms !== "" && <p class="letterhead-text">{terms}</p>}
    </section>
  );
}
