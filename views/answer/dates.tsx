import type { Child } from "hono/jsx";
import { isTopUpDue } from "../../src/core/options/top-up-due.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import { formatMonths } from "../../src/core/quantities/format.ts";
import { Term } from "../parts/term.tsx";
import { Day } from "../words/said.tsx";
import { saidMonth, saidSpan } from "../words/times.ts";
import { isFromPriorOnly, type Outcome, repairAndTopOff } from "./outcome.ts";

/** What to expect when: the next low charge, the watch date, and when a repair is known to have held. */
export function Dates({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const { topOff } = repairAndTopOff(answer);
  const watched = topOff.watch_date !== null && topOff.watch_date > answer.as_of && topOff.offered;
  return (
    <dl class="dates">
      <Line name="Next low charge">
        <NextLow outcome={outcome} />
      </Line>
      {watched && topOff.watch_date !== null && (
        <Line name={<Term id="watch-date">Watch date</Term>}>
          {answer.verdict.option === "top-off" ? "" : "If it is topped off: "}
          <Day iso={topOff.watch_date} />. Low again before it: the leak is too fast, so repair it. Low only after it:
          top it off again.
        </Line>
      )}
      {answer.leak.repair_held !== null && (
        <Line name="Did the repair hold?">
          <RepairHeld held={answer.leak.repair_held} sure_date={answer.leak.repair_sure_date} as_of={answer.as_of} />
        </Line>
      )}
    </dl>
  );
}

function Line({ name, children }: { name: Child; children: Child }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function NextLow({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const { p10, p50, p90 } = answer.forecast.next_low;
  if (isTopUpDue(answer)) {
    const { median, p05, p95 } = answer.leak.full_charge_lasts_months;
    const again = monthsOn(answer.as_of, median);
    return (
      <>
        {isFromPriorOnly(outcome)
          ? "Whether it is low now is not known: say above how it cools today. "
          : "It is low, or nearly so, now. "}
        A full charge lasts about {formatMonths(median)} (likely {saidSpan(p05, p95)}): filled today, it would be low
        again around <time datetime={again}>{saidMonth(again)}</time>.
      </>
    );
  }
  if (p50 === null) return <>Not within 20 years, as far as the log tells.</>;
  return (
    <>
      Around <time datetime={p50}>{saidMonth(p50)}</time>; 8 of 10 such vehicles are low between{" "}
      {p10 === answer.as_of ? "now" : saidMonth(p10 ?? p50)} and{" "}
      {p90 === null ? "more than 20 years on" : saidMonth(p90)}.
    </>
  );
}

function monthsOn(iso: string, months: number): string {
  return isoFromDay(dayNumber(iso) + Math.round((months * 365.25) / 12));
}

export function RepairHeld({ held, sure_date, as_of }: { held: number; sure_date: string | null; as_of: string }) {
  const share = `About ${Math.round(held * 100)} of 100 that it did.`;
  if (sure_date === null) return <>{share} The log will not settle it within five years.</>;
  if (sure_date <= as_of) return <>{share} That counts as held.</>;
  return (
    <>
      {share} Still cooling well on <Day iso={sure_date} />: then it has held.
    </>
  );
}
