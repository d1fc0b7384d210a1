import type { Child } from "hono/jsx";

interface FoldProps {
  id: string;
  /** The finding or subject, short enough to decide whether to open it. */
  title: string;
  children: Child;
}

/** A folded part of the answer; open on paper. */
export function Fold({ id, title, children }: FoldProps) {
  return (
    <details class="fold" id={id}>
      <summary>
        <h2>{title}</h2>
      </summary>
      <div class="fold-body">{children}</div>
    </details>
  );
}
