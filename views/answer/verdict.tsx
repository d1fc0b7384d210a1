import { isFromPriorOnly, type Outcome } from "./outcome.ts";
import { Sentence } from "./sentence.tsx";
import { HowSure } from "./sure.tsx";

/** The decision and how sure it is; announced when it changes, and in sight while the question is filled in. */
export function VerdictBlock({ outcome }: { outcome: Outcome }) {
  return (
    <div class="verdict" id="answer" role="status">
      <h2>
        <Sentence outcome={outcome} />
      </h2>
      <p class="sure">
        {isFromPriorOnly(outcome) ? (
          <>Nothing is logged yet, so this is what usually holds for a leaking vehicle, not what yours has shown. </>
        ) : null}
        <HowSure outcome={outcome} />
      </p>
    </div>
  );
}
