import { MINOR_DIGITS } from "../../../data/currencies.ts";
import type { NumberFormatId } from "../../../data/number-formats.ts";
import { amountText, decimalSign, numberText, scaledDecimal, writtenSigns } from "./number-text.ts";
import { LONGEST_TEXT, type Unreadable, unreadable } from "./typed-number.ts";

/**
 * Exact money, without floats. Amounts are whole numbers of the currency's smallest unit (`_minor`). What they are made
 * from are decimals as scaled whole numbers: quantities in thousandths (`_milli`), unit prices in millionths of the
 * main unit (`_micro`), rates in parts per million (`_ppm`; 7.25 % is 72 500). Products are exact and rounded once, to
 * the nearest smallest unit, halves away from zero, as on the pocket calculator with which someone checks an invoice.
 */

const QUANTITY_DIGITS = 3;
export const UNIT_PRICE_DIGITS = 6;
/** The most that is stored: more than the longest quote of the dearest lines can come to. */
export const MOST_MINOR = 1e13;
/** Of a percentage, not of its share. */
const PERCENT_DIGITS = 4;

const PPM = 1_000_000n;

/** Decimals of a currency's smallest unit (ISO 4217); 2, as most have, for one that is not in the table. */
export function minorDigits(currency: string): number {
  return MINOR_DIGITS[currency] ?? 2;
}

/**
 * `quantity × unit price` in the smallest unit. Throws RangeError for what is no whole number, or too large to be
 * exact.
 */
export function priceOf(quantity_milli: number, unit_price_micro: number, currency: string): number {
  const product = scaled(quantity_milli) * scaled(unit_price_micro);
  return toNumber(divided(product, 10n ** BigInt(QUANTITY_DIGITS + UNIT_PRICE_DIGITS - minorDigits(currency))));
}

/** `rate` of an amount, in the smallest unit: a tax, or a discount in percent. Throws RangeError as `priceOf` does. */
export function partOf(amount_minor: number, rate_ppm: number): number {
  return toNumber(divided(scaled(amount_minor) * scaled(rate_ppm), PPM));
}

/** A sum of amounts. Throws RangeError when it is too large to be exact. */
export function sumOf(amounts: readonly number[]): number {
  return toNumber(amounts.reduce((sum, amount) => sum + scaled(amount), 0n));
}

/**
 * Divides an amount in proportion to `weights`, whole numbers from 0, into parts that add up to it: each part is
 * rounded down, and the units left over go to the largest remainders, the earlier first. Throws RangeError when there
 * is something to divide and all weights are 0.
 */
export function apportioned(amount_minor: number, weights: readonly number[]): number[] {
  if (amount_minor < 0) return apportioned(-amount_minor, weights).map((part) => 0 - part);
  const shares = weights.map(scaled);
  const total = shares.reduce((sum, weight) => sum + weight, 0n);
  if (amount_minor === 0) return weights.map(() => 0);
  if (total === 0n || shares.some((weight) => weight < 0n))
    throw new RangeError(`Nothing to share ${amount_minor} by: ${weights.join(", ")}`);
  const products = shares.map((weight) => weight * scaled(amount_minor));
  const parts = products.map((product) => product / total);
  let left = scaled(amount_minor) - parts.reduce((sum, part) => sum + part, 0n);
  const by_remainder = products
    .map((product, i) => ({ i, remainder: product % total }))
    .toSorted((a, b) => (a.remainder === b.remainder ? a.i - b.i : a.remainder > b.remainder ? -1 : 1));
  for (const { i } of by_remainder) {
    if (left === 0n) break;
    parts[i]! += 1n;
    left -= 1n;
  }
  return parts.map(toNumber);
}

/** An amount as the model takes money: a float in the main unit. */
export function mainUnits(amount_minor: number, currency: string): number {
  return amount_minor / 10 ** minorDigits(currency);
}

