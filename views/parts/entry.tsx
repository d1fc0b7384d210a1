import type { Child } from "hono/jsx";

interface EntryProps {
  /** Named in the margin. */
  name: string;
  /** A note under the name. */
  note?: Child;
  id?: string;
  children: Child;
}

/** A section of a page: its name in the margin, its content beside it. */
export function Entry({ name, note, id, children }: EntryProps) {
  return (
    <section class="entry" id={id}>
      <div class="entry-head">
        <h2>{name}</h2>
        {note}
      </div>
      <div class="entry-body">{children}</div>
    </section>
  );
}
