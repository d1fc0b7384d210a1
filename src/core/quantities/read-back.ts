import { formatDate, formatShortDate } from "./dates.ts";
import { formatMass } from "./format.ts";
import type { ParsedMass } from "./parse-mass.ts";
import type { When } from "./parse-when.ts";
import type { UnitSystem } from "./units.ts";

/**
 * How a typed date was understood, in words, to be shown beside the field: "June 2024" is about mid-June 2024. Null
 * where that would repeat what was typed.
 */
export function whenReadBack(typed: string, { iso, said }: When): string | null {
  return [iso, formatDate(iso), formatShortDate(iso), said].some((text) => same(text, typed)) ? null : said;
}

/** How a typed amount was understood: `2 x 12 oz` is `1 lb 8 oz`, `16-18 oz` is `1 lb 1 oz, give or take 1 oz`. */
export function massReadBack(
  typed: string,
  { grams, least_g, most_g }: Extract<ParsedMass, { ok: true }>,
  system: UnitSystem,
): string | null {
  const said = formatMass(grams, system);
  if (least_g !== undefined && most_g !== undefined && most_g > least_g)
    return `${said}, give or take ${formatMass((most_g - least_g) / 2, system)}`;
  return same(said, typed) || /^[\d.]+ ?(oz|g)$/.test(typed.trim().toLowerCase()) ? null : said;
}

function same(one: string, other: string): boolean {
  const plain = (text: string) => text.toLowerCase().replace(/[\s,.]+/g, "");
  return plain(one) === plain(other);
}
