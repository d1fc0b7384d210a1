import { DYE_WAIT_YEARS } from "../../data/model-constants.ts";
import { isTopUpDue } from "../../src/core/options/top-up-due.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import { formatMonths } from "../../src/core/quantities/format.ts";
import { FINDING_WORDS } from "../readings/finding-words.ts";
import { Day } from "../words/said.tsx";
import { saidDaysAfter } from "../words/times.ts";
import { chosenOption, isFromPriorOnly, type Outcome } from "./outcome.ts";

/** The decision in one or two sentences, with the switch rule as a date. */
export function Sentence({ outcome }: { outcome: Outcome }) {
  const { answer, question } = outcome;
  switch (answer.verdict.option) {
    case "top-off":
      return <TopOffSentence outcome={outcome} />;
    case "repair":
      if (answer.verdict.guard === "empty") {
        return (
          <>
            Repair it. No pressure is left: the leak is found first, then the system is evacuated and charged by weight.
            Put nothing in before that.
          </>
        );
      }
      return answer.verdict.guard === "floor" ? (
        <>
          Repair it. A full charge does not last {formatMonths(question.plan.floor_months)}, so do not top it off again.
        </>
      ) : (
        <>Repair it.</>
      );
    case "dye-test":
      return (
        <>
          {isTopUpDue(answer) ? "Top it off with dye in the charge" : "Put dye in"}, and look for it around{" "}
          <Day iso={dyeDate(answer.as_of)} />. Repair what it shows, if that pays.
        </>
      );
    case "electronic-test":
      return <>Have a shop search for the leak with a detector first. Repair what it finds, if that pays.</>;
    case "live-without":
      return <>Live without it: put no more refrigerant in, and do not pay for a repair.</>;
    case "check-first":
      return <CheckFirstSentence outcome={outcome} />;
    case null:
      return <>None of the ways is open: your local rules bar every one of them. Ask a licensed shop.</>;
  }
}

function CheckFirstSentence({ outcome: { answer, found } }: { outcome: Outcome }) {
  const surprise = answer.verdict.reasons.find((reason) => reason.code === "surprise");
  if (surprise !== undefined) {
    return (
      <>
        Add nothing yet. It cooled poorly {saidDaysAfter(surprise.values.days)} it was filled: either a sudden leak, or
        low charge is not the trouble. Take readings before you buy anything.
      </>
    );
  }
  if (found === null)
    return <>Add nothing yet. The readings say that low charge is not the trouble, so find that first.</>;
  return (
    <>
      Add nothing yet. By the readings {FINDING_WORDS[found].as}
      {found === "normal" ? ", and low charge is not the trouble." : ": check that first."}
    </>
  );
}

function TopOffSentence({ outcome }: { outcome: Outcome }) {
  const { answer } = outcome;
  const option = chosenOption(outcome);
  const due = isTopUpDue(answer);
  const begin = beginning(outcome);
  const watch_date = option?.watch_date ?? null;
  if (option?.switch_months === 0) return <>{begin} Keep doing so for as long as you keep it.</>;
  if (watch_date === null || watch_date <= answer.as_of) {
    const months = option?.switch_months ?? 0;
    return (
      <>
        {begin} From then on, a charge that does not last about {formatMonths(months)} means: repair it.
      </>
    );
  }
  return (
    <>
      {begin} If it is low {due ? "again " : ""}before <Day iso={watch_date} />, repair it{due ? "" : " instead"}.
    </>
  );
}

/** Without a word on how it cools, nobody knows whether it is low. */
function beginning(outcome: Outcome): string {
  if (isFromPriorOnly(outcome)) return "If it cools weakly, top it off.";
  return isTopUpDue(outcome.answer) ? "Top it off." : "Leave it for now, and top it off when it cools weakly.";
}

function dyeDate(as_of: string): string {
  return isoFromDay(dayNumber(as_of) + Math.round(DYE_WAIT_YEARS * 365.25));
}
