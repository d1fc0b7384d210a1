/** Patterns of addresses like `/vehicles/:id`: those that have a page, and those that take a form. */
export interface Addresses {
  pages: Patterns;
  forms: Patterns;
}

/** By the number of their parts; null stands for a part like `:id`, which any text fits. */
type Patterns = ReadonlyMap<number, readonly (readonly (string | null)[])[]>;

/** Patterns made ready for `nearestPage`: it is asked about every page that is opened. */
export function addressesOf({ pages, forms }: { pages: readonly string[]; forms: readonly string[] }): Addresses {
  return { pages: patternsOf(pages), forms: patternsOf(forms) };
}

function patternsOf(patterns: readonly string[]): Patterns {
  const parts = [...new Set(patterns)].map((pattern) =>
    partsOf(pattern).map((part) => (part.startsWith(":") ? null : part)),
  );
  return Map.groupBy(parts, ({ length }) => length);
}

/**
 * Where to go from an address that takes a form and has no page of its own: the nearest page above it. Null for an
 * address that has a page, and for one that nothing stands behind.
 *
 * @example
 * const pages = ["/prices", "/prices/:id"];
 * const addresses = addressesOf({ pages, forms: ["/prices/:id/archive", "/prices/import"] });
 * nearestPage("/prices/retail/archive", addresses); // "/prices/retail"
 * nearestPage("/prices/import", addresses); // "/prices"
 */
export function nearestPage(path: string, addresses: Addresses): string | null {
  const parts = partsOf(path);
  if (!isForm(parts, addresses)) return null;
  for (let count = parts.length - 1; count > 0; count--) {
    const above = parts.slice(0, count);
    if (wordsThatFit(above, addresses.pages) >= 0 && !isForm(above, addresses)) return `/${above.join("/")}`;
  }
  return "/";
}

/** A form's address matches by its literal words, not as the id of a page. */
function isForm(parts: readonly string[], { pages, forms }: Addresses): boolean {
  return wordsThatFit(parts, forms) > wordsThatFit(parts, pages);
}

/** The number of literal words in the best matching pattern; −1 where none matches. */
function wordsThatFit(parts: readonly string[], patterns: Patterns): number {
  let most = -1;
  for (const wanted of patterns.get(parts.length) ?? []) {
    let words = 0;
    const fits = wanted.every((part, i) => {
      if (part === null) return true;
      words += 1;
      return part === parts[i];
    });
    if (fits && words > most) most = words;
  }
  return most;
}

function partsOf(path: string): string[] {
  return path.split("/").filter((part) => part !== "");
}
