import type { Child } from "hono/jsx";
import { Term } from "../parts/term.tsx";
import { sureness } from "../words/answer-words.ts";
import { saidLeak, saidNextLow } from "../words/estimates.ts";
import { inSentence } from "../words/in-sentence.ts";
import { saidChance, saidMass } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";
import { saidMonth, saidMonths } from "../words/times.ts";
import { tellingBreakEvens } from "./change.tsx";
import { lowAgainIfFilled } from "./limit.ts";
import { isFromPriorOnly, isLowAsSeen, type Outcome, repairAndTopOff, watchDateOf } from "./outcome.ts";

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
          <WhyThisDate outcome={outcome} />
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

/** The other forms of the same limit, folded: nobody has to act on more than the date. */
function WhyThisDate({ outcome }: { outcome: Outcome }) {
  const { answer, units } = outcome;
  const { switch_months } = repairAndTopOff(answer).topOff;
  const { leak_g_per_year } = tellingBreakEvens(outcome);
  return (
    <details class="fold-in">
      <summary>Why this date</summary>
      <p>
        It is {saidMonths(switch_months ?? 0)} of leaking after {answer.low_now ? "today's" : "the last"} top-off, with
        cold months counted for less. A charge that is low sooner is not worth topping off again.
        {leak_g_per_year !== null &&
          ` The leak would be much faster than the ${saidLeak(answer.leak.g_per_year, units).best} we expect: from about ${saidMass(leak_g_per_year, units)} a year, repairing at once costs less.`}{" "}
        All of this is one limit. The date is all you have to watch.
      </p>
    </details>
  );
}

function NextLow({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const { guard, option } = answer.verdict;
  if (guard === "empty") return <>No pressure is left, so don't add any before the leak is repaired.</>;
  if (guard === "surprise")
    return <>It cools poorly, but by the log there is enough in it. Readings tell which is right.</>;
  if (guard === "readings") return <>The readings show it is not low, so we can't tell yet.</>;
  if (answer.low_now) {
    const again = lowAgainIfFilled(outcome);
    const tops_off = option === "top-off" || option === "dye-test";
    const may_top_off = !outcome.local.barred.some((one) => one.option === "top-off");
    return (
      <>
        {isFromPriorOnly(outcome)
          ? "We can't tell whether it is low now. Choose how it cools today. "
          : isLowAsSeen(outcome.question.log)
            ? "It is low now. "
            : "It is low now, or close to it. "}
        {may_top_off && (
          <>
            Topped off today{tops_off ? "" : " instead"}, it would be low again around{" "}
            <time datetime={again}>{saidMonth(again)}</time>.
          </>
        )}
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

/** Whether the last repair held, in a sentence. */
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
