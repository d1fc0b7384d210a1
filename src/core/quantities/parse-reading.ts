import { plainText, typedNumber, type Unreadable, unreadable } from "./typed-number.ts";
import {
  ATMOSPHERE_KPA,
  celsiusFromFahrenheit,
  KPA_PER_INHG,
  kpaFromPressure,
  METRES_PER_FOOT,
  type PressureUnit,
  type UnitSystem,
} from "./units.ts";

export type ParsedTemperature = { ok: true; t_c: number } | Unreadable;
export type ParsedPressure = { ok: true; p_kpa: number } | Unreadable;
export type ParsedAltitude = { ok: true; altitude_m: number } | Unreadable;

const TEMPERATURE_EXAMPLE = "Enter the temperature, like 85 °F or 29 °C";
const PRESSURE_EXAMPLE = "Enter the pressure, like 35 psi or 240 kPa";
const ALTITUDE_EXAMPLE = "Enter the altitude, like 5200 ft or 1600 m";
const ABSOLUTE_ZERO_C = -273.15;
/** Far above what a gauge set shows; keeps a slip of the finger out of the formulas. */
const HIGHEST_C = 1000;
const HIGHEST_KPA = 100_000;

/** A sign, figures, and whatever names the unit. */
const READING = /^([+-]?) ?([\d.,]+) ?(.*)$/;

function splitReading(text: string): { value: number; unit: string } | null {
  const found = READING.exec(plainText(text) ?? "");
  if (found === null) return null;
  const value = typedNumber(found[2]!);
  if (typeof value !== "number") return null;
  return { value: found[1] === "-" ? -value : value, unit: found[3]! };
}

/**
 * A temperature as a person types it, in °C: `85 F`, `85°F`, `29 °C`, `-5`, `29,5 C`; a bare number is °F in `us` and
 * °C in `metric`. Never throws on text.
 */
export function parseTemperature(text: string, system: UnitSystem): ParsedTemperature {
  const reading = splitReading(text);
  if (reading === null) return unreadable(TEMPERATURE_EXAMPLE);
  const named = /^(?:°|º|deg\.?|degrees?)? ?(c|celsius|f|fahrenheit)?$/.exec(reading.unit);
  if (named === null) return unreadable(TEMPERATURE_EXAMPLE);
  const fahrenheit = named[1] === undefined ? system === "us" : named[1].startsWith("f");
  const t_c = fahrenheit ? celsiusFromFahrenheit(reading.value) : reading.value;
  return t_c >= ABSOLUTE_ZERO_C && t_c <= HIGHEST_C ? { ok: true, t_c } : unreadable(TEMPERATURE_EXAMPLE);
}

/**
 * A pressure as a person reads it from a gauge, in kPa absolute: `35 psi`, `35 psig`, `50 psia`, `240 kPa`,
 * `340 kPa absolute`, `2.4 bar`, `0.24 MPa`, `2.5 kgf/cm²` (`kg/cm2` too), and a vacuum as `10 inHg` (below the air
 * around the gauge, with or without a sign). A bare number is in `unit`, and a named unit without "absolute" or "gauge"
 * is over the air, except kPa where `unit` is `kPa-absolute`. `atmosphere_kpa` is the air pressure at the gauge. Never
 * throws on text.
 */
export function parsePressure(
  text: string,
  unit: PressureUnit,
  atmosphere_kpa: number = ATMOSPHERE_KPA,
): ParsedPressure {
  const reading = splitReading(text);
  if (reading === null) return unreadable(PRESSURE_EXAMPLE);
  if (/^in\.? ?hg(?: ?(?:vac\.?|vacuum))?$/.test(reading.unit)) {
    return checked(atmosphere_kpa - Math.abs(reading.value) * KPA_PER_INHG);
  }
  const named = /^(?:(psi|kpa|mpa|bar|kgf?\/cm(?:2|²)) ?(a|abs\.?|absolute|g|gauge|gage)?)?$/.exec(reading.unit);
  if (named === null) return unreadable(PRESSURE_EXAMPLE);
  const [, name, over] = named;
  const absolute = over?.startsWith("a") ?? false;
  const read_in = name === undefined ? unit : unitNamed(name, over === undefined ? unit : null);
  return checked(kpaFromPressure(reading.value, read_in, absolute ? 0 : atmosphere_kpa));
}

function checked(p_kpa: number): ParsedPressure {
  if (p_kpa < 0) return unreadable("No gauge reads below a full vacuum. Enter the pressure, like 35 psi or 240 kPa");
  return p_kpa <= HIGHEST_KPA ? { ok: true, p_kpa } : unreadable(PRESSURE_EXAMPLE);
}

function unitNamed(name: string, preferred: PressureUnit | null): PressureUnit {
  if (name === "psi") return "psi-gauge";
  if (name === "bar") return "bar-gauge";
  if (name === "mpa") return "MPa-gauge";
  if (name.startsWith("kg")) return "kgf-gauge";
  return preferred === "kPa-absolute" ? "kPa-absolute" : "kPa-gauge";
}

/** An altitude as a person types it, in m: `5200 ft`, `1600 m`; a bare number is feet in `us`. Never throws on text. */
export function parseAltitude(text: string, system: UnitSystem): ParsedAltitude {
  const reading = splitReading(text);
  if (reading === null) return unreadable(ALTITUDE_EXAMPLE);
  const named = /^(?:(ft|feet|foot|')|(m|met(?:er|re)s?))?$/.exec(reading.unit);
  if (named === null) return unreadable(ALTITUDE_EXAMPLE);
  const in_feet = named[1] !== undefined || (named[2] === undefined && system === "us");
  return { ok: true, altitude_m: in_feet ? reading.value * METRES_PER_FOOT : reading.value };
}
