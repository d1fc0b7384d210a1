import type { Child } from "hono/jsx";
import { GLOSSARY, type GlossaryId } from "../../data/glossary.ts";
import { formatDate } from "../../src/core/quantities/dates.ts";
import { comparedOption } from "../../src/core/question/option-of.ts";
import { AnswerDetail, AnswerGrounds } from "../answer/answer.tsx";
import type { Ways } from "../answer/next-step.tsx";
import type { Outcome } from "../answer/outcome.ts";
import { VerdictBlock } from "../answer/verdict.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout, PageTitle } from "../layout.tsx";
import { FirstChoice } from "../navigation.tsx";
import { ErrorLinks, ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { messagesOf } from "../parts/field.tsx";
import { Definitions } from "../parts/term.tsx";
import { AnswerLine } from "./answer-line.tsx";
import { FoldedQuestion } from "./folded-question.tsx";
import { KeepVehicle } from "./keep-vehicle.tsx";
import { type Mixture, MixtureNote } from "./mixture.tsx";
import { Onward } from "./onward.tsx";
import { QuestionForm } from "./question.tsx";
import type { QuickFields } from "./quick-fields.ts";
import { MORE_WHAT_IFS, WhatIf } from "./what-if.tsx";

export type { Mixture };

export interface StartProps {
  fields: QuickFields;
  errors: readonly FieldError[];
  /** Null while something is to be fixed, or before the nameplate charge is there. */
  outcome: Outcome | null;
  /** What each supposition says alone; null where vehicle and refrigerant are known. */
  mixture: Mixture | null;
  /** How each line of the log was read, where that says more than what was typed. */
  read_back: readonly (string | null)[];
  /** Whether an answer was asked for in so many words: then errors take the focus. */
  asked: boolean;
  /** What money is typed in, ISO 4217. */
  currency: string;
  /** The day on which the page is looked at. */
  today: string;
  addressWith: (changes: Partial<QuickFields>) => string;
  /** Whether the one who asks may save the vehicle here. */
  may_keep: boolean;
  /** Drawn for this page, so that the vehicle is kept once however often the button is pressed. */
  submit_key: string;
}

const TITLE = "Repair, dye test or top off?";

/** The start page: the quick question, and the answer beside it. */
export function StartPage({ asset, ...props }: StartProps & { asset: AssetUrl }) {
  return (
    <Layout
      title={TITLE}
      errors={props.errors}
      summary={false}
      path="/"
      asset={asset}
      charts
      wide
      description="Tells from the record of past top-offs whether to repair a slowly leaking vehicle air conditioner, test for the leak first, or top it off again."
    >
      <div class="lede">
        <h1>Repair, dye test, or top it off again?</h1>
        {props.outcome === null && <p>For a vehicle air conditioner that slowly loses refrigerant.</p>}
        {props.outcome === null && <FirstChoice />}
      </div>
      <form
        id="quick"
        class="two-columns"
        action="/#answer"
        method="get"
        novalidate
        autocomplete="off"
        hx-get="/"
        hx-trigger="submit, change"
        hx-target="this"
        hx-swap="innerMorph"
        hx-sync="this:replace"
      >
        <QuickForm {...props} in_place={false} />
      </form>
      <Definitions of={Object.keys(GLOSSARY) as GlossaryId[]} />
    </Layout>
  );
}

/** The same after a change, for the page that is there already. */
export function StartFragment(props: StartProps) {
  return (
    <>
      <PageTitle title={TITLE} errors={props.errors} />
      <QuickForm {...props} in_place />
    </>
  );
}

interface QuickFormProps extends StartProps {
  /** Whether the page is there already: then a slip leaves the last answer on it. */
  in_place: boolean;
}

function QuickForm(props: QuickFormProps) {
  const { fields, errors, outcome, asked, addressWith, in_place } = props;
  const messages = messagesOf(errors);
  const named = errors.map(withEntry);
  return (
    <>
      {/* Enter in a field presses the first submit button, which must not be one that removes a line. */}
      <button type="submit" class="visually-hidden" name="go" value="1" tabindex={-1}>
        Show the answer
      </button>
      <div class="across">
        {asked && errors.length > 0 && <ErrorSummary errors={named} />}
        <Notes {...props} />
      </div>
      <FoldedQuestion fields={fields} answered={outcome !== null}>
        <QuestionForm
          fields={fields}
          messages={messages}
          addressWith={addressWith}
          read_back={props.read_back}
          answered={outcome !== null}
        />
      </FoldedQuestion>
      <div class="reply">
        {in_place && errors.length > 0 && <ToFix errors={named} />}
        <AnswerPart id="answer-first" kept={in_place && errors.length > 0}>
          <FirstPart {...props} />
        </AnswerPart>
        {(outcome !== null || (in_place && errors.length > 0) || supposesSomething(fields)) && (
          <WhatIf
            fields={fields}
            messages={messages}
            outcome={outcome}
            currency={props.currency}
            addressWith={addressWith}
            target="#quick"
            more={MORE_WHAT_IFS.filter((name) => fields[name] !== "")}
          />
        )}
        {(outcome !== null || messages.has("label")) && !fields.example && props.may_keep && (
          <KeepVehicle label={fields.label} error={messages.get("label")} submit_key={props.submit_key} />
        )}
        <AnswerPart id="answer-rest" kept={in_place && errors.length > 0}>
          {outcome !== null && <AnswerDetail outcome={outcome} />}
          {outcome !== null && (
            <Onward
              address={addressWith({})}
              where={fields.where}
              top_off={comparedOption(outcome.answer, "top-off").not_offered_because !== "empty"}
            />
          )}
        </AnswerPart>
      </div>
    </>
  );
}

/** A part of the answer; `kept` leaves on the page what it shows already. */
function AnswerPart({ id, kept, children }: { id: string; kept: boolean; children: Child }) {
  return kept ? (
    <div class="answer-part" id={id} hx-morph-skip="" />
  ) : (
    <div class="answer-part" id={id}>
      {children}
    </div>
  );
}

function FirstPart({ fields, errors, outcome, mixture, addressWith }: StartProps) {
  if (outcome === null) return <NoAnswer errors={errors.length} />;
  return (
    <>
      <AnswerLine outcome={outcome} />
      <VerdictBlock outcome={outcome} ways={waysOf(addressWith)} />
      {mixture !== null && <MixtureNote mixture={mixture} shown={outcome.request.vehicle} units={fields.units} />}
      <AnswerGrounds outcome={outcome} ways={waysOf(addressWith)} />
    </>
  );
}

/** Where the next steps are, with the question as it stands. */
function waysOf(addressWith: StartProps["addressWith"]): Ways {
  const with_question = (path: string) => addressWith({}).replace("/?", `${path}?`);
  return {
    top_off: with_question("/top-off"),
    readings: with_question("/readings"),
    leak_tests: "/leak-tests",
    quote: null,
    log_look: null,
    log_repair: null,
    leave_out: addressWith({ says: "", found: "" }),
  };
}

/** Whether a what-if was typed: then they stay on the page without an answer, too, so that nothing typed is lost. */
function supposesSomething({ place, quote, carbon, floor }: QuickFields): boolean {
  return [place, quote, carbon, floor].some((typed) => typed !== "");
}

/** A message with the entry that it is about, for a list away from the entries. */
function withEntry({ field, message }: FieldError): FieldError {
  const entry = /^(?:when|did|amount|cooled)-(\d+)$/.exec(field)?.[1];
  return { field, message: entry === undefined ? message : `Entry ${entry}: ${message}` };
}

/** One line in any case, so that nothing moves when a first change is made. */
function Notes({ fields, outcome, today, addressWith }: StartProps) {
  if (fields.example) {
    return (
      <p class="note sample" id="note">
        <strong>Sample car.</strong> Change its made-up entries, or <a href="/">start with your own</a>.
      </p>
    );
  }
  if (fields.as_of !== today) {
    return (
      <p class="note" id="note">
        This answer is from {formatDate(fields.as_of)}.{" "}
        <a href={addressWith({ as_of: today, today: "", says: "", found: "" })}>Update it</a> to today, then choose how
        it cools now.
      </p>
    );
  }
  if (outcome === null) {
    return (
      <p class="see-example" id="note">
        <a class="button-quiet" href="/?example=1">
          See an example
        </a>
      </p>
    );
  }
  return (
    <p class="note" id="note">
      Bookmark this page to keep your entries.
    </p>
  );
}

/** What keeps the answer from following: it stays as it was, and says so. */
function ToFix({ errors }: { errors: readonly FieldError[] }) {
  return (
    <div class="to-fix" id="to-fix" role="status">
      <p>
        <strong>{errors.length === 1 ? "Fix one thing" : `Fix ${errors.length} things`}</strong> to update the answer:
      </p>
      <ErrorLinks errors={errors} />
    </div>
  );
}

/** In the place of the verdict while there is none: what it waits for. */
function NoAnswer({ errors }: { errors: number }) {
  return (
    <div class="verdict" id="answer" role="status">
      {errors === 0 ? (
        <>
          <h2>Your answer will be here.</h2>
          <p class="sure">
            What to do, how sure that is, what it costs and releases. Enter the nameplate charge, or “Don't know”.
          </p>
        </>
      ) : (
        <h2>No answer yet. Fix {errors === 1 ? "one thing" : `${errors} things`} first.</h2>
      )}
    </div>
  );
}
