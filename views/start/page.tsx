import { GLOSSARY, type GlossaryId } from "../../data/glossary.ts";
import { formatDate } from "../../src/core/quantities/format.ts";
import { AnswerDetail, AnswerGrounds } from "../answer/answer.tsx";
import type { Outcome } from "../answer/outcome.ts";
import { VerdictBlock } from "../answer/verdict.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { ErrorLinks, ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { Definitions } from "../parts/term.tsx";
import { KeepVehicle } from "./keep-vehicle.tsx";
import { Onward } from "./onward.tsx";
import { Question } from "./question.tsx";
import type { QuickFields } from "./quick-fields.ts";
import { WhatIf } from "./what-if.tsx";

export interface StartProps {
  fields: QuickFields;
  errors: readonly FieldError[];
  /** Null while something is to be put right, or before the nameplate charge is there. */
  outcome: Outcome | null;
  /** Whether an answer was asked for in so many words: then errors take the focus. */
  asked: boolean;
  /** Whether what stands in the form is the invented example. */
  example: boolean;
  /** The day on which the page is looked at. */
  today: string;
  addressWith: (changes: Partial<QuickFields>) => string;
  /** Drawn for this page, so that the vehicle is kept once however often the button is pressed. */
  submit_key: string;
}

const TITLE = "Repair, dye test or top off? · Seepwise";

/** The start page: the quick question, and the answer that follows it. */
export function StartPage({ asset, ...props }: StartProps & { asset: AssetUrl }) {
  return (
    <Layout
      title={titleOf(props)}
      path="/"
      asset={asset}
      charts
      description="Tells from the record of past top-offs whether to repair a slowly leaking vehicle air conditioner, test for the leak first, or top it off again."
    >
      <div class="lede">
        <h1>Repair, dye test, or top it off again?</h1>
        <p>
          For a vehicle air conditioner that slowly loses its refrigerant. Write down what was added and when; the
          answer below follows.
        </p>
      </div>
      <form
        id="quick"
        action="/"
        method="get"
        novalidate
        autocomplete="off"
        hx-get="/"
        hx-trigger="submit, change"
        hx-target="this"
        hx-swap="innerMorph"
        hx-sync="this:replace"
      >
        <QuickForm {...props} />
      </form>
      <Definitions of={Object.keys(GLOSSARY) as GlossaryId[]} />
    </Layout>
  );
}

/** The same after a change, for the page that is there already. */
export function StartFragment(props: StartProps) {
  return (
    <>
      <title>{titleOf(props)}</title>
      <QuickForm {...props} />
    </>
  );
}

function titleOf({ errors }: StartProps): string {
  return errors.length > 0 ? `Error: ${TITLE}` : TITLE;
}

function QuickForm(props: StartProps) {
  const { fields, errors, outcome, asked, addressWith } = props;
  const messages = new Map(errors.map(({ field, message }) => [field, message]));
  return (
    <>
      {/* Enter in a field presses the first submit button, which must not be one that removes a line. */}
      <button type="submit" class="visually-hidden" name="go" value="1" tabindex={-1}>
        Work it out
      </button>
      {asked && errors.length > 0 && <ErrorSummary errors={errors} />}
      <Notes {...props} />
      <Question fields={fields} messages={messages} addressWith={addressWith} />
      {outcome === null ? <NoAnswer errors={errors} /> : <VerdictBlock outcome={outcome} />}
      {outcome !== null && <AnswerGrounds outcome={outcome} />}
      {(outcome !== null || messages.has("label")) && (
        <KeepVehicle label={fields.label} error={messages.get("label")} submit_key={props.submit_key} />
      )}
      {(outcome !== null || errors.length > 0 || supposesSomething(fields)) && (
        <WhatIf fields={fields} messages={messages} outcome={outcome} addressWith={addressWith} target="#quick" />
      )}
      {outcome !== null && <AnswerDetail outcome={outcome} />}
      {outcome !== null && <Onward address={addressWith({})} where={fields.where} />}
    </>
  );
}

/** Then the what-ifs stay, answer or not, so that nothing typed is lost. */
function supposesSomething({ place, quote, carbon, floor }: QuickFields): boolean {
  return [place, quote, carbon, floor].some((typed) => typed !== "");
}

/** One line in any case, so that nothing moves when a first change is made. */
function Notes({ example, fields, today, addressWith }: StartProps) {
  if (example) {
    return (
      <p class="note" id="note">
        An invented example is filled in. Change it to yours, line by line, or{" "}
        <a href="/?blank=1">start with an empty sheet</a>.
      </p>
    );
  }
  if (fields.as_of !== today) {
    return (
      <p class="note" id="note">
        This answer is of {formatDate(fields.as_of)}.{" "}
        <a href={addressWith({ as_of: today, today: "" })}>Bring it up to today</a> and say how it cools now.
      </p>
    );
  }
  return (
    <p class="note" id="note">
      All of it is in the address of this page: bookmark it, share it, or go a step back.
    </p>
  );
}

/** In the place of the verdict while there is none: what it waits for. */
function NoAnswer({ errors }: { errors: readonly FieldError[] }) {
  return (
    <div class="verdict" id="answer" role="status">
      {errors.length === 0 ? (
        <>
          <h2>Enter the nameplate charge, and the answer comes here.</h2>
          <p class="sure">
            It stands on a label under the hood. If that is gone: with R-134a, compact cars hold about 16 to 18 oz (450
            to 520 g), mid-size ones up to 25 oz (700 g), large ones up to 32 oz (900 g). Common practice, not a rule.
          </p>
        </>
      ) : (
        <>
          <h2>No answer yet: {errors.length === 1 ? "one thing" : `${errors.length} things`} to put right.</h2>
          <ErrorLinks errors={errors} />
        </>
      )}
    </div>
  );
}
