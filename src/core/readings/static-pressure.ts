import { bandLines, systemVolume } from "../../../data/readings-table.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturatedVaporDensity, saturationPressureKpa, vaporDensityKgM3 } from "../refrigerant/refrigerant.ts";
import type { Readings, StaticAnswer } from "./readings-contract.ts";
import { saturationTemperatureOrNull } from "./saturation.ts";

const [, NO_LIQUID_BELOW, ABOVE_FROM] = bandLines.static.lines;

/**
 * What the pressure of a standing system says, `static_kpa` absolute at `ambient_c` °C. While any liquid is left it is
 * the saturation pressure, whatever the amount; well below that there is vapor alone, and its mass is vapor density
 * times system volume (given, or a guess from the nameplate charge); well above it there is other gas, or the system is
 * warmer than the air.
 */
export function staticPressure(
  refrigerant: RefrigerantId,
  ambient_c: number,
  static_kpa: number,
  size: Pick<Readings, "nameplate_g" | "system_volume_ml">,
): StaticAnswer {
  const saturation_kpa = saturationPressureKpa(refrigerant, ambient_c);
  const ratio = static_kpa / saturation_kpa;
  const state = ratio < NO_LIQUID_BELOW ? "no-liquid" : ratio <= ABOVE_FROM ? "liquid" : "above";
  // kg/m³ is g/L.
  const density_g_l =
    state === "no-liquid"
      ? vaporDensityKgM3(refrigerant, ambient_c, static_kpa)
      : saturatedVaporDensity(refrigerant, ambient_c);
  const volume_ml = volumeMl(size);
  const grams = (ml: number) => (density_g_l * ml) / 1000;
  return {
    state,
    saturation_kpa,
    ratio,
    grams:
      volume_ml === null
        ? null
        : { likely: grams(volume_ml.likely), from: grams(volume_ml.from), to: grams(volume_ml.to) },
    saturated_at_c: saturationTemperatureOrNull(refrigerant, static_kpa),
  };
}

function volumeMl({ nameplate_g, system_volume_ml }: Parameters<typeof staticPressure>[3]) {
  if (isUsable(system_volume_ml)) return { likely: system_volume_ml, from: system_volume_ml, to: system_volume_ml };
  if (!isUsable(nameplate_g)) return null;
  const { ml_per_g, from_ml_per_g, to_ml_per_g } = systemVolume;
  return { likely: ml_per_g * nameplate_g, from: from_ml_per_g * nameplate_g, to: to_ml_per_g * nameplate_g };
}

function isUsable(value: number | null | undefined): value is number {
  return value !== null && value !== undefined && value >= 0 && value <= Number.MAX_VALUE;
}
