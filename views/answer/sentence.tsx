import { DYE_WAIT_YEARS } from "../../data/model-constants.ts";
import { monthsAfter } from "../../src/core/quantities/dates.ts";
import type { LogEntry } from "../../src/core/question/contract.ts";
import { FINDING_WORDS } from "../readings/finding-words.ts";
import { answerKind } from "../words/answer-words.ts";
import { capitalized } from "../words/in-sentence.ts";
import { saidMoney } from "../words/numbers.ts";
import { Day } from "../words/said.tsx";
import { saidDays, saidMonths } from "../words/times.ts";
import { isBeyondKeeping, limitOf } from "./limit.ts";
import { groundOf, type Outcome, shopOnlyBecause, tooFastBecause } from "./outcome.ts";

/** The decision in one or two sentences, with the switch rule as a date. */
export function Sentence({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  switch (answerKind(groundOf(outcome))) {
    case "top-off":
    case "leave":
    case "if-poor":
      return <TopOffSentence outcome={outcome} />;
    case "repair":
      return <>Repair it.</>;
    case "repair-fast":
      return (
        <>
          Repair it. <TooFast outcome={outcome} />, so do not top it off again.
        </>
      );
    case "repair-empty":
      return <>Repair it. No pressure is left: have the leak found, then the system evacuated and charged by weight.</>;
    case "find-leak":
      return (
        <>
          Have a shop find the leak first. No pressure is left, so it must be evacuated and charged by weight: no cans,
          no dye.
        </>
      );
    case "dye-test":
      return (
        <>
          {answer.low_now
            ? shopOnlyBecause(outcome) === null
              ? "Top it off with dye"
              : "Have a shop top it off with dye"
            : "Have dye put in"}
          . Look for the dye around <Day iso={monthsAfter(answer.as_of, 12 * DYE_WAIT_YEARS)} />, and repair the leak
          <WhereWorthIt outcome={outcome} />.
        </>
      );
    case "electronic-test":
      return (
        <>
          Have a shop find the leak first, with an electronic leak test. Then repair it
          <WhereWorthIt outcome={outcome} />.
        </>
      );
    case "live-without":
      return <>Go without air conditioning. Don't add refrigerant, and don't pay for a repair.</>;
    case "readings-first":
      return <SurpriseSentence outcome={outcome} />;
    case "not-low":
      return <NotLowSentence outcome={outcome} />;
    case "none":
      return <>Your local rules allow none of these options. Ask a certified shop.</>;
  }
}

/** Up to what price a repair is worth it once a test has shown where it leaks; nothing where only a repair is left. */
function WhereWorthIt({ outcome: { answer, currency } }: { outcome: Outcome }) {
  if (answer.repair_worth === null) return null;
  return <> if that costs less than about {saidMoney(answer.repair_worth, currency)} in all</>;
}

/** Why the guard against topping off a fast leak holds: the chance for any charge, or the last one. */
function TooFast({ outcome }: { outcome: Outcome }) {
  const least = saidMonths(outcome.question.plan.floor_months);
  return tooFastBecause(outcome) === "last charge" ? (
    <>The last charge was low again in under {least}</>
  ) : (
    <>A full charge is low again in under {least}</>
  );
}

function NotLowSentence({ outcome: { found } }: { outcome: Outcome }) {
  if (found === null || found === "normal")
    return <>Don't add refrigerant yet. The readings show it is not low. Find the real fault first.</>;
  return <>Don't add refrigerant yet. The readings show that {FINDING_WORDS[found].as}: check that first.</>;
}

function SurpriseSentence({ outcome }: { outcome: Outcome }) {
  const { answer, question } = outcome;
  const surprise = answer.verdict.reasons.find((reason) => reason.code === "surprise");
  const days = surprise?.values.days ?? 0;
  return (
    <>
      Take readings before you buy anything. It {howItCooled(question.log)}{" "}
      {days === 0 ? "on the day" : `${saidDays(days)} after`} {whatWentIn(question.log)}: either{" "}
      {isRepairedLast(question.log) ? "it leaks again" : "the leak is sudden"}, or low charge is not the trouble.
    </>
  );
}

function howItCooled(log: readonly LogEntry[]): string {
  const look = log.findLast(({ cooling }) => cooling === "weak" || cooling === "short-cycling");
  return look?.cooling === "short-cycling" ? "short-cycled" : "cooled poorly";
}

/** Whether the last fill came with a repair. */
function isRepairedLast(log: readonly LogEntry[]): boolean {
  return lastFillOf(log)?.repair != null;
}

function lastFillOf(log: readonly LogEntry[]): LogEntry | undefined {
  return log.findLast(({ added_g, finish }) => (added_g ?? 0) > 0 || finish != null);
}

function whatWentIn(log: readonly LogEntry[]): string {
  const fill = lastFillOf(log);
  if (fill?.repair != null) return "it was repaired";
  if (fill?.finish === "weighed") return "it was charged full by weight";
  return fill?.added_by === "scale" ? "it was topped off" : "refrigerant from a can went in";
}

function TopOffSentence({ outcome }: { outcome: Outcome }) {
  const kind = answerKind(groundOf(outcome));
  const top_it_off = shopOnlyBecause(outcome) === null ? "top it off" : "have a shop top it off";
  const begin =
    kind === "if-poor"
      ? `If it cools poorly, ${top_it_off}.`
      : kind === "top-off"
        ? `${capitalized(top_it_off)}.`
        : `Leave it for now. ${capitalized(top_it_off)} when it cools poorly.`;
  const limit = limitOf(outcome);
  const again = kind === "leave" ? "" : "again ";
  if (limit?.kind === "date") {
    return (
      <>
        {begin} If it is low {again}before <Day iso={limit.iso} />, repair it{kind === "leave" ? " instead" : ""}.
      </>
    );
  }
  if (limit !== null) {
    return (
      <>
        {begin} After that, repair it if a charge lasts less than about {saidMonths(limit.months)}.
      </>
    );
  }
  return isBeyondKeeping(outcome) ? (
    <>
      {begin} If it is low {again}while you keep it, look at this again.
    </>
  ) : (
    <>{begin} Keep doing so for as long as you keep it.</>
  );
}
