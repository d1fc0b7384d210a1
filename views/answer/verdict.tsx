import { answerWords } from "../words/answer-words.ts";
import { ByAShop } from "./by-a-shop.tsx";
import { CountedReadings } from "./counted-readings.tsx";
import { NextStep, type Ways } from "./next-step.tsx";
import { groundOf, isFromPriorOnly, type Outcome, restsOnTypical } from "./outcome.ts";
import { Sentence } from "./sentence.tsx";
import { HowSure } from "./sure.tsx";

interface VerdictProps {
  outcome: Outcome;
  /** Addresses of the next steps; without them none are offered. */
  ways?: Ways | undefined;
}

/** The decision, announced when it changes and in sight while the question is filled in; how sure it is; what next. */
export function VerdictBlock({ outcome, ways }: VerdictProps) {
  return (
    <>
      <div class="verdict verdict-reached" id="answer" role="status" data-short-answer={answerWords(groundOf(outcome))}>
        <h2>
          <Sentence outcome={outcome} />
        </h2>
      </div>
      <p class="sure">
        <Typical outcome={outcome} />
        <HowSure outcome={outcome} />
      </p>
      <ByAShop outcome={outcome} />
      {ways !== undefined && <CountedReadings outcome={outcome} ways={ways} />}
      {ways !== undefined && <NextStep outcome={outcome} ways={ways} />}
    </>
  );
}

/** A log that says nothing about the leak is mentioned before how certain the answer is. */
function Typical({ outcome }: { outcome: Outcome }) {
  if (!restsOnTypical(outcome)) return null;
  return isFromPriorOnly(outcome) ? (
    <>There are no entries yet, so this is based on typical leaking vehicles, not on yours. </>
  ) : (
    <>The log has no top-off yet, so this is based on typical leaking vehicles more than on yours. </>
  );
}
