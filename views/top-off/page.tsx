import { LEGAL_NOTE } from "../../data/rules.ts";
import { CAUTIONS, STOPS } from "../../data/top-off-steps.ts";
import type { TopOffPlan } from "../../src/core/top-off-plan.ts";
import type { UnitSystem } from "../../src/core/units.ts";
import type { Outcome } from "../answer/outcome.ts";
import { Sentence } from "../answer/sentence.tsx";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { RuleItem } from "../rules/rule-item.tsx";
import { saidMass } from "../words/numbers.ts";
import { Charge } from "../words/said.tsx";
import { TopOffForm } from "./form.tsx";
import { Shopping } from "./shopping.tsx";
import { Steps } from "./steps.tsx";
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

/** `/top-off`: how much, with what, and how, for someone who does it with their own hands. */
export function TopOffPage(props: TopOffPageProps) {
  const { plan, outcome, fields, sent_along, errors, example, back, readings, logged, asset } = props;
  const { units } = outcome;
  return (
    <Layout
      title={`${errors.length > 0 ? "Error: " : ""}Top-off plan · Seepwise`}
      path="/top-off"
      asset={asset}
      description="How much refrigerant is missing, what to buy, and how to add it safely."
    >
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      <h1 class="page-name">Top-off plan{example && " for the invented example"}</h1>
      <section class="page-verdict" aria-labelledby="plan-title">
        <h2 id="plan-title">
          <PlanSentence plan={plan} units={units} />
        </h2>
        <p class="sure">
          <Missing plan={plan} units={units} />
        </p>
        <p class="soft">
          {plan.stops.length === 0 ? (
            <>
              The <a href={back}>charge log</a> says: <Sentence outcome={outcome} />
            </>
          ) : (
            <a href={back}>Back to the charge log and its answer</a>
          )}
        </p>
      </section>
      {plan.stops.map(({ code, rules }, i) => (
        <Entry name={i === 0 ? "Why not" : "Also"}>
          {i > 0 && <h3>{STOPS[code].title}</h3>}
          <p>{STOPS[code].says}</p>
          {code === "readings-not-low" && (
            <p>
              <a href={readings}>Look at the readings again</a>
            </p>
          )}
          {rules.map((rule) => (
            <RuleItem rule={rule} />
          ))}
        </Entry>
      ))}
      <Entry name="Today" note={<p>What the plan depends on</p>}>
        <TopOffForm fields={fields} sent_along={sent_along} errors={errors} units={units} readings={readings} />
      </Entry>
      {plan.cautions.length > 0 && (
        <Entry name="Before you start">
          <div class="cautions">
            <ul>
              {plan.cautions.map((code) => (
                <li>
                  <strong>{CAUTIONS[code].title}.</strong> {CAUTIONS[code].says}
                </li>
              ))}
            </ul>
          </div>
        </Entry>
      )}
      <Shopping plan={plan} units={units} />
      <Steps plan={plan} units={units} />
      {logged !== null && (
        <Entry name="Write it down">
          <p>
            <a href={logged}>Log this top-off</a>: the line is filled in as planned. Correct the amount to what the
            scale showed, and say how it cools.
          </p>
        </Entry>
      )}
      <p class="legal-note">
        {LEGAL_NOTE} <a href={`/rules?place=${fields.where}`}>What the rules say</a>
      </p>
    </Layout>
  );
}

function PlanSentence({ plan, units }: { plan: TopOffPlan; units: UnitSystem }) {
  const [stop] = plan.stops;
  if (stop !== undefined) return <>{STOPS[stop.code].title}.</>;
  const total = saidMass(plan.add_at_most_g, units);
  if (plan.add_first_g === 0) return <>Small parts only, and never more than {total} in all.</>;
  const first = saidMass(plan.add_first_g, units);
  if (first === total) return <>Add {first}, and no more.</>;
  return (
    <>
      Add {first} first. Then small parts, never more than {total} in all.
    </>
  );
}

function Missing({ plan, units }: { plan: TopOffPlan; units: UnitSystem }) {
  const { charge_g, missing_g } = plan;
  return (
    <>
      It holds about <Charge>{saidMass(charge_g.mean, units)}</Charge> (between {saidMass(charge_g.p05, units)} and{" "}
      {saidMass(charge_g.p95, units)}), so about <Charge>{saidMass(missing_g.likely, units)}</Charge> is missing.
    </>
  );
}
