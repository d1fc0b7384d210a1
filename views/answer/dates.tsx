import type { Child } from "hono/jsx";
import { monthsAfter } from "../../src/core/quantities/dates.ts";
import { Term } from "../parts/term.tsx";
import { sureness } from "../words/answer-words.ts";
import { saidNextLow } from "../words/estimates.ts";
import { inSentence } from "../words/in-sentence.ts";
import { saidChance } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";
import { saidMonth } from "../words/times.ts";
import { isFromPriorOnly, isLowAsSeen, type Outcome, watchDateOf } from "./outcome.ts";

/** What to expect when: the next low charge, the watch date, and when a repair is known to have held. */
export function Dates({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const watch_date = watchDateOf(outcome);
  const { repair_held, repair_sure_date } = answer.leak;
  return (
    <dl class="dates">
      <Line name="Next low charge">
        <NextLow outcome={outcome} />
      </Line>
      {watch_date !== null && (
        <Line name={<Term id="watch-date">Watch date</Term>}>
          <Day iso={watch_date} />. Low before it: repair. Low after it: top off.
        </Line>
      )}
      {repair_held !== null && (
        <Line name="Did the repair hold?">
          <RepairHeld
            held={repair_held}
            sure_date={repair_sure_date}
            as_of={answer.as_of}
            low_as_seen={isLowAsSeen(outcome.question.log)}
          />
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
  if (answer.low_now) {
    const { full_charge_lasts_months } = answer.leak;
    const again = monthsAfter(answer.as_of, full_charge_lasts_months.median);
    return (
      <>
        {isFromPriorOnly(outcome)
          ? "We can't tell whether it is low now. Choose how it cools today. "
          : isLowAsSeen(outcome.question.log)
            ? "It is low now. "
            : "It is low now, or close to it. "}
        Filled today, it would be low again around <time datetime={again}>{saidMonth(again)}</time>.
      </>
    );
  }
  const said = saidNextLow({ ...answer, next_low: answer.forecast.next_low });
  if (said.low_now || said.date === null) return <>Not within 20 years, going by the charge log.</>;
  return (
    <>
      Around <time datetime={said.date}>{said.best}</time> (likely range {said.range}).
    </>
  );
}

interface RepairHeldProps {
  held: number;
  sure_date: string | null;
  as_of: string;
  /** Whether it has been seen to cool poorly since. */
  low_as_seen: boolean;
}

export function RepairHeld({ held, sure_date, as_of, low_as_seen }: RepairHeldProps) {
  if (low_as_seen) {
    return (
      <>
        Probably not: it is low again, so that repair did not hold, or it leaks at another location too. (Held:{" "}
        {saidChance(held)}.)
      </>
    );
  }
  if (sure_date !== null && sure_date <= as_of)
    return (
      <>
        Yes, {inSentence(sureness(held))} ({saidChance(held)}).
      </>
    );
  if (sure_date === null) return <>Held: {saidChance(held)}. The charge log can't confirm it within five years.</>;
  return (
    <>
      Held: {saidChance(held)}. If it still cools well on <Day iso={sure_date} />, the repair held.
    </>
  );
}
