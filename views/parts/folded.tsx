import type { Child } from "hono/jsx";

interface FoldedProps {
  id?: string;
  /** What is in it, in so few words that one knows whether to open it. */
  title: Child;
  /** Where something in it is filled in, or wrong. */
  open?: boolean;
  children: Child;
}

/** A part that few need at each visit: closed under its name. */
export function Folded({ id, title, open = false, children }: FoldedProps) {
  return (
    <details class="folded" id={id} open={open}>
      <summary>{title}</summary>
      <div class="folded-body">{children}</div>
    </details>
  );
}
