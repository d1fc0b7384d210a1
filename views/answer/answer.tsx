import type { Child } from "hono/jsx";
import { Entry } from "../parts/entry.tsx";
import { Cautions } from "./cautions.tsx";
import { BreakEvens } from "./change.tsx";
import { ChargeCurve } from "./charts/charge-curve.tsx";
import { CostOverYears } from "./charts/cost-over-years.tsx";
import { ReleaseByYear } from "./charts/release-by-year.tsx";
import { Sensitivity } from "./charts/sensitivity.tsx";
import { WhereItLeaks } from "./charts/where-it-leaks.tsx";
import { Dates } from "./dates.tsx";
import { LeakFacts } from "./leak-facts.tsx";
import { OptionsTable } from "./options-table.tsx";
import type { Outcome } from "./outcome.ts";
import { Reasons } from "./reasons.tsx";
import { Settle } from "./settle.tsx";

/** Why, and what next: what stands right under the verdict. */
export function AnswerGrounds({ outcome }: { outcome: Outcome }) {
  return (
    <>
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
    </>
  );
}

interface DetailProps {
  outcome: Outcome;
  /** In place of the sensitivity chart, where that is worked out later. */
  sensitivity?: Child;
}

/** The rest of the answer: the curves, what is open, what would change it. */
export function AnswerDetail({ outcome, sensitivity }: DetailProps) {
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
        {sensitivity ?? <Sensitivity outcome={outcome} />}
      </Entry>
    </>
  );
}
