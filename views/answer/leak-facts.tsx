import { isVague } from "../../src/core/question/vague-dates.ts";
import { Term } from "../parts/term.tsx";
import { saidLeak, saidLife } from "../words/estimates.ts";
import { saidChance, saidPercent } from "../words/numbers.ts";
import { Charge, Whole } from "../words/said.tsx";
import type { Outcome } from "./outcome.ts";

/** How fast it leaks, in words, with what regulation would call it for those who know those formulas. */
export function LeakFacts({ outcome }: { outcome: Outcome }) {
  const { answer, units } = outcome;
  const leak = saidLeak(answer.leak.g_per_year, units);
  const life = saidLife(answer.leak.full_charge_lasts_months);
  return (
    <>
      <p>
        It loses about <Charge>{leak.best}</Charge>{" "}
        <Whole>
          (<Term id="likely-range">likely range</Term>
        </Whole>{" "}
        {leak.range}), {saidPercent(answer.leak.fraction_per_year.median)} of its{" "}
        <Term id="nameplate">nameplate charge</Term>. A full charge lasts about {life.best} (likely range {life.range}).{" "}
        {classWords(outcome)}
        {(outcome.request.log ?? []).some(isVague) &&
          " Some dates are rough, so this covers all the days that they may mean."}
      </p>
      <Regulation outcome={outcome} />
    </>
  );
}

const CLASS_WORDS = {
  fast: "a fast leak: low again in under 6 months",
  moderate: "a moderate leak: low again in 6 to 18 months",
  slow: "a slow leak: low again in 18 months to 4 years",
  seep: "normal seepage, as in a system without a leak",
} as const;

function classWords({ answer }: Outcome): string {
  const classes = Object.entries(answer.leak.class) as [keyof typeof CLASS_WORDS, number][];
  const [likeliest, share] = classes.reduce((best, one) => (one[1] > best[1] ? one : best));
  return `Most likely ${CLASS_WORDS[likeliest]} (${saidChance(share)}).`;
}

function Regulation({ outcome }: { outcome: Outcome }) {
  const { annualizing_percent, rolling_percent } = outcome.answer.leak.regulation;
  if (annualizing_percent === null && rolling_percent === null) return null;
  return (
    <details class="numbers" id="regulation">
      <summary>What the two formulas of US leak-repair rules give</summary>
      <p class="small">
        {annualizing_percent !== null && `Annualizing method: ${Math.round(annualizing_percent)}% a year. `}
        {rolling_percent !== null && `Rolling average: ${Math.round(rolling_percent)}% a year. `}
        These formulas are for stationary equipment. They use only what was added and ignore the season, so they
        overstate a leak that is topped off less than once a year.
      </p>
    </details>
  );
}
