import { Entry } from "../parts/entry.tsx";
import { LocalRulesEntry } from "../rules/local-rules.tsx";
import { Cautions } from "./cautions.tsx";
import { BreakEvens } from "./change.tsx";
import { ChargeCurve } from "./charts/charge-curve.tsx";
import { CostOverYears } from "./charts/cost-over-years.tsx";
import { ReleaseByYear } from "./charts/release-by-year.tsx";
import { Sensitivity } from "./charts/sensitivity.tsx";
import { WhereItLeaks } from "./charts/where-it-leaks.tsx";
import { CheckFirst } from "./check-first.tsx";
import { Dates } from "./dates.tsx";
import { LeakFacts } from "./leak-facts.tsx";
import { OptionsTable } from "./options-table.tsx";
import type { Outcome } from "./outcome.ts";
import { Reasons } from "./reasons.tsx";
import { Settle } from "./settle.tsx";

interface GroundsProps {
  outcome: Outcome;
  /** Where it is said where the vehicle is; on the same page, unless given. */
  say_where?: string;
}

/** Why, and what next: what stands right under the verdict. */
export function AnswerGrounds({ outcome, say_where = "#where" }: GroundsProps) {
  return (
    <>
      <CheckFirst outcome={outcome} />
      <Entry name="Why">
        <Reasons outcome={outcome} />
      </Entry>
      <Entry name="What next">
        <Dates outcome={outcome} />
        <Cautions outcome={outcome} />
      </Entry>
      <Entry name="The options">
        <OptionsTable outcome={outcome} />
      </Entry>
      <LocalRulesEntry local={outcome.local} say_where={say_where} />
    </>
  );
}

/** The rest of the answer: the curves, what is open, what would change it. */
export function AnswerDetail({ outcome }: { outcome: Outcome }) {
  return (
    <>
      <Entry name="Charge">
        <ChargeCurve outcome={outcome} />
        <LeakFacts outcome={outcome} />
      </Entry>
      <Entry name="Cost">
        <CostOverYears outcome={outcome} />
      </Entry>
      <Entry name="Release">
        <ReleaseByYear outcome={outcome} />
      </Entry>
      <Entry name="Not known yet">
        <Settle outcome={outcome} />
        <WhereItLeaks outcome={outcome} />
      </Entry>
      <Entry name="What would change it">
        <BreakEvens outcome={outcome} />
        <Sensitivity outcome={outcome} />
      </Entry>
    </>
  );
}
