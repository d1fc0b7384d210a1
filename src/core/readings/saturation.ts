import { FIT_RANGE_C } from "../../../data/refrigerants.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa, saturationTemperatureC } from "../refrigerant/refrigerant.ts";

/**
 * Saturation temperature, °C, held at the ends of the saturation curve (−40 and 90 °C) where a gauge reads beyond them.
 */
export function heldSaturationTemperatureC(refrigerant: RefrigerantId, p_kpa: number): number {
  if (p_kpa <= saturationPressureKpa(refrigerant, FIT_RANGE_C.low)) return FIT_RANGE_C.low;
  if (p_kpa >= saturationPressureKpa(refrigerant, FIT_RANGE_C.high)) return FIT_RANGE_C.high;
  return saturationTemperatureC(refrigerant, p_kpa);
}

/** Saturation temperature, °C, or null where the curve does not reach. */
export function saturationTemperatureOrNull(refrigerant: RefrigerantId, p_kpa: number): number | null {
  const t_c = heldSaturationTemperatureC(refrigerant, p_kpa);
  return t_c === FIT_RANGE_C.low || t_c === FIT_RANGE_C.high ? null : t_c;
}
