import type { Child } from "hono/jsx";

/** A number as the code has it, with a thousands sign. */
export function plain(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 6 });
}

/** A table that may be wider than a phone: it scrolls by itself, with the keyboard too. */
export function Scrolled({ id, title, children }: { id: string; title: string; children: Child }) {
  return (
    <section class="table-scroll" aria-labelledby={`${id}-title`} tabindex={0} id={id}>
      <table class="numbers-table">
        <caption id={`${id}-title`}>{title}</caption>
        {children}
      </table>
    </section>
  );
}
