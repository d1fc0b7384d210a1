import type { NumberFormatId } from "../../data/number-formats.ts";
import {
  formatAmount,
  formatQuantity,
  formatUnitPrice,
  formatWhole,
  plainAmount,
} from "../../src/core/quantities/money.ts";
import { currencySign } from "../../src/core/quantities/number-text.ts";

/*
 * Amounts as the locales write them. The patterns are those of the Unicode Common Locale Data Repository, release 48
 * (Unicode Consortium, 2025), cldr-numbers-full, main/<locale>/numbers.json: currencyFormats standard,
 * minimumGroupingDigits 1, currencySpacing U+00A0 where a currency's letters meet a figure. The texts are the patterns
 * filled in by hand, with two changes of ours: a true minus sign (U+2212) for U+002D, and the typographic apostrophe
 * (U+2019) for the U+0027 of release 48. Signs of currencies are those of main/en/currencies.json, from memory; decimal
 * digits those of ISO 4217, "minor unit", from memory.
 */
const US: NumberFormatId = "1,234.56"; // en      ¤#,##0.00                   "." ","
const DE: NumberFormatId = "1.234,56"; // de      #,##0.00 ¤ (U+00A0)         "," "."
const FR: NumberFormatId = "1 234,56"; // fr      #,##0.00 ¤ (U+00A0)         "," U+202F
const CH: NumberFormatId = "1’234.56"; // de-CH   ¤ #,##0.00;¤-#,##0.00       "." "'"
const IN: NumberFormatId = "12,34,567.89"; // en-IN   ¤#,##,##0.00            "." ","

/** More than a float of the main unit can count to the cent: 2^53 − 1. */
const MOST = Number.MAX_SAFE_INTEGER; // 9 007 199 254 740 991

export const AMOUNT_TEXTS: readonly (readonly [
  amount_minor: number,
  currency: string,
  format: NumberFormatId,
  text: string,
])[] = [
  [0, "USD", US, "$0.00"],
  [-0, "USD", US, "$0.00"],
  [5, "USD", US, "$0.05"],
  [99_999, "USD", US, "$999.99"],
  [123_450, "USD", US, "$1,234.50"],
  [-4500, "USD", US, "−$45.00"],
  [123_456_789, "USD", US, "$1,234,567.89"],
  [MOST, "USD", US, "$90,071,992,547,409.91"],
  [-MOST, "USD", US, "−$90,071,992,547,409.91"],
  [123_456, "JPY", US, "¥123,456"],
  [MOST, "JPY", US, "¥9,007,199,254,740,991"],
  [1_234_567, "KWD", US, "KWD\u00a01,234.567"],
  [5, "JOD", US, "JOD\u00a00.005"],
  [85_000, "CAD", US, "CA$850.00"],
  [85_000, "MXN", US, "MX$850.00"],
  [120_000, "CHF", US, "CHF\u00a01,200.00"],
  [-120_000, "CHF", US, "−CHF\u00a01,200.00"],
  [99_900, "XYZ", US, "XYZ\u00a0999.00"],
  [100_000, "EUR", DE, "1.000,00\u00a0€"],
  [123_450, "EUR", DE, "1.234,50\u00a0€"],
  [-4500, "EUR", DE, "−45,00\u00a0€"],
  [MOST, "EUR", DE, "90.071.992.547.409,91\u00a0€"],
  [123_456, "JPY", DE, "123.456\u00a0¥"],
  [123_456_789, "EUR", FR, "1\u202f234\u202f567,89\u00a0€"],
  [-123_456, "EUR", FR, "−1\u202f234,56\u00a0€"],
  [123_450, "USD", FR, "1\u202f234,50\u00a0$"],
  [1_234_567, "KWD", FR, "1\u202f234,567\u00a0KWD"],
  [123_456_789, "CHF", CH, "CHF\u00a01’234’567.89"],
  [-123_456, "CHF", CH, "CHF−1’234.56"],
  [123_456, "EUR", CH, "€\u00a01’234.56"],
  [123_456_789, "INR", IN, "₹12,34,567.89"],
  [1_234_567_890, "INR", IN, "₹1,23,45,678.90"],
  [-10_000_000, "INR", IN, "−₹1,00,000.00"],
  [99_900, "INR", IN, "₹999.00"],
  [123_456, "JPY", IN, "¥1,23,456"],
];

/** What is shown of these rows where this runs; the same call on each runtime. */
export function shownAmounts(): string[] {
  return AMOUNT_TEXTS.map(([amount_minor, currency, format]) => formatAmount(amount_minor, currency, format));
}

/** What else is written with numbers: how it is called, and the text. */
export const OTHER_TEXTS: readonly (readonly [call: () => string, text: string])[] = [
  [() => formatUnitPrice(112_500, "USD", US), "$0.1125"],
  [() => formatUnitPrice(120_000_000, "USD", US), "$120.00"],
  [() => formatUnitPrice(12_500_000, "JPY", US), "¥12.5"],
  [() => formatUnitPrice(MOST, "EUR", DE), "9.007.199.254,740991\u00a0€"],
  [() => formatWhole(1050, "EUR", DE), "1.050\u00a0€"],
  [() => plainAmount(MOST, "EUR", DE), "90071992547409,91"],
  [() => formatQuantity(1500, FR), "1,5"],
  [() => formatQuantity(650_000, US), "650"],
  [() => currencySign("CAD"), "CA$"],
  [() => currencySign("CHF"), "CHF"],
];

export function shownOthers(): string[] {
  return OTHER_TEXTS.map(([call]) => call());
}
