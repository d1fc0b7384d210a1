import { RuleLink } from "../rules/local-rules.tsx";
import { answerKind, TOPS_OFF } from "../words/answer-words.ts";
import { groundOf, type Outcome, shopOnlyBecause } from "./outcome.ts";

/** Why a shop does it instead of the owner, where that is so: right under the sentence that says it. */
export function ByAShop({ outcome }: { outcome: Outcome }) {
  const because = shopOnlyBecause(outcome);
  if (because === null) return null;
  if (because === "high-voltage") {
    return (
      <p class="step-caution" id="by-a-shop">
        By a shop, because high voltage drives its compressor: only a technician trained for high voltage may work on
        it. The answer counts a shop's prices, and no dye.
      </p>
    );
  }
  if (!TOPS_OFF.has(answerKind(groundOf(outcome)))) return null;
  return (
    <p class="note" id="by-a-shop">
      By a shop, because you may not top it off yourself here: <RuleLink rule={because.rule} local={outcome.local} />.
      The answer counts a shop's prices.
    </p>
  );
}
