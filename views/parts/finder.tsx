import type { Child } from "hono/jsx";
import { Entry } from "./entry.tsx";

interface FinderProps {
  /** Path of the list. */
  path: string;
  /** The fields. */
  children: Child;
}

/** The search over a list. */
export function Finder({ path, children }: FinderProps) {
  return (
    <search>
      <form method="get" action={path} class="finder">
        {children}
        <button type="submit" class="button-quiet">
          Search
        </button>
      </form>
    </search>
  );
}

/** The field of a search, with what it looks through: above it, or in the empty field, where that is short enough. */
export function SearchField({ label, within = false, value }: { label: string; within?: boolean; value: string }) {
  return (
    <div class="field">
      <label class={within ? "visually-hidden" : "label-text"} for="q">
        {label}
      </label>
      <input
        type="search"
        id="q"
        name="q"
        value={value}
        placeholder={within ? label : undefined}
        dir="auto"
        autocomplete="off"
      />
    </div>
  );
}

interface FoundProps {
  path: string;
  searched: boolean;
  /** How the list is ordered, as its name while nothing is searched for. */
  order: string;
  /** Says that nothing matches; null where something does. */
  none: string | null;
  /** What follows the list: the way to older ones, a download. */
  below?: Child;
  children: Child;
}

/** What a search found, or the whole list. */
export function Found({ path, searched, order, none, below, children }: FoundProps) {
  return (
    <Entry name={searched ? "Found" : order}>
      {none === null ? (
        children
      ) : (
        <p>
          {none} <a href={path}>Show all</a>
        </p>
      )}
      {below}
    </Entry>
  );
}
