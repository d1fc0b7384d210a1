import type { Child } from "hono/jsx";
import { isBlank, isUnknown, type QuickFields, UNSURE } from "./quick-fields.ts";

interface FoldedQuestionProps {
  fields: QuickFields;
  /** Whether there is nothing to read yet beside the question. */
  open: boolean;
  children: Child;
}

/** The question: in full beside the answer where there is room; on a phone it folds to one line once it is answered. */
export function FoldedQuestion({ fields, open, children }: FoldedQuestionProps) {
  return (
    <details class="ask" id="ask" open={open}>
      <summary>
        <span class="ask-said">{inShort(fields)}</span> <span class="ask-change">Change</span>
      </summary>
      <div class="ask-body">{children}</div>
    </details>
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
