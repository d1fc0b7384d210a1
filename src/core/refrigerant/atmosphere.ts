import { ATMOSPHERE_KPA } from "../quantities/units.ts";

/** Standard temperature at sea level, K, and how fast it falls with height, K/m. */
const SEA_LEVEL_K = 288.15;
const LAPSE_K_PER_M = 0.0065;
/** g₀·M / (R*·L), with the constants of the standard. */
const EXPONENT = (9.80665 * 0.0289644) / (8.31432 * LAPSE_K_PER_M);

/**
 * Air pressure, kPa, at `altitude_m` metres above the sea (−500 to 5000) on a standard day: what a gauge there takes
 * for zero. US Standard Atmosphere 1976, equation 33a. Weather moves it by ±3 %, which is under half a psi.
 */
export function atmosphereKpa(altitude_m: number): number {
  return ATMOSPHERE_KPA * (1 - (LAPSE_K_PER_M * altitude_m) / SEA_LEVEL_K) ** EXPONENT;
}
