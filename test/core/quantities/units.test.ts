import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  celsiusFromFahrenheit,
  fahrenheitFromCelsius,
  GRAMS_PER_OUNCE,
  kpaFromPressure,
  ouncesFromGrams,
  PRESSURE_UNITS,
  pressureFromKpa,
} from "../../../src/core/quantities/units.ts";

describe("factors of NIST SP 811 (2008), appendix B.8", () => {
  it("an ounce is 28.349 52 g, a pound per square inch 6.894 757 kPa, a bar 100 kPa", () => {
    expect(GRAMS_PER_OUNCE).toBe(28.349523125);
    expect(kpaFromPressure(1, "psi-gauge", 0)).toBeCloseTo(6.894757, 6);
    expect(kpaFromPressure(1, "bar-gauge", 0)).toBe(100);
    expect(celsiusFromFahrenheit(212)).toBe(100);
    expect(fahrenheitFromCelsius(-40)).toBe(-40);
  });

  it("a gauge shows 0 in air, and more where the air is thin", () => {
    expect(pressureFromKpa(101.325, "psi-gauge")).toBe(0);
    expect(pressureFromKpa(101.325, "kPa-absolute")).toBe(101.325);
    expect(pressureFromKpa(400, "kPa-gauge", 84.6)).toBeCloseTo(315.4, 10);
  });
});

describe("there and back", () => {
  const quantity = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  const close = (a: number, b: number) => Math.abs(a - b) <= 1e-12 * Math.max(1000, Math.abs(b));

  it("grams, ounces, grams", () => {
    fc.assert(fc.property(quantity, (grams) => close(ouncesFromGrams(grams) * GRAMS_PER_OUNCE, grams)));
  });

  it("°C, °F, °C", () => {
    fc.assert(fc.property(quantity, (t_c) => close(celsiusFromFahrenheit(fahrenheitFromCelsius(t_c)), t_c)));
  });

  it("kPa, any gauge, kPa, in any air", () => {
    fc.assert(
      fc.property(
        quantity,
        fc.constantFrom(...PRESSURE_UNITS),
        fc.double({ min: 50, max: 110, noNaN: true }),
        (p_kpa, unit, atmosphere_kpa) =>
          close(kpaFromPressure(pressureFromKpa(p_kpa, unit, atmosphere_kpa), unit, atmosphere_kpa), p_kpa),
      ),
    );
  });
});
