import { placePriceRange, type QuoteOption } from "../../src/core/quotes/quote.ts";
import { quoteNumber } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { ErrorText, messagesOf, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { type QrCode, QrPicture } from "../parts/qr-picture.tsx";
import { Day } from "../words/said.tsx";
import {
  Cautions,
  DoingNothing,
  OfferHead,
  type OfferProps,
  Prices,
  Recommendation,
  SmallPrint,
  WarrantyAndTerms,
} from "./offer.tsx";
import { BarKey, OptionsCompared } from "./offer-options.tsx";
import { saidPrice } from "./said-quote.ts";

/** How the customer's quote stands. Times are where the shop is, in words. */
export type OfferState =
  /** Seen by the shop; `back` is its own page. */
  | { state: "preview"; back: string }
  | { state: "sent" }
  /** `newer`: number of the quote that was sent instead; null for none. */
  | { state: "expired"; newer: number | null }
  | { state: "withdrawn"; newer: number | null }
  | { state: "accepted"; option: string; name: string; at: string }
  | { state: "declined"; name: string; at: string };

/** The customer's answer as it was typed. */
export interface AnswerFields {
  choice: string;
  name: string;
}

export interface OfferPageProps extends OfferProps {
  offer: OfferState;
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
  const { snapshot, outlook, offer, errors, asset } = props;
  const { shop } = snapshot.letterhead;
  return (
    <Layout title={`Quote ${quoteNumber(snapshot)}`} by={shop} path="" asset={asset} errors={errors} live document>
      <article class="paper">
        <OfferHead snapshot={snapshot} />
        <OfferStanding {...props} />
        {offer.state !== "withdrawn" && (
          <>
            <section class="offer-part" id="offer-sums">
              <OfferSums {...props} />
            </section>
            <section class="offer-part">
              <details class="offer-fold on-paper">
                <summary>
                  <h2>Price breakdown</h2>
                </summary>
                <Prices snapshot={snapshot} outlook={outlook} />
              </details>
            </section>
            <WarrantyAndTerms snapshot={snapshot} />
            {offer.state === "sent" && <AnswerForm {...props} />}
            <PaperAnswer {...props} />
            <SmallPrint />
            <Cautions snapshot={snapshot} />
          </>
        )}
      </article>
    </Layout>
  );
}

/** What changes with the years kept; the page around it stays. */
export function OfferSums(props: OfferPageProps) {
  const { snapshot, outlook } = props;
  return (
    <>
      <Recommendation snapshot={snapshot} outlook={outlook} />
      <YearsKept {...props} />
      <h2 class="visually-hidden">The options</h2>
      <OptionsCompared
        snapshot={snapshot}
        outlook={outlook}
        accepted={props.offer.state === "accepted" ? props.offer.option : null}
      />
      {outlook.options.some(({ years }) => years !== null) && <BarKey />}
      <DoingNothing snapshot={snapshot} outlook={outlook} />
      {/* Goes with the answer, wherever that form stands. */}
      <input type="hidden" name="years" value={outlook.keep_years} form="answer" />
    </>
  );
}

function YearsKept({ path, years, errors }: OfferPageProps) {
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
        How many more years will you keep the vehicle?
      </label>
      {message !== undefined && <ErrorText id="years" message={message} />}
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
        Calculate again
      </button>
    </form>
  );
}

function OfferStanding({ snapshot, offer, too_late }: OfferPageProps) {
  const text = standing(snapshot, offer);
  if (text === null) return null;
  return (
    <div class={`offer-standing is-${offer.state}`} role="status">
      {offer.state === "withdrawn" && <h1>This quote was withdrawn</h1>}
      {too_late && <p>Your answer came too late and was not taken.</p>}
      <p>{text}</p>
    </div>
  );
}

