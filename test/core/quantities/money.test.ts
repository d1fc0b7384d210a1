import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NUMBER_FORMAT_IDS, type NumberFormatId } from "../../../data/number-formats.ts";
import {
  apportioned,
  formatAmount,
  formatPercent,
  formatQuantity,
  formatUnitPrice,
  mainUnits,
  minorDigits,
  parseAmount,
  parsePercent,
  parseQuantity,
  parseUnitPrice,
  partOf,
  plainAmount,
  plainUnitPrice,
  priceOf,
  sumOf,
} from "../../../src/core/quantities/money.ts";

const US: NumberFormatId = "1,234.56";
const DE: NumberFormatId = "1.234,56";
const FR: NumberFormatId = "1 234,56";
const CH: NumberFormatId = "1’234.56";
const IN: NumberFormatId = "12,34,567.89";

// ISO 4217:2015, column "minor unit", from memory.
const DIGITS = [
  ["JPY", 0],
  ["USD", 2],
  ["EUR", 2],
  ["KWD", 3],
  ["JOD", 3],
] as const;

describe("priceOf(quantity, unit price) is rounded once, a half away from zero", () => {
  it.each([
    // 3 × 0.115 = 0.345 → 0.35; in floats it is 0.34500000000000003 or 0.345, and 0.345 × 100 is 34.49…
    [3000, 115_000, "USD", 35],
    // 1 × 0.005 = 0.005 → 0.01
    [1000, 5_000, "USD", 1],
    // 1 × 0.004999 → 0.00
    [1000, 4_999, "USD", 0],
    // 23 × 3.125 = 71.875 → 71.88
    [23_000, 3_125_000, "USD", 7188],
    // 0.75 × 9.250 = 6.9375 → 6.938
    [750, 9_250_000, "KWD", 6938],
    // 2.5 × 8545 = 21362.5 → 21363
    [2500, 8_545_000_000, "JPY", 21_363],
    // 1.005 × 1000 = 1005.00 exactly; 1.005 has no float
    [1005, 1_000_000_000, "USD", 100_500],
  ])("%d thousandths × %d millionths in %3$s", (quantity_milli, unit_price_micro, currency, minor) => {
    expect(priceOf(quantity_milli, unit_price_micro, currency)).toBe(minor);
    expect(priceOf(-quantity_milli, unit_price_micro, currency)).toBe(0 - minor);
  });

  it("refuses a fraction of a unit, and what a float can no longer count", () => {
    expect(() => priceOf(0.5, 1, "USD")).toThrow(RangeError);
    expect(() => priceOf(Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER, "USD")).toThrow(RangeError);
  });
});

describe("partOf(amount, rate)", () => {
  it.each([
    // 7.25 % of 221.08 = 16.0283 → 16.03
    [22_108, 72_500, 1603],
    // 8.875 % of 10.00 = 0.8875 → 0.89
    [1000, 88_750, 89],
    // 5 % of 0.50 = 0.025 → 0.03
    [50, 50_000, 3],
    [-50, 50_000, -3],
    [12_345, 1_000_000, 12_345],
    [12_345, 0, 0],
  ])("of %d at %d ppm", (amount_minor, rate_ppm, part) => {
    expect(partOf(amount_minor, rate_ppm)).toBe(part);
  });
});

describe("apportioned(amount, weights)", () => {
  it("gives what is left over to the largest remainders, the earlier first", () => {
    // 1.00 over three alike: 33.33 each, one cent left.
    expect(apportioned(100, [1, 1, 1])).toEqual([34, 33, 33]);
    // 27.99 over 177.00, 148.49, 150.00, 71.88, 12.35: 885.13, 742.56, 750.11, 359.45, 61.76
    expect(apportioned(2799, [17_700, 14_849, 15_000, 7188, 1235])).toEqual([885, 743, 750, 359, 62]);
    expect(apportioned(-100, [1, 1, 1])).toEqual([-34, -33, -33]);
  });

  it("gives nothing to a weight of nothing, and refuses to share by none", () => {
    expect(apportioned(7, [0, 2, 0])).toEqual([0, 7, 0]);
    expect(apportioned(0, [0, 0])).toEqual([0, 0]);
    expect(() => apportioned(1, [0, 0])).toThrow(RangeError);
  });

  it("adds up, and no part is further than one from its share", () => {
    const weights = fc.array(fc.integer({ min: 0, max: 1_000_000_000 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), weights, (amount, by) => {
        fc.pre(by.some((weight) => weight > 0));
        const parts = apportioned(amount, by);
        const total = by.reduce((sum, weight) => sum + weight, 0);
        expect(sumOf(parts)).toBe(amount);
        for (const [i, part] of parts.entries()) expect(Math.abs(part - (amount * by[i]!) / total)).toBeLessThan(1.001);
      }),
    );
  });
});

describe("minor units and the model's floats", () => {
  it.each(DIGITS)("%s has %d digits", (currency, digits) => {
    expect(minorDigits(currency)).toBe(digits);
  });

  it("an unknown currency counts in hundredths", () => {
    expect(minorDigits("XYZ")).toBe(2);
  });

  it("mainUnits puts the point where the currency has it", () => {
    expect(mainUnits(12_345, "JPY")).toBe(12_345);
    expect(mainUnits(12_345, "USD")).toBe(123.45);
    expect(mainUnits(12_345, "KWD")).toBe(12.345);
  });
});

describe("what is written in a form", () => {
  it("has no signs between thousands", () => {
    expect(plainUnitPrice(1_234_500_000, "EUR", DE)).toBe("1234,50");
    expect(plainAmount(123_450, "EUR", DE)).toBe("1234,50");
    expect(formatQuantity(1_500_500, DE)).toBe("1500,5");
    expect(formatPercent(72_500, US)).toBe("7.25");
  });

  it("takes safe whole numbers only", () => {
    expect(() => formatAmount(0.5, "USD", US)).toThrow(RangeError);
    expect(() => formatAmount(2 ** 53, "USD", US)).toThrow(RangeError);
  });
});

