import { LEGAL_NOTE } from "../../data/rules.ts";
import type { TopOffPlan } from "../../src/core/top-off-plan.ts";
import type { Outcome } from "../answer/outcome.ts";
import { Sentence } from "../answer/sentence.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { usualGauge } from "../readings/readings-fields.ts";
import { TopOffForm } from "./form.tsx";
import { PlanBody, PlanVerdict, WhyNot } from "./plan.tsx";
import type { TopOffFields } from "./top-off-fields.ts";

export interface TopOffPageProps {
  plan: TopOffPlan;
  /** What the charge log says. */
  outcome: Outcome;
  fields: TopOffFields;
  /** What the plan rests on beside the form: sent along with it. */
  sent_along: readonly (readonly [name: string, value: string])[];
  errors: readonly FieldError[];
  /** Whether the log is the invented example. */
  example: boolean;
  /** The quick question that this plan belongs to. */
  back: string;
  /** Where readings are taken for it. */
  readings: string;
  /** The quick question with this top-off written down; null when nothing goes in. */
  logged: string | null;
  asset: AssetUrl;
}

const QUICK_ASKS = ["ambient", "where", "compressor", "contents", "says", "seal"] as const;

/** `/top-off`: how much, with what, and how, for someone who does it with their own hands. */
export function TopOffPage(props: TopOffPageProps) {
  const { plan, outcome, fields, sent_along, errors, example, back, readings, logged, asset } = props;
  const { units } = outcome;
  return (
    <Layout
      title="Top-off plan"
      path="/top-off"
      asset={asset}
      errors={errors}
      description="How much refrigerant is missing, what to buy, and how to add it safely."
    >
      <h1 class="page-name">Top-off plan{example && " for the sample vehicle"}</h1>
      <PlanVerdict plan={plan} units={units} option={outcome.answer.verdict.option}>
        {plan.stops.length === 0 ? (
          <>
            The answer from <a href={back}>your entries</a>: <Sentence outcome={outcome} />
          </>
        ) : (
          <a href={back}>Back to the charge log and its answer</a>
        )}
      </PlanVerdict>
      <WhyNot plan={plan} readings={readings} />
      <Entry name="Today" note={<p>What the plan depends on</p>}>
        <TopOffForm
          action="/top-off"
          asks={QUICK_ASKS}
          fields={fields}
          sent_along={sent_along}
          errors={errors}
          units={units}
          readings={readings}
        />
      </Entry>
      <PlanBody plan={plan} units={units} gaugeStyle={{ units, gauge: usualGauge(units) }} />
      {logged !== null && (
        <Entry name="Write it down">
          <p>
            <a href={logged}>Log this top-off</a>: the line is filled in as planned. Correct the amount to what the
            scale showed, and say how it cools.
          </p>
        </Entry>
      )}
      <PricesUsedLine prices={outcome.prices} />
      <p class="legal-note">
        {LEGAL_NOTE} <a href={`/rules?place=${fields.where}`}>What the rules say</a>
      </p>
    </Layout>
  );
}