/** An exact amount with its currency: `$1,234.50`, `1.234,50 €`, `¥1,235`, `−$3.00`. */
export function formatAmount(amount_minor: number, currency: string, format: NumberFormatId): string {
  const digits = minorDigits(currency);
  return amountText(scaledDecimal(amount_minor, digits), currency, format, { least: digits, most: digits });
}

/** An amount in whole main units, for estimates: `$1,050`, `1.050 €`. */
export function formatWhole(amount: number, currency: string, format: NumberFormatId): string {
  return amountText(Math.round(amount), currency, format, { least: 0, most: 0 });
}

/** A unit price, with as many decimals as it has and at least those of the currency: `$120.00`, `$0.1125`. */
export function formatUnitPrice(unit_price_micro: number, currency: string, format: NumberFormatId): string {
  return amountText(scaledDecimal(unit_price_micro, UNIT_PRICE_DIGITS), currency, format, unitPriceDecimals(currency));
}

/** The same without the currency, as it stands in a form. */
export function plainUnitPrice(unit_price_micro: number, currency: string, format: NumberFormatId): string {
  const decimals = { ...unitPriceDecimals(currency), grouped: false };
  return numberText(scaledDecimal(unit_price_micro, UNIT_PRICE_DIGITS), format, decimals);
}

/** An amount without the currency, as it stands in a form. */
export function plainAmount(amount_minor: number, currency: string, format: NumberFormatId): string {
  const digits = minorDigits(currency);
  return numberText(scaledDecimal(amount_minor, digits), format, { least: digits, most: digits, grouped: false });
}

/** A quantity, as it stands in a form and in a table: `1.5`, `650`. */
export function formatQuantity(quantity_milli: number, format: NumberFormatId): string {
  const decimals = { least: 0, most: QUANTITY_DIGITS, grouped: false };
  return numberText(scaledDecimal(quantity_milli, QUANTITY_DIGITS), format, decimals);
}

/** A rate in percent, without the sign: `7.25`. */
export function formatPercent(rate_ppm: number, format: NumberFormatId): string {
  const decimals = { least: 0, most: PERCENT_DIGITS, grouped: false };
  return numberText(scaledDecimal(rate_ppm, PERCENT_DIGITS), format, decimals);
}

function unitPriceDecimals(currency: string) {
  return { least: minorDigits(currency), most: UNIT_PRICE_DIGITS };
}

/** `decimals`: a number, with more decimals than can be kept. */
export type ParsedDecimal = { ok: true; scaled: number } | (Unreadable & { code?: "decimals" });

/** Digits of the integer part that stay exact whatever the scale. */
const MOST_INTEGER_DIGITS = 9;

/** An amount of money as typed, in the smallest unit: `1,234.50`, `$850`, `1234,5 €`. */
export function parseAmount(text: string, currency: string, format: NumberFormatId): ParsedDecimal {
  return parseDecimal(withoutSymbol(text, currency), minorDigits(currency), format);
}

/** A unit price as typed, in millionths of the main unit. */
export function parseUnitPrice(text: string, currency: string, format: NumberFormatId): ParsedDecimal {
  return parseDecimal(withoutSymbol(text, currency), UNIT_PRICE_DIGITS, format);
}

/** A quantity as typed, in thousandths. */
export function parseQuantity(text: string, format: NumberFormatId): ParsedDecimal {
  return parseDecimal(text, QUANTITY_DIGITS, format);
}

/** A percentage as typed, with or without its sign, in parts per million. */
export function parsePercent(text: string, format: NumberFormatId): ParsedDecimal {
  return parseDecimal(text.replace(/%\s*$/, ""), PERCENT_DIGITS, format);
}

/** Text of an amount without a sign or the three letters of its currency, where it has them; trimmed. */
export function withoutSymbol(text: string, currency: string): string {
  const plain = text.trim();
  for (const sign of [...writtenSigns(currency), currency]) {
    if (plain.startsWith(sign)) return plain.slice(sign.length).trim();
    if (plain.endsWith(sign)) return plain.slice(0, -sign.length).trim();
  }
  return plain;
}

