import type { ReadingsJudgement } from "../../src/core/readings/readings-contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { Folded } from "../parts/folded.tsx";
import { ReadingsForm } from "./form.tsx";
import { Judgement, type JudgementProps } from "./judgement.tsx";
import type { ReadingsFields } from "./readings-fields.ts";

export interface ReadingsPageProps {
  fields: ReadingsFields;
  errors: readonly FieldError[];
  /** What was read and what it means; null while there is nothing to judge. */
  judged: (JudgementProps & { onward: OnwardAddresses }) | null;
  /** The question that they were taken for, sent along with the form. */
  sent_along: readonly (readonly [name: string, value: string])[];
  /** The address of an empty form in the same units. */
  empty: string;
  asset: AssetUrl;
}

/** `/readings`: gauge and vent readings in, ranked findings out. */
export function ReadingsPage({ fields, errors, judged, sent_along, empty, asset }: ReadingsPageProps) {
  const form = <ReadingsForm fields={fields} errors={errors} sent_along={sent_along} empty={empty} />;
  return (
    <Layout
      title="Is it low at all?"
      errors={errors}
      path="/readings"
      asset={asset}
      description="Gauge and vent readings of a vehicle's air conditioner, and what they mean: low charge, or something else."
    >
      <h1 class={judged === null ? "page-title" : "page-name"}>Is it low at all?</h1>
      {judged === null ? (
        <p class="page-lead">Nearly half of all poor cooling is not low charge. Adding refrigerant then does harm.</p>
      ) : (
        <>
          <Judgement {...judged} />
          <Onward {...judged.onward} says={judged.judgement.says} />
        </>
      )}
      {judged === null || errors.length > 0 ? (
        form
      ) : (
        <Folded id="change" title="Change the readings">
          {form}
        </Folded>
      )}
    </Layout>
  );
}

interface OnwardAddresses {
  /** The quick question with what these readings say. */
  answer: string;
  /** The top-off plan with them; null without a charge log. */
  plan: string | null;
  /** Whether there was a question already. */
  has_question: boolean;
}

/** What to do with it. */
function Onward({ answer, plan, has_question, says }: OnwardAddresses & Pick<ReadingsJudgement, "says">) {
  return (
    <Entry name="With these readings" id="onward">
      <ul class="bullets">
        <li>
          <a href={answer}>{has_question ? "Back to the question" : "Repair, test or top off?"}</a> The answer counts
          them.
        </li>
        {plan !== null && says !== "not-low" && (
          <li>
            <a href={plan}>Top-off plan</a>: how much is missing by the log and by these readings.
          </li>
        )}
      </ul>
    </Entry>
  );
}
