import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatPressure, formatTemperature } from "../../../src/core/quantities/format.ts";
import { parseAltitude, parsePressure, parseTemperature } from "../../../src/core/quantities/parse-reading.ts";
import { PRESSURE_UNITS, UNIT_SYSTEMS } from "../../../src/core/quantities/units.ts";

const AIR = 101.325;
const PSI = 6.894757293; // kPa, NIST SP 811 (2008)

describe("parseTemperature(text, system) is in °C", () => {
  it.each([
    ["77", "us", 25],
    ["25", "metric", 25],
    ["77 F", "metric", 25],
    ["77°F", "metric", 25],
    ["77 degrees fahrenheit", "metric", 25],
    ["25 °C", "us", 25],
    ["25,5 c", "us", 25.5],
    ["-40", "us", -40],
    ["−40 °C", "us", -40],
  ] as const)("%j in %s", (text, system, t_c) => {
    expect(parseTemperature(text, system)).toEqual({ ok: true, t_c: expect.closeTo(t_c, 9) });
  });

  it.each(["", "hot", "25 K", "1,000", "-300 °C", "1e9", "25 °C 3"])("refuses %j", (text) => {
    expect(parseTemperature(text, "us")).toEqual({
      ok: false,
      message: "Enter the temperature, like 85 °F or 29 °C",
    });
  });
});

// The international foot is 0.3048 m (NIST SP 811, 2008).
describe("parseAltitude(text, system) is in m", () => {
  it.each([
    ["5280", "us", 1609.344],
    ["5280 ft", "metric", 1609.344],
    ["5280 feet", "metric", 1609.344],
    ["1600", "metric", 1600],
    ["1600 m", "us", 1600],
    ["1600 meters", "us", 1600],
    ["-100 m", "us", -100],
  ] as const)("%j in %s", (text, system, altitude_m) => {
    expect(parseAltitude(text, system)).toEqual({ ok: true, altitude_m: expect.closeTo(altitude_m, 9) });
  });

  it.each(["", "high", "5,280", "1 mile", "-", "1e3"])("refuses %j", (text) => {
    expect(parseAltitude(text, "us")).toEqual({ ok: false, message: "Enter the altitude, like 5200 ft or 1600 m" });
  });
});

describe("parsePressure(text, unit) is in kPa absolute", () => {
  it.each([
    ["35", "psi-gauge", AIR + 35 * PSI],
    ["35 psi", "bar-gauge", AIR + 35 * PSI],
    ["35 psig", "bar-gauge", AIR + 35 * PSI],
    ["50 psia", "psi-gauge", 50 * PSI],
    ["240", "kPa-gauge", AIR + 240],
    ["240 kPa", "psi-gauge", AIR + 240],
    ["240 kPa", "kPa-absolute", 240],
    ["240 kPa gauge", "kPa-absolute", AIR + 240],
    ["340 kPa abs", "psi-gauge", 340],
    ["2.4 bar", "psi-gauge", AIR + 240],
    ["2,4 bar", "psi-gauge", AIR + 240],
    ["3.4 bar absolute", "psi-gauge", 340],
    ["-5 psi", "psi-gauge", AIR - 5 * PSI],
    // NIST SP 811, appendix B.8: 1 kgf/cm² = 98.0665 kPa, 1 inHg = 3.386389 kPa.
    ["0.24 MPa", "psi-gauge", AIR + 240],
    ["2.5 kgf/cm²", "psi-gauge", AIR + 2.5 * 98.0665],
    ["2,5 kg/cm2", "bar-gauge", AIR + 2.5 * 98.0665],
    ["1.5", "MPa-gauge", AIR + 1500],
    ["2", "kgf-gauge", AIR + 196.133],
    ["10 inHg", "psi-gauge", AIR - 33.86389],
    ["-10 in Hg", "bar-gauge", AIR - 33.86389],
    ["28 inHg vacuum", "psi-gauge", AIR - 28 * 3.386389],
  ] as const)("%j where %s is usual", (text, unit, p_kpa) => {
    expect(parsePressure(text, unit)).toEqual({ ok: true, p_kpa: expect.closeTo(p_kpa, 6) });
  });

  it("counts the air at the gauge", () => {
    expect(parsePressure("100 kPa", "kPa-gauge", 84.6)).toEqual({ ok: true, p_kpa: 184.6 });
  });

  it.each([
    ["", "Enter the pressure, like 35 psi or 240 kPa"],
    ["35 mmHg", "Enter the pressure, like 35 psi or 240 kPa"],
    ["1,000 kPa", "Enter the pressure, like 35 psi or 240 kPa"],
    ["31 inHg", "No gauge reads below a full vacuum. Enter the pressure, like 35 psi or 240 kPa"],
    ["-20 psi", "No gauge reads below a full vacuum. Enter the pressure, like 35 psi or 240 kPa"],
  ])("refuses %j", (text, message) => {
    expect(parsePressure(text, "psi-gauge")).toEqual({ ok: false, message });
  });
});

describe("any text", () => {
  it("never throws, and never gives a number that is none", () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ unit: "binary" }), fc.stringMatching(/^-?[\d.,]{0,6} ?(psi|kpa|bar|°?[cf])?[ag]?$/)),
        (text) => {
          const temperature = parseTemperature(text, "metric");
          if (temperature.ok) expect(Number.isFinite(temperature.t_c)).toBe(true);
          const pressure = parsePressure(text, "psi-gauge");
          if (pressure.ok) expect(pressure.p_kpa >= 0 && Number.isFinite(pressure.p_kpa)).toBe(true);
        },
      ),
      { numRuns: 1000 },
    );
  });
});

describe("what is shown can be typed back", () => {
  it("a temperature within half a degree of the scale", () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 90, noNaN: true }), fc.constantFrom(...UNIT_SYSTEMS), (t_c, system) => {
        const parsed = parseTemperature(formatTemperature(t_c, system), system);
        expect(parsed.ok && Math.abs(parsed.t_c - t_c) <= 0.501).toBe(true);
      }),
    );
  });

  it("a pressure within half the last digit", () => {
    const half_kpa = {
      "kPa-absolute": 0.501,
      "kPa-gauge": 0.501,
      "psi-gauge": 0.501 * PSI,
      "bar-gauge": 5.01,
      "MPa-gauge": 5.01,
      "kgf-gauge": 0.0501 * 98.0665,
    };
    fc.assert(
      fc.property(fc.double({ min: 10, max: 3000, noNaN: true }), fc.constantFrom(...PRESSURE_UNITS), (p_kpa, unit) => {
        const parsed = parsePressure(formatPressure(p_kpa, unit), unit);
        expect(parsed.ok && Math.abs(parsed.p_kpa - p_kpa) <= half_kpa[unit]).toBe(true);
      }),
    );
  });
});
