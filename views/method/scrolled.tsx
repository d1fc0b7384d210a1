import type { Child } from "hono/jsx";
import { pageNumber } from "../../src/core/quantities/number-text.ts";

/** A number as the code has it, with a thousands sign. */
export function plain(value: number): string {
  return pageNumber(value, 6);
}

interface ScrolledProps {
  id: string;
  title: string;
  /** Whether its title is all that is in sight until it is asked for, on paper it is there. */
  folded?: boolean;
  children: Child;
}

/** A table that may be wider than a phone: it scrolls by itself, with the keyboard too. */
export function Scrolled({ id, title, folded = false, children }: ScrolledProps) {
  const table = (
    <section class="table-scroll" aria-labelledby={`${id}-title`} tabindex={0} id={id}>
      <table class="numbers-table">
        <caption id={`${id}-title`}>{title}</caption>
        {children}
      </table>
    </section>
  );
  if (!folded) return table;
  return (
    <details class="folded on-paper">
      <summary>{title}</summary>
      {table}
    </details>
  );
}
