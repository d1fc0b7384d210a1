import type { Child } from "hono/jsx";
import { Entry } from "../parts/entry.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { LocalRulesEntry, LocalRulesText } from "../rules/local-rules.tsx";
import { AskAShop } from "./ask-a-shop.tsx";
import { Cautions } from "./cautions.tsx";
import { BreakEvens } from "./change.tsx";
import { ChargeCurve } from "./charts/charge-curve.tsx";
import { CostOverYears } from "./charts/cost-over-years.tsx";
import { ReleaseByYear } from "./charts/release-by-year.tsx";
import { Sensitivity } from "./charts/sensitivity.tsx";
import { WhereItLeaks } from "./charts/where-it-leaks.tsx";
import { CheckFirst } from "./check-first.tsx";
import { Dates } from "./dates.tsx";
import { FirstStep } from "./first-step.tsx";
import { Fold } from "./fold.tsx";
import { LeakFacts } from "./leak-facts.tsx";
import type { Ways } from "./next-step.tsx";
import { OptionsTable } from "./options-table.tsx";
import type { Outcome } from "./outcome.ts";
import { Overfilled } from "./overfilled.tsx";
import { Reasons } from "./reasons.tsx";
import { Settle } from "./settle.tsx";

interface GroundsProps {
  outcome: Outcome;
  ways?: Ways | undefined;
  /** Where the vehicle's place is set; on the same page by default. */
  say_where?: string;
}

/** Reasons, the charge with the advice in it, and the options: the part under the verdict. */
export function AnswerGrounds({ outcome, ways, say_where = "#where" }: GroundsProps) {
  const bars = outcome.local.barred.length > 0 || outcome.local.warned.length > 0;
  // A warning about the answer itself comes before its reasons.
  const doubted = outcome.local.warned.some(({ option }) => option === outcome.answer.verdict.option);
  const rules = bars && <LocalRulesEntry local={outcome.local} say_where={say_where} />;
  return (
    <>
      {doubted && rules}
      <Overfilled outcome={outcome} />
      <CheckFirst outcome={outcome} />
      <Entry name="Why">
        <Reasons outcome={outcome} />
      </Entry>
      <Entry name="Charge">
        <ChargeCurve outcome={outcome} />
        <Dates outcome={outcome} />
      </Entry>
      <FirstStep outcome={outcome} ways={ways} />
      <AskAShop outcome={outcome} ways={ways} />
      <Entry name="The options">
        <OptionsTable outcome={outcome} />
        <PricesUsedLine prices={outcome.prices} />
        <Cautions outcome={outcome} />
      </Entry>
      {!doubted && rules}
    </>
  );
}

interface DetailProps {
  outcome: Outcome;
  say_where?: string;
  /** How well it was predicted before, of a vehicle with a record. */
  past?: Child;
  /** Replaces the sensitivity chart where that is fetched later. */
  sensitivity?: Child;
  /** Whether to show where it leaks; a vehicle's page shows it beside its test results, where there are any. */
  location?: boolean;
}

/** The rest of the answer, folded: its basis, and what would change it. */
export function AnswerDetail({ outcome, say_where = "#where", past, sensitivity, location = true }: DetailProps) {
  return (
    <div class="folds">
      <Fold id="more-leak" title="How fast it leaks">
        <LeakFacts outcome={outcome} />
        {past}
      </Fold>
      <Fold id="more-cost" title="Cost over the years">
        <CostOverYears outcome={outcome} />
      </Fold>
      <Fold id="more-release" title="Refrigerant released">
        <ReleaseByYear outcome={outcome} />
      </Fold>
      <Fold id="more-unknown" title="What we don't know yet">
        <Settle outcome={outcome} />
        {location && <WhereItLeaks outcome={outcome} />}
      </Fold>
      <Fold id="more-change" title="What would change the answer">
        <BreakEvens outcome={outcome} />
        {sensitivity ?? <Sensitivity outcome={outcome} />}
      </Fold>
      {outcome.local.barred.length === 0 && outcome.local.warned.length === 0 && (
        <Fold id="more-rules" title="Local rules">
          <LocalRulesText local={outcome.local} say_where={say_where} />
        </Fold>
      )}
    </div>
  );
}
