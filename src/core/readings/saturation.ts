import { FIT_RANGE_C } from "../../../data/refrigerants.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa, saturationTemperatureC } from "../refrigerant/refrigerant.ts";

/** Saturation temperature of `p_kpa` absolute, °C; for a pressure beyond the curve, its end at −40 or 90 °C. */
export function heldSaturationTemperatureC(refrigerant: RefrigerantId, p_kpa: number): number {
  if (p_kpa <= saturationPressureKpa(refrigerant, FIT_RANGE_C.low)) return FIT_RANGE_C.low;
  if (p_kpa >= saturationPressureKpa(refrigerant, FIT_RANGE_C.high)) return FIT_RANGE_C.high;
  return saturationTemperatureC(refrigerant, p_kpa);
}

/** Saturation temperature of `p_kpa` absolute, °C; null for a pressure beyond the curve. */
export function saturationTemperatureOrNull(refrigerant: RefrigerantId, p_kpa: number): number | null {
  const t_c = heldSaturationTemperatureC(refrigerant, p_kpa);
  return t_c === FIT_RANGE_C.low || t_c === FIT_RANGE_C.high ? null : t_c;
}
