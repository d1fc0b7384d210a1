import { formatMonths } from "../../src/core/quantities/format.ts";
import { Term } from "../parts/term.tsx";
import { saidChance, saidMass, saidPercent } from "../words/numbers.ts";
import { Charge } from "../words/said.tsx";
import { saidSpan } from "../words/times.ts";
import type { Outcome } from "./outcome.ts";

/** How fast it leaks, in words, with what regulation would call it for those who know those formulas. */
export function LeakFacts({ outcome }: { outcome: Outcome }) {
  const { answer, units } = outcome;
  const { g_per_year, fraction_per_year, full_charge_lasts_months: lasts } = answer.leak;
  return (
    <>
      <p>
        It loses about <Charge>{saidMass(g_per_year.mean, units)} a year</Charge>, {saidPercent(fraction_per_year.mean)}{" "}
        of its <Term id="nameplate">nameplate charge</Term>; likely {saidMass(g_per_year.p05, units)} to{" "}
        {saidMass(g_per_year.p95, units)}. A full charge lasts about {formatMonths(lasts.median)}, likely{" "}
        {saidSpan(lasts.p05, lasts.p95)}. {classWords(outcome)}
      </p>
      <Regulation outcome={outcome} />
    </>
  );
}

const CLASS_WORDS = {
  fast: "a fast leak, one that a full charge does not last six months",
  moderate: "a moderate leak, one that wants a charge within a year and a half",
  slow: "a slow leak, one that wants a charge every one and a half to four years",
  seep: "a normal seep, as a sound system has it",
} as const;

function classWords({ answer }: Outcome): string {
  const classes = Object.entries(answer.leak.class) as [keyof typeof CLASS_WORDS, number][];
  const [likeliest, share] = classes.reduce((best, one) => (one[1] > best[1] ? one : best));
  return `In ${saidChance(share)} cases that is ${CLASS_WORDS[likeliest]}.`;
}

function Regulation({ outcome }: { outcome: Outcome }) {
  const { annualizing_percent, rolling_percent } = outcome.answer.leak.regulation;
  if (annualizing_percent === null && rolling_percent === null) return null;
  return (
    <details class="numbers" id="regulation">
      <summary>What the two formulas of US leak-repair rules would say</summary>
      <p class="small">
        {annualizing_percent !== null && `Annualizing method: ${Math.round(annualizing_percent)} % a year. `}
        {rolling_percent !== null && `Rolling average: ${Math.round(rolling_percent)} % a year. `}
        They are written for stationary systems, look at additions only and take no season into account; a slow leak
        that is topped off less than once a year comes out too fast.
      </p>
    </details>
  );
}
