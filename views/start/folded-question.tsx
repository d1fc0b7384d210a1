import type { Child } from "hono/jsx";
import { isUnknown } from "../../src/core/quantities/typed-number.ts";
import { isBlank, type QuickFields, UNSURE } from "./quick-fields.ts";

interface FoldedQuestionProps {
  fields: QuickFields;
  /** Whether there is an answer to read instead. */
  answered: boolean;
  children: Child;
}

/**
 * The question: in full beside the answer where there is room; on a phone it folds to one line once it is answered. The
 * fold is the browser's own from then on: changes in place leave `data-folded` alone.
 */
export function FoldedQuestion({ fields, answered, children }: FoldedQuestionProps) {
  return (
    <div class="ask" id="ask" data-folded={answered ? "" : undefined}>
      <p class="ask-line">
        <span class="ask-said">{inShort(fields)}</span>
        <a class="ask-change" href="#ask">
          Change<span class="visually-hidden"> the question</span>
        </a>
      </p>
      <div class="ask-body">{children}</div>
    </div>
  );
}

/** `R-134a · 17 oz · 2 top-offs`. */
function inShort({ refrigerant, nameplate, lines }: QuickFields): string {
  const entries = lines.filter((line) => !isBlank(line));
  const top_offs = entries.every(({ did }) => /^(cans|scale)/.test(did));
  const noun = top_offs ? "top-off" : "entry";
  const count = entries.length === 1 ? `1 ${noun}` : `${entries.length} ${top_offs ? "top-offs" : "entries"}`;
  return [
    refrigerant === UNSURE ? "Refrigerant not known" : refrigerant,
    isUnknown(nameplate) ? "charge not known" : nameplate.trim(),
    entries.length === 0 ? "nothing added" : count,
  ].join(" · ");
}
