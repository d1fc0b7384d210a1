import type { Child } from "hono/jsx";
import { formatDate } from "../../src/core/quantities/dates.ts";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";

/** A date in words, kept on one line. */
export function Day({ iso }: { iso: string }) {
  return (
    <time class="date" datetime={iso}>
      {formatDate(iso)}
    </time>
  );
}

/** An amount of money among words. */
export function Money({ children }: { children: Child }) {
  return <b class="money">{children}</b>;
}

/** An amount of charge, or a rate of it, among words. */
export function Charge({ children }: { children: Child }) {
  return <b class="charge">{children}</b>;
}

/** An amount released among words. */
export function Release({ children }: { children: Child }) {
  return <b class="release">{children}</b>;
}

/** What is not broken over lines, unless it is longer than its line: `96 of 100`, `R-134a`. */
export function Whole({ children }: { children: Child }) {
  return <span class="whole">{children}</span>;
}

/** A text in which no refrigerant and no amount is broken over lines. */
export function Unbroken({ text }: { text: string }) {
  const parts = text.replace(/([0-9]) (oz|lb|g|psi)\b/g, "$1\u00a0$2").split(NAMED);
  return <>{parts.map((part, i) => (i % 2 === 0 ? part : <Whole>{part}</Whole>))}</>;
}

const NAMED = new RegExp(`(${REFRIGERANTS.toSorted((a, b) => b.length - a.length).join("|")})`);

/** Facts in a row, `R-134a · Delivery vans`; what is one word, a refrigerant say, is not broken over lines. */
export function Facts({ of }: { of: readonly (string | null)[] }) {
  return (
    <>
      {of
        .filter((fact) => fact !== null)
        .map((fact, i) => (
          <>
            {i > 0 && "\u00a0· "}
            {/\s/.test(fact) ? fact : <Whole>{fact}</Whole>}
          </>
        ))}
    </>
  );
}
