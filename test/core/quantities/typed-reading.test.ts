import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseAltitude, parsePressure, parseTemperature } from "../../../src/core/quantities/parse-reading.ts";
import { typedAltitude, typedPressure, typedTemperature } from "../../../src/core/quantities/typed-reading.ts";
import { PRESSURE_UNITS, UNIT_SYSTEMS } from "../../../src/core/quantities/units.ts";

const AIR = 101.325;

describe("a reading comes back as it was typed", () => {
  it.each([
    ["85 °F", "us"],
    ["-5 °F", "us"],
    ["29.5 °C", "us"],
    ["29.5 °C", "metric"],
  ] as const)("%s in %s", (text, system) => {
    const read = parseTemperature(text, system);
    expect(read.ok && typedTemperature(read.t_c, system)).toBe(text);
  });

  it.each([
    ["35 psi", "psi-gauge", AIR],
    ["17.5 psi", "psi-gauge", 84.6],
    ["2.4 bar", "bar-gauge", AIR],
    ["240 kPa gauge", "kPa-gauge", 84.6],
    ["340 kPa absolute", "kPa-absolute", AIR],
    ["-5 psi", "psi-gauge", AIR],
  ] as const)("%s on a gauge in %s, air %d kPa", (text, gauge, atmosphere_kpa) => {
    const read = parsePressure(text, gauge, atmosphere_kpa);
    expect(read.ok && typedPressure(read.p_kpa, gauge, atmosphere_kpa)).toBe(text);
  });

  it.each([
    ["5200 ft", "us"],
    ["1600 m", "metric"],
    ["1600 m", "us"],
  ] as const)("%s in %s", (text, system) => {
    const read = parseAltitude(text, system);
    expect(read.ok && typedAltitude(read.altitude_m, system)).toBe(text);
  });
});

describe("whatever is stored, the form reads the same back", () => {
  const number = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map((value) => value + 0 || 0);
  /** Numbers that a form can hold: no exponents. */
  const plain = (value: number) => Math.abs(value) >= 1e-6 || value === 0;
  const system = fc.constantFrom(...UNIT_SYSTEMS);

  it("temperatures", () => {
    fc.assert(
      fc.property(number(-30, 80).filter(plain), system, (t_c, units) => {
        expect(parseTemperature(typedTemperature(t_c, units), units)).toEqual({ ok: true, t_c });
      }),
    );
  });

  it("pressures", () => {
    fc.assert(
      fc.property(
        number(0, 6000).filter(plain),
        fc.constantFrom(...PRESSURE_UNITS),
        number(50, 110),
        (p_kpa, gauge, air) => {
          expect(parsePressure(typedPressure(p_kpa, gauge, air), gauge, air)).toEqual({ ok: true, p_kpa });
        },
      ),
    );
  });

  it("altitudes", () => {
    fc.assert(
      fc.property(number(-500, 5000).filter(plain), system, (altitude_m, units) => {
        expect(parseAltitude(typedAltitude(altitude_m, units), units)).toEqual({ ok: true, altitude_m });
      }),
    );
  });
});
