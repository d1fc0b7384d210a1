import { LOCATION_IDS } from "../../src/core/question/contract.ts";
import type { QuoteOption } from "../../src/core/quotes/quote.ts";
import { type QuoteSnapshot, quoteNumber } from "../../src/core/quotes/quote-document.ts";
import type { QuoteOutlook } from "../../src/core/quotes/quote-outlook.ts";
import { capitalized } from "../words/in-sentence.ts";
import { Unbroken } from "../words/said.tsx";
import type { CustomerSaid } from "./customer-said.tsx";
import { Fact, PaperHead, vehicleFacts } from "./paper-head.tsx";
import { PriceTable } from "./price-table.tsx";
import { saidWhy } from "./said-quote.ts";

/** What an offer is shown from: the quote as it was sent, and its outlook over the years that the reader asks about. */
export interface OfferProps {
  snapshot: QuoteSnapshot;
  outlook: QuoteOutlook;
  /** The customer's language. */
  said: CustomerSaid;
}

/** Who gives the quote, to whom, about what, until when. */
export function OfferHead({ snapshot, said, logo }: Omit<OfferProps, "outlook"> & { logo: string }) {
  const { letterhead, customer, vehicle, sent_on, valid_until } = snapshot;
  return (
    <PaperHead letterhead={letterhead} said={said} logo={logo}>
      <Fact name={said.word("head.quote")}>{quoteNumber(snapshot)}</Fact>
      <Fact name={said.word("head.date")}>
        <SaidDay iso={sent_on} said={said} />
      </Fact>
      <Fact name={said.word("head.valid-until")}>
        <SaidDay iso={valid_until} said={said} />
      </Fact>
      {customer !== "" && <Fact name={said.word("head.for")}>{customer}</Fact>}
      {vehicleFacts(vehicle, said).map(([name, text]) => (
        <Fact name={name}>
          <Unbroken text={text} />
        </Fact>
      ))}
    </PaperHead>
  );
}

/** A date in the customer's language, kept on one line. */
export function SaidDay({ iso, said }: { iso: string; said: CustomerSaid }) {
  return (
    <time class="date" datetime={iso}>
      {said.day(iso)}
    </time>
  );
}

/** What the shop recommends and why, and its note. */
export function Recommendation({ snapshot, outlook, said }: OfferProps) {
  const { options, recommended, recommended_why, note } = snapshot;
  const { first_step, nothing } = outlook;
  const option = options.find(({ id }) => id === recommended);
  return (
    <div class="offer-word">
      <h1>{headline(option, outlook, said)}</h1>
      {option !== undefined && recommended_why !== "" && <p>{recommended_why}</p>}
      {outlook.not_needed === true && (
        <p>
          {nothing.low_on === null
            ? said.word("word.record-not-needed")
            : said.word("word.record-not-needed-until", { month: said.month(nothing.low_on) })}
        </p>
      )}
      {outlook.check_first && (
        <p>
          {said.word("word.may-not-be-low")}
          {recommended_why === "" && hasEstimate(outlook) && ` ${said.word("word.readings-first")}`}
        </p>
      )}
      <ByTheNumbers snapshot={snapshot} outlook={outlook} said={said} />
      {first_step != null && outlook.not_needed !== true && (
        <p>
          {said.word("word.first-step", {
            price: said.sum(first_step.price),
            chance: said.chance(first_step.probability),
          })}
        </p>
      )}
      {note !== "" && <p class="letterhead-text">{note}</p>}
      {(hasEstimate(outlook) || !outlook.check_first) && (
        <p class="soft">
          <Unbroken text={whatIsKnown(snapshot, outlook, said)} />
        </p>
      )}
    </div>
  );
}

/** Whether any option has an estimate of the years ahead; a diagnosis alone has none. */
export function hasEstimate({ options }: QuoteOutlook): boolean {
  return options.some(({ years }) => years !== null);
}

function headline(option: QuoteOption | undefined, { not_needed, check_first }: QuoteOutlook, said: CustomerSaid) {
  if (option !== undefined) return said.word("word.recommend", { title: option.title });
  if (not_needed === true) return said.word("word.not-needed");
  return said.word(check_first ? "word.check-first" : "word.options");
}

/** The option that the estimate favors, and its true reason. */
function ByTheNumbers({ snapshot, outlook, said }: OfferProps) {
  const advised = snapshot.options.find(({ id }) => id === outlook.advised);
  if (advised === undefined) return null;
  const because = saidWhy(outlook, snapshot, said);
  if (advised.id === snapshot.recommended) return because === null ? null : <p>{`${capitalized(because)}.`}</p>;
  const title = <strong>{advised.title}</strong>;
  return (
    <p>
      {because === null
        ? said.mixed("word.estimate-for", { title })
        : said.mixed("word.estimate-for-because", { title, because })}
    </p>
  );
}

