import type { Child } from "hono/jsx";

/** A page of the product, as a menu names it. */
export interface Place {
  href: string;
  name: string;
}

interface PlacesProps {
  places: readonly Place[];
  /** Path of the page that it stands on. */
  path: string;
  class?: string;
  /** Items of another kind, at the end. */
  children?: Child;
}

/** A menu's list of pages, with this one marked. */
export function Places({ places, path, class: name, children }: PlacesProps) {
  return (
    <ul class={name}>
      {places.map(({ href, name }) => (
        <li>
          <a href={href} aria-current={href === path ? "page" : undefined}>
            {name}
          </a>
        </li>
      ))}
      {children}
    </ul>
  );
}
