import type { Child } from "hono/jsx";
import { GLOSSARY, type GlossaryId } from "../../data/glossary.ts";

/** A term that shows its definition on click, key or hover. Its `Definitions` stands once on the page. */
export function Term({ id, children }: { id: GlossaryId; children?: Child }) {
  return (
    <button type="button" class="term" popovertarget={`definition-${id}`}>
      {children ?? GLOSSARY[id].term}
    </button>
  );
}

/** The definitions of the terms that a page marks with `Term`. */
export function Definitions({ of }: { of: readonly GlossaryId[] }) {
  return (
    <>
      {of.map((id) => (
        <div class="definition" id={`definition-${id}`} popover="auto">
          <dfn>{GLOSSARY[id].term}</dfn>: {GLOSSARY[id].definition}
        </div>
      ))}
    </>
  );
}
