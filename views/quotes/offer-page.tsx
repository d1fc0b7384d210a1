import { formatAmount } from "../../src/core/quantities/money.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { ErrorText, TextField } from "../parts/field.tsx";
import { Day } from "../words/said.tsx";
import { Cautions, OfferHead, type OfferProps, OptionsCompared, Prices, Recommendation, SmallPrint } from "./offer.tsx";

/** How the customer's quote stands. Times are where the shop is, in words. */
export type OfferState =
  /** Seen by the shop; `back` is its own page. */
  | { state: "preview"; back: string }
  | { state: "sent" }
  | { state: "expired" }
  | { state: "withdrawn" }
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
    <Layout
      title={`${errors.length > 0 ? "Error: " : ""}Quote ${snapshot.number} · ${shop}`}
      path=""
      asset={asset}
      live
      document
    >
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      <article class="paper">
        <OfferHead snapshot={snapshot} />
        <OfferStanding {...props} />
        {offer.state !== "withdrawn" && (
          <>
            <section class="offer-part" id="offer-sums">
              <OfferSums {...props} />
            </section>
            {offer.state === "sent" && <AnswerForm {...props} />}
            {(offer.state === "sent" || offer.state === "preview") && <PaperAnswer />}
            <Cautions snapshot={snapshot} />
            <section class="offer-part">
              <h2>What the prices are made of</h2>
              <Prices snapshot={snapshot} outlook={outlook} />
            </section>
            <SmallPrint snapshot={snapshot} />
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
      <OptionsCompared snapshot={snapshot} outlook={outlook} />
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
        Count again
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
          This quote ran out on <Day iso={snapshot.valid_until} />. Its prices no longer hold: ask{" "}
          {snapshot.letterhead.shop} for a new one.
        </>
      );
    case "withdrawn":
      return <>Its prices no longer hold. Ask {snapshot.letterhead.shop} for a new one.</>;
    case "accepted": {
      const title = snapshot.options.find(({ id }) => id === offer.option)?.title ?? "";
      return (
        <>
          Accepted: <strong>{title}</strong>. {offer.name} said so on {offer.at}.
        </>
      );
    }
    case "declined":
      return (
        <>
          Declined. {offer.name} said so on {offer.at}.
        </>
      );
  }
}

function AnswerForm({ snapshot, outlook, path, answer, errors }: OfferPageProps) {
  const messages = new Map(errors.map(({ field, message }) => [field, message]));
  const choices = [
    ...snapshot.options.map(({ id, title }, i) => ({
      value: id,
      label: `Yes: ${title}, ${formatAmount(outlook.options[i]?.price.total_minor ?? 0, snapshot.currency, snapshot.number_format)}`,
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
            You choose one, once. A yes is an order at the price above.
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
          hint="Typed, it stands for your signature"
          value={answer.name}
          words
          error={messages.get("name")}
        />
        <p class="actions">
          <button type="submit" class="button">
            Send my answer
          </button>
        </p>
      </form>
    </section>
  );
}

/** On paper, a place to sign. */
function PaperAnswer() {
  return (
    <p class="paper-answer" aria-hidden="true">
      <span>Our choice</span>
      <span>Name and signature</span>
      <span>Date</span>
    </p>
  );
}
