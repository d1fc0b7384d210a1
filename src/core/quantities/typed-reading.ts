import { parseAltitude, parsePressure, parseTemperature } from "./parse-reading.ts";
import { shortestText } from "./shortest-text.ts";
import {
  fahrenheitFromCelsius,
  METRES_PER_FOOT,
  type PressureUnit,
  pressureFromKpa,
  type UnitSystem,
} from "./units.ts";

/*
 * Readings as a person would type them, in their own units where that is exact: the parser reads the same quantity
 * back, so that a form which is sent back untouched changes nothing.
 */

/** `85 °F`, `29.5 °C`. */
export function typedTemperature(t_c: number, system: UnitSystem): string {
  const is_same = (text: string) => {
    const read = parseTemperature(text, system);
    return read.ok && read.t_c === t_c;
  };
  const fahrenheit = system === "us" ? shortestText(fahrenheitFromCelsius(t_c), "°F", is_same) : null;
  return fahrenheit ?? shortestText(t_c, "°C", is_same) ?? `${digits(t_c)} °C`;
}

/** A pressure unit as it is typed behind a number. */
export const TYPED_PRESSURE_UNIT: Readonly<Record<PressureUnit, string>> = {
  "psi-gauge": "psi",
  "bar-gauge": "bar",
  "kPa-gauge": "kPa gauge",
  "MPa-gauge": "MPa",
  "kgf-gauge": "kgf/cm²",
  "kPa-absolute": "kPa absolute",
};

/** `35 psi`, `2.4 bar`, given in kPa absolute, as a gauge in air of `atmosphere_kpa` shows it. */
export function typedPressure(p_kpa: number, gauge: PressureUnit, atmosphere_kpa: number): string {
  const is_same = (text: string) => {
    const read = parsePressure(text, gauge, atmosphere_kpa);
    return read.ok && read.p_kpa === p_kpa;
  };
  const shown = shortestText(pressureFromKpa(p_kpa, gauge, atmosphere_kpa), TYPED_PRESSURE_UNIT[gauge], is_same);
  return shown ?? `${digits(p_kpa)} kPa absolute`;
}

/** `5200 ft`, `1600 m`. */
export function typedAltitude(altitude_m: number, system: UnitSystem): string {
  const is_same = (text: string) => {
    const read = parseAltitude(text, system);
    return read.ok && read.altitude_m === altitude_m;
  };
  const feet = system === "us" ? shortestText(altitude_m / METRES_PER_FOOT, "ft", is_same) : null;
  return feet ?? shortestText(altitude_m, "m", is_same) ?? `${digits(altitude_m)} m`;
}

/** All digits there are, without the exponent that no form takes. */
function digits(quantity: number): string {
  const text = String(quantity);
  return text.includes("e") ? quantity.toFixed(12) : text;
}
