import { WRITTEN_SIGNS } from "../../../data/currencies.ts";
import { NUMBER_FORMATS, type NumberFormatId, PAGE_FORMAT } from "../../../data/number-formats.ts";

/**
 * Numbers and amounts as a locale writes them, by Intl. Decimals are passed as text, so that they stay exact. In every
 * locale there is a true minus sign, never "−0", and a currency has the sign of the pages' language, so that the `$` of
 * a table is the `$` beside the field.
 */

/** A decimal number as text, with a power of ten where it has one: `"-1234.5"`, `"123450E-2"`. */
export type DecimalText = `${number}`;

export interface Decimals {
  /** Fewest decimals. */
  least: number;
  /** Most decimals, at most 100. */
  most: number;
}

/** One formatter for each key: making one takes as long as using one a hundred times. */
const formatters = new Map<string, Formatter>();

interface Formatter {
  intl: Intl.NumberFormat;
  /** The sign of the currency as this locale has it. */
  own_sign: string;
}

function formatter(key: string, format: NumberFormatId, options: Intl.NumberFormatOptions): Formatter {
  const known = formatters.get(key);
  if (known !== undefined) return known;
  const intl = new Intl.NumberFormat(NUMBER_FORMATS[format].locale, { signDisplay: "negative", ...options });
  const own_sign = intl.formatToParts(0).find(({ type }) => type === "currency")?.value ?? "";
  const made = { intl, own_sign };
  formatters.set(key, made);
  return made;
}

/** `value / 10^digits` as exact text. Throws RangeError unless `value` is a safe integer. */
export function scaledDecimal(value: number, digits: number): DecimalText {
  if (!Number.isSafeInteger(value)) throw new RangeError(`Not a whole number that is exact: ${value}`);
  return `${value}E-${digits}` as DecimalText;
}

/** A number: `1,234.5`, `1.234,5`. Without `grouped` as it stands in a form: `1234,5`. */
export function numberText(
  value: number | DecimalText,
  format: NumberFormatId,
  { least, most, grouped = true }: Decimals & { grouped?: boolean },
): string {
  const { intl } = formatter(`${format} ${least} ${most} ${grouped}`, format, {
    minimumFractionDigits: least,
    maximumFractionDigits: most,
    useGrouping: grouped,
  });
  return typographic(intl.format(value));
}

/** A number as the pages write it, with `most` decimals: `12,950`, `0.25`. */
export function pageNumber(value: number, most = 3): string {
  return numberText(value, PAGE_FORMAT, { least: 0, most });
}

/** An amount with its currency (ISO 4217): `$1,234.50`, `1.234,50 €`, `−$3.00`. */
export function amountText(
  value: number | DecimalText,
  currency: string,
  format: NumberFormatId,
  { least, most }: Decimals,
): string {
  const { intl, own_sign } = formatter(`${format} ${least} ${most} ${currency}`, format, {
    style: "currency",
    currency,
    minimumFractionDigits: least,
    maximumFractionDigits: most,
  });
  return typographic(intl.format(value).replace(own_sign, () => currencySign(currency)));
}

/** Replaces apostrophe and minus by the typographic ones: versions of the locale data differ in these. */
function typographic(text: string): string {
  return text.replace("-", "−").replaceAll("'", "’");
}

/** The sign of a currency in English, its letters where it has none: `$`, `CA$`, `€`, `CHF`. */
export function currencySign(currency: string): string {
  return signIn(currency, "symbol");
}

/** What may be written for a currency beside its letters, longer signs first: for CAD `CA$`, `C$`, `$`. */
export function writtenSigns(currency: string): string[] {
  const signs = [signIn(currency, "symbol"), signIn(currency, "narrowSymbol"), ...(WRITTEN_SIGNS[currency] ?? [])];
  return signs.toSorted((a, b) => b.length - a.length);
}

function signIn(currency: string, currencyDisplay: "symbol" | "narrowSymbol"): string {
  return formatter(`${currencyDisplay} ${currency}`, PAGE_FORMAT, { style: "currency", currency, currencyDisplay })
    .own_sign;
}

const names = new Intl.DisplayNames(NUMBER_FORMATS[PAGE_FORMAT].locale, { type: "currency" });

/** A currency's name in English: `Swiss Franc`. A code without a name, or a text that is no code, is given back. */
export function currencyName(currency: string): string {
  return /^[A-Z]{3}$/.test(currency) ? (names.of(currency) ?? currency) : currency;
}

/** What begins the decimals: `.` or `,`. */
export function decimalSign(format: NumberFormatId): "." | "," {
  const { intl } = formatter(`${format} decimal`, format, { minimumFractionDigits: 1 });
  return intl.format(0).includes(",") ? "," : ".";
}
