import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { REFRIGERANTS } from "../../../src/core/question/contract.ts";
import {
  saturatedVaporDensity,
  saturationPressureKpa,
  saturationTemperatureC,
  vaporDensityKgM3,
} from "../../../src/core/refrigerant/refrigerant.ts";

const refrigerant = fc.constantFrom(...REFRIGERANTS);
const temperature = fc.double({ min: -40, max: 90, noNaN: true });
const share = fc.double({ min: 0, max: 1, noNaN: true });

describe("laws of the refrigerant properties", () => {
  it("saturationTemperatureC inverts saturationPressureKpa", () => {
    fc.assert(
      fc.property(refrigerant, temperature, (gas, t_c) => {
        expect(Math.abs(saturationTemperatureC(gas, saturationPressureKpa(gas, t_c)) - t_c)).toBeLessThan(1e-9);
      }),
    );
  });

  it("pressure and vapor density rise with temperature", () => {
    fc.assert(
      fc.property(refrigerant, fc.double({ min: -40, max: 89.9, noNaN: true }), (gas, t_c) => {
        const warmer = t_c + 0.1;
        expect(saturationPressureKpa(gas, warmer)).toBeGreaterThan(saturationPressureKpa(gas, t_c));
        expect(saturatedVaporDensity(gas, warmer)).toBeGreaterThan(saturatedVaporDensity(gas, t_c));
      }),
    );
  });

  it("vaporDensityKgM3 rises from 0 to the saturated vapor density", () => {
    fc.assert(
      fc.property(refrigerant, temperature, share, (gas, t_c, part) => {
        const p_sat = saturationPressureKpa(gas, t_c);
        const rho_sat = saturatedVaporDensity(gas, t_c);
        const rho = vaporDensityKgM3(gas, t_c, part * p_sat);
        expect(rho).toBeGreaterThanOrEqual(0);
        expect(rho).toBeLessThanOrEqual(rho_sat);
        expect(rho).toBeLessThanOrEqual(vaporDensityKgM3(gas, t_c, Math.min(p_sat, part * p_sat + 1)));
        expect(vaporDensityKgM3(gas, t_c, p_sat) / rho_sat).toBeCloseTo(1, 12);
      }),
    );
  });

  it("thin vapor is an ideal gas: p·M/(ρ·R·T) goes to 1", () => {
    const p_kpa = 0.01;
    const ideal = (p_kpa * 102.032) / (8.314462618 * 293.15); // molar mass of R-134a; CODATA gas constant
    expect(vaporDensityKgM3("R-134a", 20, p_kpa) / ideal).toBeCloseTo(1, 4);
  });
});

describe("outside what the fits cover", () => {
  it.each([-40.01, 90.01, Number.NaN, Number.POSITIVE_INFINITY])("%d °C is refused", (t_c) => {
    for (const property of [saturationPressureKpa, saturatedVaporDensity]) {
      expect(() => property("R-134a", t_c)).toThrow(RangeError);
    }
    expect(() => vaporDensityKgM3("R-134a", t_c, 100)).toThrow(RangeError);
  });

  it.each([0, 51, 3300, -1, Number.NaN])("R-134a does not boil at %d kPa there", (p_kpa) => {
    expect(() => saturationTemperatureC("R-134a", p_kpa)).toThrow(RangeError);
  });

  it("there is no vapor above its saturation pressure", () => {
    expect(() => vaporDensityKgM3("R-134a", 20, 573)).toThrow(RangeError);
    expect(() => vaporDensityKgM3("R-134a", 20, -1)).toThrow(RangeError);
  });
});
