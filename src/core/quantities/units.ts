/**
 * Units at the edge: inside, masses are grams, temperatures °C, pressures kPa absolute. The factors are exact by
 * definition (international pound and inch, standard gravity, standard atmosphere; NIST SP 811, 2008, appendix B).
 */

/** Which units a person thinks in: `us` is pounds, ounces, °F; `metric` is grams, kilograms, °C. */
export const UNIT_SYSTEMS = ["us", "metric"] as const;
export type UnitSystem = (typeof UNIT_SYSTEMS)[number];

const GRAMS_PER_POUND = 453.59237;
export const OUNCES_PER_POUND = 16;
export const GRAMS_PER_OUNCE = GRAMS_PER_POUND / OUNCES_PER_POUND;
export const GRAMS_PER_UNIT = { g: 1, kg: 1000, oz: GRAMS_PER_OUNCE, lb: GRAMS_PER_POUND } as const;

/** The international foot. */
export const METRES_PER_FOOT = 0.3048;

/** Standard atmosphere, kPa. At 1500 m the air presses with about 84.6 kPa, so gauges read higher there. */
export const ATMOSPHERE_KPA = 101.325;

const KPA_PER_BAR = 100;
/** One pound-force (0.45359237 kg × 9.80665 m/s²) on a square inch (0.0254 m), in kPa. */
const KPA_PER_PSI = (0.45359237 * 9.80665) / (0.0254 * 0.0254 * 1000);

/** Avoirdupois ounces. */
export function ouncesFromGrams(grams: number): number {
  return grams / GRAMS_PER_OUNCE;
}

/** A temperature, not a difference. */
export function fahrenheitFromCelsius(t_c: number): number {
  return t_c * 1.8 + 32;
}

/** A temperature, not a difference. */
export function celsiusFromFahrenheit(t_f: number): number {
  return (t_f - 32) / 1.8;
}

/** How a pressure is read: over a vacuum (`kPa-absolute`), or over the air around the gauge. */
export const PRESSURE_UNITS = [
  "kPa-absolute",
  "kPa-gauge",
  "psi-gauge",
  "bar-gauge",
  "MPa-gauge",
  "kgf-gauge",
] as const;
export type PressureUnit = (typeof PRESSURE_UNITS)[number];
/** Those that a workspace can be set to. */
export const WORKSPACE_PRESSURE_UNITS = ["kPa-absolute", "kPa-gauge", "psi-gauge", "bar-gauge"] as const;

/** Kilogram-force on a square centimetre, in kPa: standard gravity, exact. */
const KPA_PER_KGF_CM2 = 98.0665;
/** Conventional inch of mercury (0 °C), in kPa: NIST SP 811, 2008, appendix B.8. */
export const KPA_PER_INHG = 3.386389;

const KPA_PER_UNIT: Readonly<Record<PressureUnit, number>> = {
  "kPa-absolute": 1,
  "kPa-gauge": 1,
  "psi-gauge": KPA_PER_PSI,
  "bar-gauge": KPA_PER_BAR,
  "MPa-gauge": 1000,
  "kgf-gauge": KPA_PER_KGF_CM2,
};

/** The air pressure that a reading in `unit` leaves out, kPa. */
function airKpa(unit: PressureUnit, atmosphere_kpa: number): number {
  return unit === "kPa-absolute" ? 0 : atmosphere_kpa;
}

/** A reading as kPa absolute. `atmosphere_kpa` is the air pressure where it was read. */
export function kpaFromPressure(reading: number, unit: PressureUnit, atmosphere_kpa: number = ATMOSPHERE_KPA): number {
  return reading * KPA_PER_UNIT[unit] + airKpa(unit, atmosphere_kpa);
}

/** kPa absolute as a gauge in `unit` shows it. `atmosphere_kpa` is the air pressure where it is read. */
export function pressureFromKpa(p_kpa: number, unit: PressureUnit, atmosphere_kpa: number = ATMOSPHERE_KPA): number {
  return (p_kpa - airKpa(unit, atmosphere_kpa)) / KPA_PER_UNIT[unit];
}
