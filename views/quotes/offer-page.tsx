import type { Agreement } from "../../src/core/quotes/agreement.ts";
import { optionTotal, placePriceRange, type QuoteOption } from "../../src/core/quotes/quote.ts";
import { quoteNumber } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { ErrorText, messagesOf, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { type QrCode, QrPicture } from "../parts/qr-picture.tsx";
import type { CustomerSaid } from "./customer-said.tsx";
import {
  Cautions,
  DoingNothing,
  hasEstimate,
  OfferHead,
  type OfferProps,
  Prices,
  Recommendation,
  SaidDay,
  SmallPrint,
  WarrantyAndTerms,
} from "./offer.tsx";
import { BarKey, OptionsCompared } from "./offer-options.tsx";
import { SheetFoot } from "./paper-head.tsx";
import { saidPrice } from "./said-quote.ts";

/** The option that was accepted, and what was agreed on besides. */
interface Accepted {
  option: string;
  agreement: Agreement;
}

/** How the customer's quote stands. Times are where the shop is, in words. */
export type OfferState =
  /** Seen by the shop; `back` is its own page, `accepted` what was said yes to, if it was. */
  | { state: "preview"; back: string; accepted: Accepted | null }
  | { state: "sent" }
  /** `newer`: number of the quote that was sent instead; null for none. */
  | { state: "expired"; newer: number | null }
  | { state: "withdrawn"; newer: number | null }
  | ({ state: "accepted"; name: string; at: string } & Accepted)
  | { state: "declined"; name: string; at: string };

/** The customer's answer as it was typed. */
export interface AnswerFields {
  choice: string;
  name: string;
}

export interface OfferPageProps extends OfferProps {
  offer: OfferState;
  /** The shop's; "" for none. */
  logo: string;
  /** Address of the page: it holds the token. */
  path: string;
  /** Of the page's own address, for the paper; null for a preview, which nobody else can open. */
  code: QrCode | null;
  /** Years kept as typed. */
  years: string;
  answer: AnswerFields;
  errors: readonly FieldError[];
  /** An answer came too late, and was not taken. */
  too_late: boolean;
  asset: AssetUrl;
}

/** `/q/:token`: what the customer sees, decides on, and prints. It links to nothing else. */
export function OfferPage(props: OfferPageProps) {
  const { snapshot, outlook, offer, errors, said, asset } = props;
  const { shop } = snapshot.letterhead;
  const title = said.word("head.title", { number: quoteNumber(snapshot) });
  return (
    <Layout title={title} by={shop} path="" asset={asset} errors={errors} live paper={paperWords(said, errors.length)}>
      <article class="paper">
        <OfferHead snapshot={snapshot} said={said} logo={props.logo} />
        <OfferStanding {...props} />
        {offer.state !== "withdrawn" && (
          <>
            <section class="offer-part" id="offer-sums">
              <OfferSums {...props} />
            </section>
            {snapshot.options.length > 0 && (
              <section class="offer-part">
                <details class="offer-fold on-paper">
                  <summary>
                    <h2>{said.word("price.breakdown")}</h2>
                  </summary>
                  <Prices snapshot={snapshot} outlook={outlook} said={said} />
                </details>
              </section>
            )}
            <WarrantyAndTerms snapshot={snapshot} said={said} />
            {offer.state === "sent" && <AnswerForm {...props} />}
            <PaperAnswer {...props} />
            <SmallPrint said={said} />
            <Cautions snapshot={snapshot} said={said} />
          </>
        )}
        <SheetFoot name={title} shop={shop} />
      </article>
    </Layout>
  );
}

/** What the frame of a page for someone outside says. */
export function paperWords(said: CustomerSaid, faults: number) {
  return {
    language: said.language,
    skip: said.word("page.skip"),
    made_with: said.word("page.made-with"),
    error: (title: string) => said.word("page.error", { title }),
    faults: faults === 0 ? "" : said.counted("errors", faults),
  };
}

function sayingError(said: CustomerSaid) {
  return (message: string) => said.word("page.error", { title: message });
}

/** The page of an address that no quote is at. */
export function UnknownQuotePage({ said, asset }: { said: CustomerSaid; asset: AssetUrl }) {
  return (
    <Layout title={said.word("unknown.title")} path="" asset={asset} paper={paperWords(said, 0)}>
      <UnknownQuote said={said} />
    </Layout>
  );
}

/** The same in place of a part of the page. */
export function UnknownQuote({ said }: { said: CustomerSaid }) {
  return (
    <div role="alert" lang={said.language}>
      <h1 class="page-title">{said.word("unknown.title")}</h1>
      <p>{said.word("unknown.text")}</p>
    </div>
  );
}

/** What changes with the years kept; the page around it stays. */
export function OfferSums(props: OfferPageProps) {
  const { snapshot, outlook, said } = props;
  return (
    <>
      <Recommendation snapshot={snapshot} outlook={outlook} said={said} />
      {(hasEstimate(outlook) || props.errors.some(({ field }) => field === "years")) && <YearsKept {...props} />}
      {snapshot.options.length > 0 && <h2 class="visually-hidden">{said.word("options.title")}</h2>}
      <OptionsCompared
        snapshot={snapshot}
        outlook={outlook}
        said={said}
        accepted={acceptedOf(props.offer)?.option ?? null}
      />
      {hasEstimate(outlook) && <BarKey said={said} />}
      <DoingNothing snapshot={snapshot} outlook={outlook} said={said} />
      {/* Goes with the answer, wherever that form stands. */}
      <input type="hidden" name="years" value={outlook.keep_years} form="answer" />
    </>
  );
}

function YearsKept({ path, years, errors, said }: OfferPageProps) {
  const message = errors.find(({ field }) => field === "years")?.message;
  return (
    <form
      class="years-kept"
      method="get"
      action={path}
      novalidate
      hx-get={path}
      hx-trigger="submit, change"
      hx-target="#offer-sums"
      hx-swap="innerMorph"
    >
      <label class="label-text" for="years">
        {said.word("years.label")}
      </label>
      {message !== undefined && <ErrorText id="years" message={message} saying={sayingError(said)} />}
      <input
        type="text"
        class="short"
        id="years"
        name="years"
        value={years}
        inputmode="decimal"
        autocomplete="off"
        aria-describedby={message === undefined ? undefined : "years-error"}
        aria-invalid={message === undefined ? undefined : "true"}
      />
      <button type="submit" class="button-quiet">
        {said.word("years.again")}
      </button>
    </form>
  );
}

function acceptedOf(offer: OfferState): Accepted | null {
  if (offer.state === "preview") return offer.accepted;
  return offer.state === "accepted" ? offer : null;
}

function OfferStanding({ snapshot, offer, too_late, said }: OfferPageProps) {
  const text = standing(snapshot, offer, said);
  if (text === null) return null;
  const accepted = acceptedOf(offer);
  const agreed = accepted === null ? [] : saidAgreement(accepted, snapshot, said);
  return (
    <div class={`offer-standing is-${offer.state}`} role="status">
      {offer.state === "withdrawn" && <h1>{said.word("standing.withdrawn")}</h1>}
      {too_late && <p>{said.word("standing.too-late")}</p>}
      <p>{text}</p>
      {agreed.length > 0 && <p>{agreed.join(" ")}</p>}
    </div>
  );
}

function standing(snapshot: OfferProps["snapshot"], offer: OfferState, said: CustomerSaid) {
  const { shop } = snapshot.letterhead;
  switch (offer.state) {
    case "sent":
      return null;
    case "preview":
      return said.mixed("standing.preview", { link: <a href={offer.back}>{said.word("standing.back")}</a> });
    case "expired":
      return said.mixed("standing.expired", {
        day: <SaidDay iso={snapshot.valid_until} said={said} />,
        instead: insteadOf(offer.newer, shop, said),
      });
    case "withdrawn":
      return said.word("standing.no-longer", { instead: insteadOf(offer.newer, shop, said) });
    case "accepted": {
      const { name, at } = offer;
      const title = <strong>{snapshot.options.find(({ id }) => id === offer.option)?.title ?? ""}</strong>;
      return [said.mixed("standing.accepted", { title, name, at }), " ", said.word("standing.thanks", { shop })];
    }
    case "declined": {
      const { name, at } = offer;
      return [said.word("standing.declined", { name, at }), " ", said.word("standing.thanks", { shop })];
    }
  }
}

/** What was agreed on, sentence by sentence. What is left to pay depends on the place where that is not known. */
function saidAgreement(
  { option: id, agreement: { ready_by, extra_minor, deposit } }: Accepted,
  { options, taxes, currency }: OfferProps["snapshot"],
  said: CustomerSaid,
): string[] {
  const says: string[] = [];
  if (ready_by !== null) says.push(said.word("agreed.ready", { day: said.day(ready_by) }));
  if (extra_minor > 0) says.push(said.word("agreed.extra", { sum: said.amount(extra_minor) }));
  if (deposit === null) return says;
  const { amount_minor, paid_on } = deposit;
  says.push(said.word("agreed.deposit", { day: said.day(paid_on), sum: said.amount(amount_minor) }));
  const option = options.find((one) => one.id === id);
  if (option === undefined || option.found !== null) return says;
  const left_minor = optionTotal(option, taxes, currency).total_minor - amount_minor;
  return [...says, said.word("agreed.left", { sum: said.amount(left_minor) })];
}

function insteadOf(newer: number | null, shop: string, said: CustomerSaid): string {
  return newer === null
    ? said.word("standing.ask-new", { shop })
    : said.word("standing.newer", { number: newer, shop });
}

function AnswerForm({ snapshot, outlook, path, answer, errors, said }: OfferPageProps) {
  const messages = messagesOf(errors);
  const choices = [
    ...snapshot.options.map((option, i) => ({
      value: option.id,
      label: yesTo(option, outlook.options[i]?.price.total_minor ?? 0, said),
    })),
    { value: "no", label: said.word("answer.no") },
  ];
  const wrong = messages.get("choice");
  return (
    <section class="offer-part answer">
      <h2>{said.word("answer.title")}</h2>
      <form method="post" action={path} id="answer" class="stack" novalidate>
        <fieldset class="field" aria-describedby={wrong === undefined ? "choice-hint" : "choice-hint choice-error"}>
          <legend>{said.word("answer.what")}</legend>
          <span class="hint" id="choice-hint">
            {said.word("answer.once", { authorized: said.word("answer.authorized") })}
          </span>
          {wrong !== undefined && <ErrorText id="choice" message={wrong} saying={sayingError(said)} />}
          {choices.map(({ value, label }, i) => (
            <label class="choice">
              <input
                type="radio"
                id={i === 0 ? "choice" : `choice-${value}`}
                name="choice"
                value={value}
                checked={answer.choice === value}
              />
              {label}
            </label>
          ))}
        </fieldset>
        <TextField
          id="name"
          name="name"
          label={said.word("answer.name")}
          hint={said.word("answer.name-hint")}
          value={answer.name}
          words
          error={messages.get("name")}
          saying={sayingError(said)}
        />
        <FormFoot submit={said.word("answer.send")} />
      </form>
    </section>
  );
}

function yesTo(option: QuoteOption, total_minor: number, said: CustomerSaid): string {
  const by_place = placePriceRange(option, total_minor) !== null;
  const values = { title: option.title, price: saidPrice(option, total_minor, said) };
  return said.word(by_place ? "answer.yes-by-place" : "answer.yes", values);
}

/** On paper: boxes to tick, what is agreed besides, and a place to sign. */
function PaperAnswer({ snapshot, outlook, offer, code, said }: OfferPageProps) {
  if (offer.state !== "sent" && offer.state !== "preview" && offer.state !== "accepted") return null;
  const accepted = acceptedOf(offer);
  return (
    <section class="paper-answer" aria-hidden="true">
      {offer.state === "sent" && code !== null && (
        <div class="paper-code">
          <QrPicture code={code} label={said.word("paper.code")} />
          <p>{said.word("paper.scan")}</p>
        </div>
      )}
      <h2>{said.word("paper.title")}</h2>
      <ul>
        {snapshot.options.map((option, i) => (
          <li>
            {accepted?.option === option.id ? "☑" : "☐"}{" "}
            {yesTo(option, outlook.options[i]?.price.total_minor ?? 0, said)}
          </li>
        ))}
        <li>☐ {said.word("answer.no")}</li>
      </ul>
      <p>{said.word("answer.authorized")}</p>
      <div class="paper-lines">
        {AGREED.map((key) => (
          <span>
            {said.word(key)}
            {accepted !== null && <strong>{agreedUnder(key, accepted.agreement, said)}</strong>}
          </span>
        ))}
      </div>
      <div class="paper-lines paper-signature">
        <span>{said.word("paper.signature")}</span>
        <span>{said.word("head.date")}</span>
      </div>
    </section>
  );
}

/** What shop and customer agree on with the order, filled in by hand where it is not written down. */
const AGREED = [
  "paper.more-work",
  "paper.ready-by",
  "head.odometer",
  "paper.old-parts",
  "paper.deposit",
  "paper.technician",
] as const;

/** What was agreed on under a line of the paper; empty where that is filled in by hand. */
function agreedUnder(
  key: (typeof AGREED)[number],
  { ready_by, extra_minor, deposit }: Agreement,
  said: CustomerSaid,
): string {
  if (key === "paper.ready-by" && ready_by !== null) return ` ${said.day(ready_by)}`;
  if (key === "paper.more-work" && extra_minor > 0) return ` ${said.amount(extra_minor)}`;
  return key === "paper.deposit" && deposit !== null ? ` ${said.amount(deposit.amount_minor)}` : "";
}
