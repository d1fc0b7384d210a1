import { isFromPriorOnly, type Outcome } from "./outcome.ts";
import { Sentence } from "./sentence.tsx";
import { HowSure } from "./sure.tsx";

/** The decision, announced when it changes and in sight while the question is filled in; under it, how sure it is. */
export function VerdictBlock({ outcome }: { outcome: Outcome }) {
  return (
    <>
      <div class="verdict verdict-reached" id="answer" role="status">
        <h2>
          <Sentence outcome={outcome} />
        </h2>
      </div>
      <p class="sure">
        {isFromPriorOnly(outcome) && (
          <>Nothing is logged yet, so this is what usually holds for a leaking vehicle, not what yours has shown. </>
        )}
        <HowSure outcome={outcome} />
      </p>
    </>
  );
}