/**
 * A number from 0 with `digits` decimals at most, as `number × 10^digits`. Groups of thousands and the decimal sign are
 * read as the format has them; a sign of another format only where it can mean one thing, as in `12,5` or `1.234,50`.
 */
function parseDecimal(text: string, digits: number, format: NumberFormatId): ParsedDecimal {
  const decimal = decimalSign(format);
  // Checked before any pattern runs: on a hundred thousand digits some would take seconds.
  if (text.length > LONGEST_TEXT) return unreadable(`Enter a number, like ${example(digits, decimal)}`);
  const plain = text.trim().replace(/(?<=\d)[\s'’](?=\d{3}(?!\d))/g, "");
  if (/^[-−]/.test(plain)) return unreadable(`Enter 0 or more, like ${example(digits, decimal)}`);
  const parts = splitDecimal(plain, decimal);
  if (parts === null) return unreadable(`Enter a number, like ${example(digits, decimal)}`);
  const [integer, part] = parts;
  const kept = part.replace(/0+$/, "");
  if (kept.length > digits) {
    const message = digits === 0 ? "Enter a whole number, like 120" : `Enter at most ${digits} decimals`;
    return { ok: false, code: "decimals", message };
  }
  const figures = integer.replace(/^0+(?=\d)/, "");
  if (figures.length > MOST_INTEGER_DIGITS) return unreadable("That is too large. Check the number");
  return { ok: true, scaled: Number(`${figures}${kept.padEnd(digits, "0")}`) };
}

/** The figures before and after the decimal sign; null for what is no number, or could be two. */
function splitDecimal(text: string, decimal: "." | ","): [integer: string, part: string] | null {
  if (!/^[\d.,]*\d[\d.,]*$/.test(text)) return null;
  const sign = signOfDecimals(text, decimal);
  const at = sign === null ? text.length : text.lastIndexOf(sign);
  const [integer, part] = [text.slice(0, at), text.slice(at + 1)];
  if (!/^\d*$/.test(part) || !/^(\d*|\d{1,3}(?:([.,])\d{3})(?:\2\d{3})*|\d{1,2}(?:,\d{2})+,\d{3})$/.test(integer))
    return null;
  if (sign !== null && integer.includes(sign)) return null;
  return [integer.replace(/[.,]/g, "") || "0", part];
}

/** Which sign, if any, begins the decimals. */
function signOfDecimals(text: string, decimal: "." | ","): "." | "," | null {
  const other = decimal === "." ? "," : ".";
  const [own, foreign] = [decimal, other].map((sign) => text.split(sign).length - 1) as [number, number];
  if (own > 0 && foreign > 0) return text.lastIndexOf(decimal) > text.lastIndexOf(other) ? decimal : other;
  if (own === 1) return decimal;
  // A single sign of the other kind before three digits separates thousands in this format.
  if (foreign === 1 && !/^\d{1,3}[.,]\d{3}$/.test(text)) return other;
  return null;
}

function example(digits: number, decimal: string): string {
  if (digits === 0) return "120";
  return digits === QUANTITY_DIGITS ? `1${decimal}5` : `120${decimal}50`;
}

/** A quotient rounded to a whole number, a half away from zero. */
function divided(dividend: bigint, divisor: bigint): bigint {
  const size = dividend < 0n ? -dividend : dividend;
  const rounded = (2n * size + divisor) / (2n * divisor);
  return dividend < 0n ? -rounded : rounded;
}

/** A quantity, price or amount as the whole number that it is scaled to. Throws RangeError when it is none. */
function scaled(value: number): bigint {
  if (!Number.isSafeInteger(value)) throw new RangeError(`Not a whole number that is exact: ${value}`);
  return BigInt(value);
}

function toNumber(value: bigint): number {
  const number = Number(value);
  if (!Number.isSafeInteger(number)) throw new RangeError(`Too large an amount: ${value}`);
  return number;
}