function standing(snapshot: OfferProps["snapshot"], offer: OfferState) {
  switch (offer.state) {
    case "sent":
      return null;
    case "preview":
      return (
        <>
          This is what the customer sees. <a href={offer.back}>Back to the quote</a>
        </>
      );
    case "expired":
      return (
        <>
          This quote expired on <Day iso={snapshot.valid_until} />. Its prices no longer hold:{" "}
          {insteadOf(offer.newer, snapshot.letterhead.shop)}
        </>
      );
    case "withdrawn":
      return <>Its prices no longer hold: {insteadOf(offer.newer, snapshot.letterhead.shop)}</>;
    case "accepted": {
      const title = snapshot.options.find(({ id }) => id === offer.option)?.title ?? "";
      return (
        <>
          <strong>{title}</strong>: accepted by {offer.name} on {offer.at}.
        </>
      );
    }
    case "declined":
      return (
        <>
          Declined by {offer.name} on {offer.at}.
        </>
      );
  }
}

function insteadOf(newer: number | null, shop: string): string {
  return newer === null
    ? `ask ${shop} for a new one.`
    : `there is a newer one, quote ${newer}. Ask ${shop} for its link.`;
}

function AnswerForm({ snapshot, outlook, path, answer, errors }: OfferPageProps) {
  const messages = messagesOf(errors);
  const choices = [
    ...snapshot.options.map((option, i) => ({
      value: option.id,
      label: yesTo(option, outlook.options[i]?.price.total_minor ?? 0, snapshot),
    })),
    { value: "no", label: "No, thank you" },
  ];
  const wrong = messages.get("choice");
  return (
    <section class="offer-part answer">
      <h2>Your answer</h2>
      <form method="post" action={path} id="answer" class="stack" novalidate>
        <fieldset class="field" aria-describedby={wrong === undefined ? "choice-hint" : "choice-hint choice-error"}>
          <legend>What would you like us to do?</legend>
          <span class="hint" id="choice-hint">
            You can answer once. {AUTHORIZED}
          </span>
          {wrong !== undefined && <ErrorText id="choice" message={wrong} />}
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
          label="Your name"
          hint="Typing your name counts as your signature"
          value={answer.name}
          words
          error={messages.get("name")}
        />
        <FormFoot submit="Send my answer" />
      </form>
    </section>
  );
}

const AUTHORIZED =
  "I authorize the work of the option marked, at the price shown. Nothing more is done without my consent.";

function yesTo(option: QuoteOption, total_minor: number, snapshot: OfferProps["snapshot"]): string {
  const by_place = placePriceRange(option, total_minor) === null ? "" : ", by where it leaks; we ask you first";
  return `Yes: ${option.title}, ${saidPrice(option, total_minor, snapshot)}${by_place}`;
}

/** On paper: boxes to tick, what is agreed besides, and a place to sign. */
function PaperAnswer({ snapshot, outlook, offer, code }: OfferPageProps) {
  if (offer.state !== "sent" && offer.state !== "preview" && offer.state !== "accepted") return null;
  const accepted = offer.state === "accepted" ? offer.option : null;
  return (
    <section class="paper-answer" aria-hidden="true">
      {offer.state === "sent" && code !== null && (
        <div class="paper-code">
          <QrPicture code={code} label="Code to scan" />
          <p>Scan this to read the quote and answer it online.</p>
        </div>
      )}
      <h2>Authorization</h2>
      <ul>
        {snapshot.options.map((option, i) => (
          <li>
            {accepted === option.id ? "☑" : "☐"} {yesTo(option, outlook.options[i]?.price.total_minor ?? 0, snapshot)}
          </li>
        ))}
        <li>☐ No, thank you</li>
      </ul>
      <p>{AUTHORIZED}</p>
      <div class="paper-lines">
        {AGREED.map((name) => (
          <span>{name}</span>
        ))}
      </div>
      <div class="paper-lines paper-signature">
        <span>Name and signature</span>
        <span>Date</span>
      </div>
    </section>
  );
}

/** What shop and customer agree on with the order, filled in by hand. */
const AGREED = [
  "More work without asking, up to",
  "Ready by",
  "Odometer",
  "Old parts back: ☐ yes ☐ no",
  "Deposit paid",
  "Technician, certificate",
] as const;
