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

interface FoldedEntryProps {
  name: string;
  /** How much is in it, in a word or two. */
  count: string | null;
  /** Where all that was ever in it stands; null where nothing is kept of it. */
  history: string | null;
  id: string;
  /** Open as the page arrives. */
  open?: boolean;
  children: Child;
}

/** A section that few need at each visit: closed under its name, open on paper and where a link leads to it. */
export function FoldedEntry({ name, count, history, id, open = false, children }: FoldedEntryProps) {
  return (
    <details class="entry-fold on-paper" id={id} open={open}>
      <summary>
        <h2>{name}</h2> {count !== null && <span class="small soft">{count}</span>}
      </summary>
      <div class="entry-fold-body">
        {children}
        {history !== null && (
          <p class="on-screen small">
            <a href={history}>History</a>
          </p>
        )}
      </div>
    </details>
  );
}
