import { LANGUAGE_NAMES, LANGUAGES } from "../../data/customer-words.ts";
import { SAMPLE_PRICES_NOTE } from "../../data/price-book.ts";
import type { QuoteContent } from "../../src/core/quotes/quote-document.ts";
import type { QuoteOutlook } from "../../src/core/quotes/quote-outlook.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { fieldOf, type Messages, messagesOf, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
import { type PricesUsed, PricesUsedLine } from "../parts/prices-used.tsx";
import { saidYears } from "../words/times.ts";
import { BuilderOption } from "./builder-option.tsx";
import type { MoneyStyle } from "./money-style.ts";
import type { QuoteFields } from "./quote-fields.ts";
import { leastToday, saidSum } from "./said-quote.ts";
import { WORK_CHOICES } from "./work-choices.ts";

export interface BuilderProps {
  vehicle: { id: string; label: string };
  quote: { id: string; number: number; version: number };
  fields: QuoteFields;
  /** As it was read last; the sums are of this. */
  content: QuoteContent;
  outlook: QuoteOutlook;
  money: MoneyStyle;
  errors: readonly FieldError[];
  /** The errors stand at their fields only: someone is still typing. */
  quiet: boolean;
  /** The shop has said who it is. */
  has_letterhead: boolean;
  /** The prices are those that nobody has changed yet. */
  sample: boolean;
  /** Whose they are; null for sample prices. */
  prices: PricesUsed | null;
  saved: boolean;
  /** An option that was priced anew just now, and what it came to before. */
  renewed: { option: string; was_minor: number } | null;
  /** Someone else changed the draft; what was typed is still in the form. */
  changed: boolean;
  submit_key: string;
  /** What the next option is to be, of `WORK_CHOICES`. */
  new_work: string;
}

/** `/vehicles/:id/quotes/:quote` while it is a draft: the quote builder. */
export function BuilderPage({ asset, ...props }: BuilderProps & { asset: AssetUrl }) {
  const { vehicle, quote, errors } = props;
  const path = `/vehicles/${vehicle.id}/quotes/${quote.id}`;
  return (
    <Layout
      title={`Quote ${quote.number} for ${vehicle.label}`}
      errors={errors}
      summary={false}
      path="/quotes"
      asset={asset}
      live
    >
      <form
        id="builder"
        method="post"
        action={path}
        novalidate
        hx-post={`${path}/sums`}
        hx-trigger="change"
        hx-target="this"
        hx-swap="innerMorph"
        hx-sync="this:replace"
      >
        <BuilderForm {...props} />
      </form>
      <Entry name="Delete draft">
        <Confirm
          name="Delete draft"
          question="The draft and all that you typed into it are deleted for good."
          action={`${path}/discard`}
          fields={{ version: quote.version }}
        />
      </Entry>
    </Layout>
  );
}

/** The form with its sums; it takes its own place after each change. */
export function BuilderForm(props: BuilderProps) {
  const { vehicle, quote, fields, content, errors, quiet, submit_key } = props;
  const messages = messagesOf(errors);
  const here = `/vehicles/${vehicle.id}/quotes/${quote.id}`;
  return (
    <>
      {/* Enter in a field presses the first button of the form, which must not be one that removes a line. */}
      <button type="submit" class="visually-hidden" tabindex={-1}>
        Save the draft
      </button>
      <input type="hidden" name="version" value={quote.version} />
      <input type="hidden" name="submit_key" value={submit_key} />
      {errors.length > 0 && !quiet && <ErrorSummary errors={errors} />}
      <p class="page-name">
        <a href={`/vehicles/${vehicle.id}/quotes`}>Quotes for {vehicle.label}</a>
      </p>
      <h1 class="page-title">Quote {quote.number}, a draft</h1>
      <Notices {...props} here={here} />
      <ForWhom fields={fields} messages={messages} />
      {fields.options.map((option, i) => (
        <BuilderOption
          path={`${here}/options/${option.id}`}
          fields={option}
          place={i}
          own_lines={Object.entries(content.book.own_lines ?? {}).map(([n, { text }]) => ({ n, text }))}
          others={fields.options.filter(({ id }) => id !== option.id)}
          content={content.options.find(({ id }) => id === option.id)}
          shown={props.outlook.options.find(({ id }) => id === option.id)}
          advised={props.outlook.advised === option.id}
          was_minor={props.renewed?.option === option.id ? props.renewed.was_minor : null}
          keep_years={props.outlook.keep_years}
          currency={content.currency}
          money={props.money}
          messages={messages}
        />
      ))}
      <AnotherOption here={here} new_work={props.new_work} messages={messages} />
      <Recommend {...props} messages={messages} />
      <GiveIt {...props} here={here} messages={messages} />
    </>
  );
}

