const MOST_DECIMALS = 6;

/** A quantity with its unit and the fewest decimals for which `is_same` holds, `12 oz`; null where it never does. */
export function shortestText(
  quantity: number,
  unit: string,
  is_same: (text: string) => boolean,
  most_decimals = MOST_DECIMALS,
): string | null {
  for (let decimals = 0; decimals <= most_decimals; decimals++) {
    const text = `${quantity.toFixed(decimals)} ${unit}`;
    if (is_same(text)) return text;
  }
  return null;
}
