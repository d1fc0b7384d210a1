import { describe, expect, it } from "vitest";
import { celsiusFromFahrenheit, kpaFromPressure, pressureFromKpa } from "../../src/core/quantities/units.ts";
import { REFRIGERANTS, type RefrigerantId } from "../../src/core/question/contract.ts";
import {
  saturatedVaporDensity,
  saturationPressureKpa,
  saturationTemperatureC,
  vaporDensityKgM3,
} from "../../src/core/refrigerant/refrigerant.ts";
import { readTable } from "./read-table.ts";

/**
 * Against the reference equations of state (sources at the head of each CSV). The equations themselves stand for real
 * refrigerant to some hundredths to tenths of a percent, so 0.5 % would do for this product. Tolerances are just above
 * what is reached from −30 to +70 °C, and are the error of the compact fits: the printed digits add nothing.
 */
const TOLERANCE = {
  saturation_pressure: 0.000_11, // reached 0.0105 %
  vapor_density: 0.000_75, // reached 0.073 %
  // Reached 0.18, 0.10 and 0.32 %: the error of B(T) in the virial equation, since both ends of an isotherm are tied.
  superheated_density: { "R-134a": 0.0018, "R-1234yf": 0.001, "R-12": 0.0032 },
};

function relative(here: number, published: number): number {
  return Math.abs(here / published - 1);
}

function saturationRows(refrigerant: RefrigerantId) {
  type Column = "temperature_c" | "pressure_kpa_abs" | "vapor_density_kg_m3";
  return readTable<Column>(`saturation-${refrigerant}.csv`).filter(
    ({ temperature_c }) => +temperature_c >= -30 && +temperature_c <= 70,
  );
}

describe.each(REFRIGERANTS)("%s against its reference equation of state", (refrigerant) => {
  it("the table has 21 saturation states from −30 to +70 °C and 16 superheated ones", () => {
    expect(saturationRows(refrigerant)).toHaveLength(21);
    expect(readTable(`superheated-${refrigerant}.csv`)).toHaveLength(16);
  });

  it.each(saturationRows(refrigerant))("saturation at $temperature_c °C", (row) => {
    const t_c = +row.temperature_c;
    const p_kpa = +row.pressure_kpa_abs;
    expect(relative(saturationPressureKpa(refrigerant, t_c), p_kpa)).toBeLessThan(TOLERANCE.saturation_pressure);
    // A relative error of pressure is 30 times as many kelvin: ln p changes by 0.02 to 0.05 per kelvin.
    expect(Math.abs(saturationTemperatureC(refrigerant, p_kpa) - t_c)).toBeLessThan(0.005);
    expect(relative(saturatedVaporDensity(refrigerant, t_c), +row.vapor_density_kg_m3)).toBeLessThan(
      TOLERANCE.vapor_density,
    );
  });

  it.each(readTable<"temperature_c" | "pressure_kpa_abs" | "density_kg_m3">(`superheated-${refrigerant}.csv`))(
    "vapor at $temperature_c °C and $pressure_kpa_abs kPa",
    (row) => {
      const density = vaporDensityKgM3(refrigerant, +row.temperature_c, +row.pressure_kpa_abs);
      expect(relative(density, +row.density_kg_m3)).toBeLessThan(TOLERANCE.superheated_density[refrigerant]);
    },
  );
});

describe("single figures of other tables, from memory", () => {
  type Column = "refrigerant" | "quantity" | "temperature_c" | "value" | "tolerance";
  const rows = readTable<Column>("known-states.csv");
  const here: Record<string, (refrigerant: RefrigerantId, t_c: number) => number> = {
    pressure_kpa: saturationPressureKpa,
    boiling_point_c: (refrigerant) => saturationTemperatureC(refrigerant, 101.325),
  };

  it("has 7 rows", () => {
    expect(rows).toHaveLength(7);
  });

  it.each(rows)(
    "$refrigerant $quantity $temperature_c",
    ({ refrigerant, quantity, temperature_c, value, tolerance }) => {
      // The fit itself is up to 0.0036 % (R-134a, R-12) off.
      const allowed = +tolerance + Math.abs(+value) * 0.000_036;
      expect(Math.abs(here[quantity]!(refrigerant as RefrigerantId, +temperature_c) - +value)).toBeLessThan(allowed);
    },
  );
});

describe("R-134a static pressure by ambient temperature", () => {
  const rows = readTable<"temperature_f" | "manual_psig" | "library_psig">("gauge-pressures-R-134a.csv");

  it("has 9 rows", () => {
    expect(rows).toHaveLength(9);
  });

  it.each(rows)("$temperature_f °F", ({ temperature_f, manual_psig, library_psig }) => {
    const t_c = celsiusFromFahrenheit(+temperature_f);
    const psig = pressureFromKpa(saturationPressureKpa("R-134a", t_c), "psi-gauge");
    // 1.5 psi asked for; reached 0.6 against the manual (whole psi, and its own rounding), 0.05 against the library
    // row.
    expect(Math.abs(psig - +manual_psig)).toBeLessThan(0.7);
    expect(Math.abs(psig - +library_psig)).toBeLessThan(0.06);
    // Read back from the gauge: 1.5 psi is about 1 °F here.
    const p_kpa = kpaFromPressure(+manual_psig, "psi-gauge");
    expect(Math.abs(saturationTemperatureC("R-134a", p_kpa) - t_c)).toBeLessThan(0.3);
  });
});
