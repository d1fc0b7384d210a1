const MOST_DECIMALS = 6;

/** A quantity with its unit and as few decimals as `is_same` is content with, `12 oz`; null where none are enough. */
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
