import { daysInWeek, daysInYear, monthsInYear } from "date-fns/constants";
import { PAGE_FORMAT } from "../../../data/number-formats.ts";
import { minorDigits } from "./money.ts";
import { amountText } from "./number-text.ts";
import {
  ATMOSPHERE_KPA,
  fahrenheitFromCelsius,
  OUNCES_PER_POUND,
  ouncesFromGrams,
  type PressureUnit,
  pressureFromKpa,
  type UnitSystem,
} from "./units.ts";

/**
 * Quantities in words and figures, in English, the same on every machine. All functions throw RangeError for a number
 * that is not finite: a page that would show "NaN" has an error further up.
 */

/** `value` with `digits` decimals at most, a true minus sign, and never "-0". */
function significant(value: number, digits: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`Not a number to show: ${value}`);
  const text = Math.abs(value).toFixed(digits);
  const trimmed = digits > 0 ? text.replace(/\.?0+$/, "") : text;
  return value < 0 && Number(trimmed) !== 0 ? `−${trimmed}` : trimmed;
}

function roundedTo(value: number, step: number): number {
  return Math.round(value / step) * step;
}

/**
 * A mass that was weighed, typed or printed on a label: `340 g`, `12.5 kg`, `12 oz`, `1 lb 9 oz`. To the gram below
 * 10 kg (a tenth below 10 g), to a tenth of an ounce.
 */
export function formatMass(grams: number, system: UnitSystem): string {
  if (system === "us") return ounces(ouncesFromGrams(grams), 0.1);
  const size = Math.abs(grams);
  if (size >= 9999.5) return `${significant(grams / 1000, 2)} kg`;
  return `${significant(grams, size < 10 ? 1 : 0)} g`;
}

/** A mass that was estimated, rounded to what can be known: `about 340 g`, `about 1 lb 9 oz`, `less than 1 g`. */
export function formatAboutMass(grams: number, system: UnitSystem): string {
  const size = Math.abs(grams);
  if (size === 0) return formatMass(0, system);
  if (system === "us") {
    const oz = ouncesFromGrams(size);
    if (oz > 0 && oz < 0.05) return "less than 0.1 oz";
    if (oz >= 159.5) return `about ${significant(roundedTo(ouncesFromGrams(grams) / OUNCES_PER_POUND, 0.5), 1)} lb`;
    return `about ${ounces(ouncesFromGrams(grams), oz < 1.95 ? 0.1 : oz < 3.75 ? 0.5 : 1)}`;
  }
  if (size > 0 && size < 0.5) return "less than 1 g";
  if (size >= 9975) return `about ${significant(grams / 1000, 1)} kg`;
  const step = size < 20 ? 1 : size < 100 ? 5 : size < 1000 ? 10 : 50;
  return `about ${significant(roundedTo(grams, step), 0)} g`;
}

function ounces(oz: number, step: number): string {
  // Round first, then split, or 15.96 oz becomes "16 oz" instead of "1 lb".
  const rounded = roundedTo(Math.abs(oz), step);
  const pounds = Math.floor((rounded + step / 2) / OUNCES_PER_POUND);
  const rest = significant(Math.max(0, rounded - pounds * OUNCES_PER_POUND), 1);
  const sign = oz < 0 && rounded > 0 ? "−" : "";
  if (pounds === 0) return `${sign}${rest} oz`;
  return rest === "0" ? `${sign}${pounds} lb` : `${sign}${pounds} lb ${rest} oz`;
}

/** A temperature to the degree: `85 °F`, `29 °C`. */
export function formatTemperature(t_c: number, system: UnitSystem): string {
  return system === "us" ? `${significant(fahrenheitFromCelsius(t_c), 0)} °F` : `${significant(t_c, 0)} °C`;
}

/**
 * A pressure, given in kPa absolute, as a gauge in `unit` shows it: `35 psi`, `241 kPa`, `2.4 bar`, `343 kPa absolute`.
 */
export function formatPressure(p_kpa: number, unit: PressureUnit, atmosphere_kpa: number = ATMOSPHERE_KPA): string {
  const reading = pressureFromKpa(p_kpa, unit, atmosphere_kpa);
  switch (unit) {
    case "psi-gauge":
      return `${significant(reading, 0)} psi`;
    case "bar-gauge":
      return `${significant(reading, 1)} bar`;
    case "kPa-gauge":
      return `${significant(reading, 0)} kPa`;
    case "MPa-gauge":
      return `${significant(reading, 2)} MPa`;
    case "kgf-gauge":
      return `${significant(reading, 1)} kgf/cm²`;
    case "kPa-absolute":
      return `${significant(reading, 0)} kPa absolute`;
  }
}

/**
 * Money: `$1,230`, `−€45`, `CHF 8.50`. `currency` is an ISO 4217 code. With `digits`, exactly that many decimals, for
 * prices and totals; without, as an estimate: to ten from 1000 up, to one from 10 up, in the smallest unit below.
 */
export function formatMoney(amount: number, currency: string, digits?: number): string {
  if (!Number.isFinite(amount)) throw new RangeError(`Not an amount to show: ${amount}`);
  if (digits !== undefined) return amountText(amount, currency, PAGE_FORMAT, { least: digits, most: digits });
  const size = Math.abs(amount);
  const rounded = size >= 999.5 ? roundedTo(size, 10) : size;
  const minor_digits = minorDigits(currency);
  const whole = size >= 9.995 || Number.isInteger(Number(size.toFixed(minor_digits)));
  const decimals = whole ? 0 : minor_digits;
  return amountText(Math.sign(amount) * rounded, currency, PAGE_FORMAT, { least: decimals, most: decimals });
}

/** The mean month of the calendar: 146 097 days in 400 years. */
const WEEKS_PER_MONTH = daysInYear / monthsInYear / daysInWeek;

/** A span given in months, 0 or more: `a few days`, `3 weeks`, `7 months`, `2½ years`, `more than 50 years`. */
export function formatMonths(months: number): string {
  if (!(months >= 0)) throw new RangeError(`Not a span to show: ${months} months`);
  const weeks = Math.round(months * WEEKS_PER_MONTH);
  if (weeks < 1) return "a few days";
  if (months < 1.5) return counted(weeks, "week");
  if (months < 23.5) return counted(Math.round(months), "month");
  const years = months / 12;
  if (years > 50) return "more than 50 years";
  const halves = years < 4.75 ? Math.round(years * 2) : Math.round(years) * 2;
  return halves % 2 === 0 ? counted(halves / 2, "year") : `${(halves - 1) / 2}½ years`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}
