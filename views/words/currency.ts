const NAMES = new Intl.DisplayNames("en-US", { type: "currency" });

/** A currency in running text: `US dollars`, `euros`. */
export function currencyName(code: string): string {
  const format = new Intl.NumberFormat("en-US", { style: "currency", currency: code, currencyDisplay: "name" });
  const plural = format.formatToParts(2).find(({ type }) => type === "currency")?.value;
  return plural ?? NAMES.of(code) ?? code;
}