function whatIsKnown({ vehicle }: QuoteSnapshot, { leak }: QuoteOutlook, said: CustomerSaid): string {
  const { g_per_year, charge_now_g, from_nothing } = leak;
  if (from_nothing) return said.word("word.typical");
  return said.word("word.known", {
    charge: said.mass(charge_now_g),
    nameplate: said.mass(vehicle.nameplate_g),
    refrigerant: vehicle.refrigerant,
    // Quotes sent by earlier versions had only the mean.
    leak: said.mass(g_per_year.median ?? g_per_year.mean),
    range: said.massSpan(g_per_year.p05, g_per_year.p95),
  });
}

/** The consequence of waiting: a sentence, since doing nothing has no price to compare. */
export function DoingNothing({ outlook, said }: OfferProps) {
  const { release_g } = outlook.nothing;
  const released = { mass: said.release(release_g), years: said.years(outlook.keep_years) };
  return (
    <p class="offer-nothing">
      <strong>{said.word("nothing.head")}</strong> {saidNothing(outlook, said)}
      {!outlook.check_first && ` ${said.word("nothing.released", released)}`}
    </p>
  );
}

function saidNothing({ nothing: { low_now, low_on }, check_first }: QuoteOutlook, said: CustomerSaid): string {
  if (check_first) return said.word("nothing.unknown");
  if (low_now) return said.word("nothing.low");
  return low_on === null ? said.word("nothing.years") : said.word("nothing.until", { month: said.month(low_on) });
}

/** What each price is made of. */
export function Prices({ snapshot, outlook, said }: OfferProps) {
  return (
    <div class="price-tables">
      {snapshot.options.map((option, i) => {
        const shown = outlook.options[i];
        if (shown === undefined) return null;
        return (
          <div class="price-part">
            <PriceTable option={option} price={shown.price} said={said} />
            <Elsewhere option={option} today_minor={shown.price.total_minor} said={said} />
          </div>
        );
      })}
    </div>
  );
}

/** For a repair of whatever is found: its price at the other places. */
function Elsewhere({ option, today_minor, said }: { option: QuoteOption; today_minor: number; said: CustomerSaid }) {
  const { found } = option;
  if (found === null) return null;
  const difference = today_minor - found.totals_minor[found.priced_for];
  const list = LOCATION_IDS.filter((id) => id !== found.priced_for).map(
    (id) => `${said.word(`place.${id}.name`)} ${said.amount(Math.max(0, found.totals_minor[id] + difference))}`,
  );
  return (
    <p class="small">
      {said.word("price.elsewhere", { place: said.word(`place.${found.priced_for}.the`), list: list.join(", ") })}
    </p>
  );
}

/** What can hurt, and what the rules of the place say. */
export function Cautions({ snapshot, said }: Omit<OfferProps, "outlook">) {
  const { vehicle, rules, sent_on } = snapshot;
  const { refrigerant } = vehicle;
  return (
    <>
      <section class="offer-part offer-cautions small">
        <h2>{said.word("care.title")}</h2>
        <ul>
          {vehicle.electric && <li>{said.word("care.high-voltage")}</li>}
          <li>{said.word("care.trained")}</li>
          <li>{said.word("care.sealer")}</li>
          {refrigerant === "R-1234yf" && (
            <li>
              <Unbroken text={said.word("care.flammable", { refrigerant })} />
            </li>
          )}
          {vehicle.electric !== true && <li>{said.word("care.hybrid")}</li>}
        </ul>
      </section>
      {rules.length > 0 && (
        <section class="offer-part offer-rules">
          <h2>{said.word("rules.title")}</h2>
          {/* Rules stand as their source was read: a translation of a law is no law. */}
          <ul lang="en">
            {rules.map(({ title, says, citation }) => (
              <li>
                <strong>{title}.</strong> {says} <span class="soft">({citation})</span>
              </li>
            ))}
          </ul>
          <p>{said.word("rules.as-of", { day: said.day(sent_on) })}</p>
        </section>
      )}
    </>
  );
}

/** The shop's warranty and terms, to be read before an answer. */
export function WarrantyAndTerms({ snapshot, said }: Omit<OfferProps, "outlook">) {
  const { terms } = snapshot.letterhead;
  const { months, words } = snapshot.warranty;
  const warranted = months > 0 && words !== "" && snapshot.options.some(({ work }) => work.repair !== null);
  if (!warranted && terms === "") return null;
  return (
    <section class="offer-part">
      <h2>{said.word("terms.title")}</h2>
      {warranted && <p>{said.counted("terms.warranty", months, { words })}</p>}
      {terms !== "" && <p class="letterhead-text">{terms}</p>}
    </section>
  );
}

/** What the numbers mean. */
export function SmallPrint({ said }: { said: CustomerSaid }) {
  return (
    <section class="offer-part">
      <details class="offer-fold on-paper">
        <summary>
          <h2>{said.word("small.title")}</h2>
        </summary>
        <p>{said.word("small.text")}</p>
      </details>
    </section>
  );
}
