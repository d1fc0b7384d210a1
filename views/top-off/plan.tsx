import type { Child } from "hono/jsx";
import { CAUTIONS, OPEN_QUESTIONS, STOPS } from "../../data/top-off-steps.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { Verdict } from "../../src/core/question/contract.ts";
import type { TopOffPlan } from "../../src/core/top-off-plan.ts";
import { Entry } from "../parts/entry.tsx";
import type { GaugeStyle } from "../readings/said-readings.ts";
import { RuleItem } from "../rules/rule-item.tsx";
import { capitalized } from "../words/in-sentence.ts";
import { saidMass } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Charge } from "../words/said.tsx";
import { Shopping } from "./shopping.tsx";
import { Steps } from "./steps.tsx";
import { saidAtMost } from "./weighed.ts";

interface PlanProps {
  plan: TopOffPlan;
  units: UnitSystem;
}

/** How much to add, or why nothing does. */
export function PlanVerdict({
  plan,
  units,
  option,
  children,
}: PlanProps & { option: Verdict["option"]; children: Child }) {
  return (
    <section class="page-verdict" aria-labelledby="plan-title">
      <h2 id="plan-title">
        <PlanSentence plan={plan} units={units} option={option} />
      </h2>
      <p class="sure">
        <Missing plan={plan} units={units} />
      </p>
      <p class="soft">{children}</p>
    </section>
  );
}

/** Every reason against it, the weightiest first. `readings` is where readings are taken. */
export function WhyNot({ plan, readings }: { plan: TopOffPlan; readings: string }) {
  return (
    <>
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
    </>
  );
}

/** What to mind, what to buy, and step by step how. */
export function PlanBody({ plan, units, gaugeStyle }: PlanProps & { gaugeStyle: GaugeStyle }) {
  return (
    <>
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
      {plan.open.length > 0 && (
        <Entry name="Before the steps">
          <p>
            The steps appear when you have said {plan.open.map((question) => OPEN_QUESTIONS[question]).join(", ")}.
            Above, under “Today”.
          </p>
        </Entry>
      )}
      <Shopping plan={plan} units={units} />
      <Steps plan={plan} units={units} gaugeStyle={gaugeStyle} />
    </>
  );
}

/** Where the answer is another option, it comes first. */
function PlanSentence({ plan, units, option }: PlanProps & { option: Verdict["option"] }) {
  const [stop] = plan.stops;
  if (stop !== undefined) return <>{STOPS[stop.code].title}.</>;
  const total = saidAtMost(plan.add_at_most_g, units);
  const first = saidAtMost(plan.add_first_g, units);
  const amount =
    plan.add_first_g === 0
      ? `add small amounts only, no more than ${total} in total.`
      : first === total
        ? `add ${first}, and no more.`
        : `add ${first} first. Then add small amounts, no more than ${total} in total.`;
  if (option === "top-off") return <>{capitalized(amount)}</>;
  if (option === null || option === "check-first")
    return (
      <>
        {option === null ? "If you top it off" : "Check first. If it is low"}: {amount}
      </>
    );
  return (
    <>
      The answer is: {OPTION_NAMES[option].name.toLowerCase()}. If you top it off anyway, {amount}
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