describe("what is typed", () => {
  it.each([
    ["1,234.50", US, 123_450],
    ["$850", US, 85_000],
    ["850 USD", US, 85_000],
    ["$ 850", FR, 85_000],
    ["  850.5 ", US, 85_050],
    [".5", US, 50],
    ["1,234", US, 123_400],
    ["1.234", DE, 123_400],
    ["1.234,5", DE, 123_450],
    ["12,5", DE, 1250],
    ["1 234,56", FR, 123_456],
    ["1\u202f234,56", FR, 123_456],
    ["1’234.56", CH, 123_456],
    ["1'234.56", CH, 123_456],
    ["12,34,567.89", IN, 123_456_789],
    // Another format's sign where it can mean one thing only.
    ["12,5", US, 1250],
    ["12.5", DE, 1250],
    ["1.234,56", US, 123_456],
    ["1,234.56", DE, 123_456],
    ["850.00", DE, 85_000],
    ["12.340", US, 1234],
    ["0", US, 0],
  ])("parseAmount(%j) as %s", (text, format, minor) => {
    expect(parseAmount(text, "USD", format)).toEqual({ ok: true, scaled: minor });
  });

  it.each([
    ["", "Enter a number, like 120.50"],
    ["$", "Enter a number, like 120.50"],
    ["a lot", "Enter a number, like 120.50"],
    ["1.5.5", "Enter a number, like 120.50"],
    ["1,23", null],
    ["12,34.5", "Enter a number, like 120.50"],
    ["1.234", "Enter at most 2 decimals"],
    ["-5", "Enter 0 or more, like 120.50"],
    ["−5", "Enter 0 or more, like 120.50"],
    ["12345678901", "That is too large. Check the number"],
    ["1e5", "Enter a number, like 120.50"],
    ["Infinity", "Enter a number, like 120.50"],
  ])("parseAmount(%j) in US format answers %j", (text, message) => {
    const code = message === "Enter at most 2 decimals" ? { code: "decimals" } : {};
    const refused = { ok: false, message, ...code };
    expect(parseAmount(text, "USD", US)).toEqual(message === null ? { ok: true, scaled: 123 } : refused);
  });

  it.each([
    ["CAD", ["850", "$850", "C$850", "CA$850", "CAD 850"]],
    ["CHF", ["850", "CHF 850", "Fr. 850", "850 CHF"]],
    ["KWD", ["850", "KD 850", "850 KWD"]],
    ["ZAR", ["850", "R850", "R 850", "ZAR 850"]],
    ["EUR", ["850", "€850", "850 €", "EUR850"]],
  ])("amounts in %s, with each sign in use", (currency, texts) => {
    for (const text of texts)
      expect(parseAmount(text, currency, US)).toEqual({ ok: true, scaled: 850 * 10 ** minorDigits(currency) });
  });

  it("whole yen, thousandths of a dinar", () => {
    expect(parseAmount("1,234", "JPY", US)).toEqual({ ok: true, scaled: 1234 });
    expect(parseAmount("12.5", "JPY", US)).toEqual({
      ok: false,
      code: "decimals",
      message: "Enter a whole number, like 120",
    });
    expect(parseAmount("1.234", "KWD", US)).toEqual({ ok: true, scaled: 1234 });
  });

  it("unit prices, quantities and percentages have decimals of their own", () => {
    expect(parseUnitPrice("0.1125", "USD", US)).toEqual({ ok: true, scaled: 112_500 });
    expect(parseQuantity("1.5", US)).toEqual({ ok: true, scaled: 1500 });
    expect(parseQuantity("1.2345", US)).toEqual({ ok: false, code: "decimals", message: "Enter at most 3 decimals" });
    expect(parsePercent("7.25 %", US)).toEqual({ ok: true, scaled: 72_500 });
    expect(parsePercent("7,25%", DE)).toEqual({ ok: true, scaled: 72_500 });
  });

  it("reads back what was written, in every format and currency", () => {
    const currency = fc.constantFrom("USD", "EUR", "JPY", "KWD", "CHF", "INR", "XYZ");
    const format = fc.constantFrom(...NUMBER_FORMAT_IDS);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99_999_999_999 }), currency, format, (minor, of, as) => {
        fc.pre(mainUnits(minor, of) < 1e9);
        expect(parseAmount(formatAmount(minor, of, as), of, as)).toEqual({ ok: true, scaled: minor });
        expect(parseAmount(plainAmount(minor, of, as), of, as)).toEqual({ ok: true, scaled: minor });
      }),
    );
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000_000_000_000 }), currency, format, (micro, of, as) => {
        expect(parseUnitPrice(formatUnitPrice(micro, of, as), of, as)).toEqual({ ok: true, scaled: micro });
        expect(parseUnitPrice(plainUnitPrice(micro, of, as), of, as)).toEqual({ ok: true, scaled: micro });
      }),
    );
  });

  it("never throws on text", () => {
    const text = fc.oneof(fc.string(), fc.stringMatching(/^[\d.,'’ $-]{0,20}$/));
    fc.assert(
      fc.property(text, fc.constantFrom(...NUMBER_FORMAT_IDS), (typed, format) => {
        const parsed = parseAmount(typed, "USD", format);
        if (parsed.ok) expect(Number.isSafeInteger(parsed.scaled) && parsed.scaled >= 0).toBe(true);
        else expect(parsed.message).not.toBe("");
      }),
    );
  });
});
