import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { ReadingsForm } from "./form.tsx";
import { Judgement, type JudgementProps } from "./judgement.tsx";
import type { ReadingsFields } from "./readings-fields.ts";

export interface ReadingsPageProps {
  fields: ReadingsFields;
  errors: readonly FieldError[];
  /** What was read and what it means; null while there is nothing to judge. */
  judged: JudgementProps | null;
  /** The address of an empty form in the same units. */
  empty: string;
  asset: AssetUrl;
}

/** `/readings`: gauge and vent readings in, ranked findings out. */
export function ReadingsPage({ fields, errors, judged, empty, asset }: ReadingsPageProps) {
  const failed = errors.length > 0;
  return (
    <Layout
      title={`${failed ? "Error: " : ""}Is it low at all? · Seepwise`}
      path="/readings"
      asset={asset}
      description="Gauge and vent readings of a vehicle's air conditioner, and what they mean: low charge, or something else."
    >
      {failed && <ErrorSummary errors={errors} />}
      <h1 class={judged === null ? "page-title" : "page-name"}>Is it low at all?</h1>
      {judged === null ? (
        <p class="page-lead">
          Nearly half of all poor cooling is not low charge, and refrigerant on top of another fault does harm. Enter
          what you can read; only the air temperature is needed.
        </p>
      ) : (
        <Judgement {...judged} />
      )}
      <ReadingsForm fields={fields} errors={errors} empty={empty} />
    </Layout>
  );
}
