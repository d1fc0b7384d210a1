/** Patterns of addresses like `/vehicles/:id`: those that have a page, and those that take a form. */
export interface Addresses {
  pages: readonly string[];
  forms: readonly string[];
}

/**
 * Where to go from an address that takes a form and has no page of its own: the nearest page above it. Null for an
 * address that has a page, and for one that nothing stands behind.
 *
 * @example
 * const addresses = { pages: ["/prices", "/prices/:id"], forms: ["/prices/:id/archive", "/prices/import"] };
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
function wordsThatFit(parts: readonly string[], patterns: readonly string[]): number {
  const counts = patterns.map((pattern) => {
    const wanted = partsOf(pattern);
    const fits = wanted.length === parts.length && wanted.every((part, i) => part.startsWith(":") || part === parts[i]);
    return fits ? wanted.filter((part) => !part.startsWith(":")).length : -1;
  });
  return Math.max(-1, ...counts);
}

function partsOf(path: string): string[] {
  return path.split("/").filter((part) => part !== "");
}
