import { bandLines, systemVolume } from "../../../data/readings-table.ts";
import type { RefrigerantId } from "../contract.ts";
import { saturatedVaporDensity, saturationPressureKpa, vaporDensityKgM3 } from "../refrigerant.ts";
import type { StaticAnswer } from "./contract.ts";
import { saturationTemperatureOrNull } from "./saturation.ts";

const [, NO_LIQUID_BELOW, ABOVE_FROM] = bandLines.static.lines;

/**
 * What the pressure of a standing system says, `static_kpa` absolute at `ambient_c` °C. While any liquid is left it is
 * the saturation pressure, whatever the amount; well below that there is vapor alone, and its mass is vapor density
 * times system volume (a guess from `nameplate_g`); well above it there is other gas, or the system is warmer than the air.
 */
export function staticPressure(
  refrigerant: RefrigerantId,
  ambient_c: number,
  static_kpa: number,
  nameplate_g: number | null,
): StaticAnswer {
  const saturation_kpa = saturationPressureKpa(refrigerant, ambient_c);
  const ratio = static_kpa / saturation_kpa;
  const state = ratio < NO_LIQUID_BELOW ? "no-liquid" : ratio <= ABOVE_FROM ? "liquid" : "above";
  // kg/m³ is g/L, so grams are density × mL/g × nameplate / 1000.
  const density_g_l =
    state === "no-liquid"
      ? vaporDensityKgM3(refrigerant, ambient_c, static_kpa)
      : saturatedVaporDensity(refrigerant, ambient_c);
  const grams = (ml_per_g: number, charge_g: number) => (density_g_l * ml_per_g * charge_g) / 1000;
  return {
    state,
    saturation_kpa,
    ratio,
    grams:
      nameplate_g === null
        ? null
        : {
            likely: grams(systemVolume.ml_per_g, nameplate_g),
            from: grams(systemVolume.from_ml_per_g, nameplate_g),
            to: grams(systemVolume.to_ml_per_g, nameplate_g),
          },
    saturated_at_c: saturationTemperatureOrNull(refrigerant, static_kpa),
  };
}