/** What happened to the draft, and what its prices are. */
function Notices({ here, saved, changed, sample, prices }: BuilderProps & { here: string }) {
  return (
    <>
      {saved && (
        <p class="note" role="status">
          Saved.
        </p>
      )}
      {changed && (
        <p class="note" role="alert">
          Someone else changed this draft in the meantime. What you typed is below; save again to put it in place of
          theirs, or <a href={here}>look at theirs</a>.
        </p>
      )}
      {sample && (
        <p class="note" id="prices" tabindex={-1}>
          {SAMPLE_PRICES_NOTE} <a href="/prices">Prices</a>
        </p>
      )}
      {prices !== null && <PricesUsedLine prices={prices} />}
    </>
  );
}

function ForWhom({ fields, messages }: Pick<BuilderProps, "fields"> & { messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <Entry name="Customer">
      <div class="field-grid">
        <TextField {...of("customer")} label="Customer" words />
        <TextField
          {...of("keep_years")}
          label="Years they keep the vehicle"
          hint="They can change it"
          short
          inputmode="decimal"
          unit="years"
        />
      </div>
      <div class="field-grid">
        <TextField
          {...of("vehicle_words")}
          label="Vehicle, for the customer"
          hint="Year, make, model; your own name for it is not printed"
          words
        />
        <SelectField
          {...of("language")}
          label="Language of the customer’s page"
          hint="Our words are translated; yours stay as you type them"
          choices={LANGUAGES.map((value) => ({ value, label: LANGUAGE_NAMES[value].name }))}
        />
      </div>
      <Folded
        title="Plate, VIN, odometer, message"
        open={(["plate", "vin", "odometer", "note"] as const).some((name) => fields[name] !== "" || messages.has(name))}
      >
        <div class="field-grid">
          <TextField {...of("plate")} label="Plate" short />
          <TextField {...of("vin")} label="VIN" hint="17 letters and digits. Optional" />
          <TextField {...of("odometer")} label="Odometer" hint="Like 84,200 miles" short />
        </div>
        <TextAreaField
          {...of("note")}
          label="Message to the customer"
          hint="Shown above the options. Optional"
          rows={2}
        />
      </Folded>
    </Entry>
  );
}

function AnotherOption({ here, new_work, messages }: { here: string; new_work: string; messages: Messages }) {
  return (
    <Entry name="Another option">
      <div class="add-option">
        <SelectField
          id="new_work"
          name="new_work"
          label="What it does"
          value={new_work}
          error={messages.get("new_work")}
          choices={WORK_CHOICES.map(({ value, label }) => ({ value, label }))}
        />
        <button type="submit" class="button-quiet" formaction={`${here}/options`}>
          Add it
        </button>
      </div>
    </Entry>
  );
}

/** How long it holds, and the buttons that keep or send it. */
function GiveIt({
  here,
  fields,
  messages,
  has_letterhead,
}: Pick<BuilderProps, "fields" | "has_letterhead"> & { here: string; messages: Messages }) {
  const of = fieldOf(fields, messages);
  return (
    <Entry name="Give it">
      {!has_letterhead && (
        <p class="note" id="letterhead" tabindex={-1}>
          Your shop's name is missing. Save the draft, then{" "}
          <a href={`/prices/letterhead?back=${encodeURIComponent(here)}`}>fill in the letterhead</a>.
        </p>
      )}
      <TextField
        {...of("valid_days")}
        label="It holds for, in days"
        hint="From the day it is sent"
        short
        inputmode="numeric"
        unit="days"
      />
      <p class="actions">
        <button type="submit" class="button-quiet">
          Save the draft
        </button>
        <button type="submit" class="button-quiet" formaction={`${here}/preview`}>
          Save and preview
        </button>
        <button type="submit" class="button" formaction={`${here}/send`}>
          Save and create the customer's link
        </button>
      </p>
      <p class="soft">Once it has a link, you can only withdraw it or make a new one.</p>
    </Entry>
  );
}

/** The shop's recommendation beside the model's. */
function Recommend({ fields, content, outlook, money, messages }: BuilderProps & { messages: Messages }) {
  const of = fieldOf(fields, messages);
  const advised = content.options.find(({ id }) => id === outlook.advised);
  const shown = outlook.options.find(({ id }) => id === outlook.advised);
  return (
    <Entry name="Your advice">
      <p>
        {advised === undefined || shown?.years == null ? (
          outlook.check_first ? (
            <>It may not be low on refrigerant: the model advises none of these before readings settle that.</>
          ) : (
            <>The model advises none of these options.</>
          )
        ) : (
          <>
            The model's choice is <strong>{advised.title}</strong>: about{" "}
            {saidSum(shown.years.total, money, leastToday({ option: advised, shown, currency: content.currency }))} over{" "}
            {saidYears(outlook.keep_years)}.
          </>
        )}
      </p>
      <SelectField
        {...of("recommended")}
        label="You recommend"
        choices={[
          { value: "", label: "None of them" },
          ...fields.options.map(({ id, title }) => ({ value: id, label: title })),
        ]}
      />
      <TextAreaField
        {...of("recommended_why")}
        label="Why, in words for the customer"
        hint="If you recommend something else: what you saw that the charge log does not show"
        rows={3}
      />
    </Entry>
  );
}
