import type { Child } from "hono/jsx";

/** The link above a heading to what the page is part of; its words may be a person's own. */
export function WayBack({ href, children }: { href: string; children: Child }) {
  return (
    <p class="way-back">
      <a href={href} dir="auto">
        {children}
      </a>
    </p>
  );
}
