import type { Child } from "hono/jsx";

interface FoldProps {
  id: string;
  /** The finding or the matter, in so few words that one knows whether to open it. */
  title: string;
  children: Child;
}

/** A part of the answer for those who want to know more; open on paper. */
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
