import { describe, expect, it } from "vitest";
import { formatDate } from "../../../src/core/quantities/dates.ts";
import {
  formatAboutMass,
  formatMass,
  formatMoney,
  formatMonths,
  formatPressure,
  formatTemperature,
} from "../../../src/core/quantities/format.ts";

const OZ = 28.349523125; // NIST SP 811 (2008)

describe("formatMass(g, system) keeps what was typed", () => {
  it.each([
    [340, "340 g", "12 oz"],
    [25 * OZ, "709 g", "1 lb 9 oz"],
    [700, "700 g", "1 lb 8.7 oz"],
    [15.97 * OZ, "453 g", "1 lb"],
    [31.99 * OZ, "907 g", "2 lb"],
    [0, "0 g", "0 oz"],
    [2.54, "2.5 g", "0.1 oz"],
    [12_500, "12.5 kg", "27 lb 8.9 oz"],
    [-340, "−340 g", "−12 oz"],
    [-0.001, "0 g", "0 oz"],
  ])("%d g", (grams, metric, us) => {
    expect(formatMass(grams, "metric")).toBe(metric);
    expect(formatMass(grams, "us")).toBe(us);
  });
});

describe("formatAboutMass(g, system) says no more than anyone knows", () => {
  it.each([
    [342, "about 340 g", "about 12 oz"],
    [712, "about 710 g", "about 1 lb 9 oz"],
    [47, "about 45 g", "about 1.7 oz"],
    [90, "about 90 g", "about 3 oz"],
    [12.4, "about 12 g", "about 0.4 oz"],
    [1234, "about 1250 g", "about 2 lb 12 oz"],
    [7712, "about 7700 g", "about 17 lb"],
    [12_345, "about 12.3 kg", "about 27 lb"],
    [0.3, "less than 1 g", "less than 0.1 oz"],
    [0, "0 g", "0 oz"],
  ])("%d g", (grams, metric, us) => {
    expect(formatAboutMass(grams, "metric")).toBe(metric);
    expect(formatAboutMass(grams, "us")).toBe(us);
  });
});

describe("formatTemperature, formatPressure", () => {
  it("whole degrees, with a true minus sign", () => {
    expect(formatTemperature(29.4, "us")).toBe("85 °F");
    expect(formatTemperature(29.4, "metric")).toBe("29 °C");
    expect(formatTemperature(-5, "metric")).toBe("−5 °C");
    expect(formatTemperature(-0.2, "metric")).toBe("0 °C");
  });

  it("as the gauge shows it", () => {
    expect(formatPressure(342.6, "psi-gauge")).toBe("35 psi");
    expect(formatPressure(342.6, "kPa-gauge")).toBe("241 kPa");
    expect(formatPressure(342.6, "bar-gauge")).toBe("2.4 bar");
    expect(formatPressure(342.6, "kPa-absolute")).toBe("343 kPa absolute");
    expect(formatPressure(342.6, "kPa-gauge", 84.6)).toBe("258 kPa");
    expect(formatPressure(80, "psi-gauge")).toBe("−3 psi");
  });
});

describe("formatMoney(amount, currency, digits)", () => {
  it.each([
    [0, "USD", undefined, "$0"],
    [8.5, "USD", undefined, "$8.50"],
    [9, "USD", undefined, "$9"],
    [12.4, "USD", undefined, "$12"],
    [999.7, "USD", undefined, "$1,000"],
    [1234, "USD", undefined, "$1,230"],
    [1_234_567, "EUR", undefined, "€1,234,570"],
    [-45.2, "GBP", undefined, "−£45"],
    [-0.001, "USD", undefined, "$0"],
    [8.5, "JPY", undefined, "¥9"],
    [1234.5, "USD", 2, "$1,234.50"],
    [12, "CHF", 2, "CHF\u00a012.00"],
    [12, "SEK", undefined, "SEK\u00a012"],
  ])("%d %s, digits %s", (amount, currency, digits, text) => {
    expect(formatMoney(amount, currency, digits)).toBe(text);
  });
});

describe("formatMonths(months)", () => {
  it.each([
    [0.05, "a few days"],
    [0.25, "1 week"],
    [1.2, "5 weeks"],
    [7.3, "7 months"],
    [18, "18 months"],
    [24, "2 years"],
    [30, "2½ years"],
    [61, "5 years"],
    [66, "6 years"],
    [120_000, "more than 50 years"],
    [Number.POSITIVE_INFINITY, "more than 50 years"],
  ])("%d", (months, text) => {
    expect(formatMonths(months)).toBe(text);
  });
});

describe("formatDate(iso)", () => {
  it("is the same on every machine", () => {
    expect(formatDate("2027-08-14")).toBe("14 August 2027");
    expect(formatDate("2024-02-29")).toBe("29 February 2024");
    expect(() => formatDate("2027-02-29")).toThrow(RangeError);
  });
});

describe("what is no number is not shown", () => {
  it.each([Number.NaN, Number.NEGATIVE_INFINITY])("%d", (value) => {
    const shown = [
      () => formatMass(value, "us"),
      () => formatMass(value, "metric"),
      () => formatAboutMass(value, "us"),
      () => formatAboutMass(value, "metric"),
      () => formatTemperature(value, "us"),
      () => formatPressure(value, "psi-gauge"),
      () => formatMoney(value, "USD"),
      () => formatMonths(value),
    ];
    for (const show of shown) expect(show).toThrow(RangeError);
  });
});
