import { READINGS_COUNT_DAYS } from "../../data/readings-table.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { ReadingsSay } from "../../src/core/question/contract.ts";
import { Day } from "../words/said.tsx";
import type { Ways } from "./next-step.tsx";
import type { Outcome } from "./outcome.ts";

const SAY: Readonly<Record<ReadingsSay, string>> = {
  low: "it is low",
  "not-low": "it is not low",
  undecided: "they can't tell whether it is low",
};

/**
 * Which readings the answer counts, what they say, and until when; beside the answer, so that it is seen on any screen.
 */
export function CountedReadings({ outcome: { read }, ways }: { outcome: Outcome; ways: Ways }) {
  if (read === null) return null;
  const set = (
    <>
      readings of <Day iso={read.date} />
    </>
  );
  return (
    <p class="note" id="counted-readings">
      It counts the {ways.leave_out === null ? <a href="#readings">{set}</a> : set}: {SAY[read.says]}; until{" "}
      <Day iso={isoFromDay(dayNumber(read.date) + READINGS_COUNT_DAYS)} />, or until refrigerant is added.
      {ways.leave_out !== null && (
        <>
          {" "}
          <a href={ways.readings}>Take them again</a> or <a href={ways.leave_out}>leave them out</a>.
        </>
      )}
    </p>
  );
}
