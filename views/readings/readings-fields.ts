import type { PressureUnit, UnitSystem } from "../../src/core/quantities/units.ts";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import type { Choice } from "../parts/field.tsx";

/** The readings as they were typed; every text comes back as it was. */
export interface ReadingsFields {
  units: UnitSystem;
  gauge: PressureUnit;
  refrigerant: string;
  ambient: string;
  humidity: string;
  altitude: string;
  nameplate: string;
  static: string;
  low: string;
  high: string;
  rpm: string;
  vent: string;
  clutch: string;
  fan: string;
  condenser: string;
  more_air: string;
  suction_line: string;
  liquid_line: string;
  equalizing: string;
  sight_glass: string;
  metering: string;
  compressor: string;
}

export const REFRIGERANT_CHOICES: readonly Choice[] = REFRIGERANTS.map((id) => ({ value: id, label: id }));

export const READING_UNIT_CHOICES: readonly Choice[] = [
  { value: "us", label: "°F, oz" },
  { value: "metric", label: "°C, g" },
];

export const GAUGE_CHOICES: readonly Choice[] = [
  { value: "psi-gauge", label: "psi" },
  { value: "bar-gauge", label: "bar" },
  { value: "kPa-gauge", label: "kPa" },
  { value: "MPa-gauge", label: "MPa" },
  { value: "kgf-gauge", label: "kgf/cm²" },
  { value: "kPa-absolute", label: "kPa absolute" },
];

/** The gauges that go with these units. */
export function usualGauge(units: UnitSystem): PressureUnit {
  return units === "us" ? "psi-gauge" : "bar-gauge";
}

export const GAUGE_NAMES: Readonly<Record<PressureUnit, string>> = {
  "psi-gauge": "psi",
  "bar-gauge": "bar",
  "kPa-gauge": "kPa",
  "MPa-gauge": "MPa",
  "kgf-gauge": "kgf/cm²",
  "kPa-absolute": "kPa absolute",
};

const NOT_SEEN: Choice = { value: "", label: "Not looked at" };

export const CLUTCH_CHOICES: readonly Choice[] = [
  NOT_SEEN,
  { value: "steady", label: "Comes on and stays on" },
  { value: "cycles-slowly", label: "On and off, half a minute or longer" },
  { value: "cycles-fast", label: "On and off every few seconds" },
  { value: "off", label: "Does not come on" },
];

export const FAN_CHOICES: readonly Choice[] = [
  NOT_SEEN,
  { value: "runs", label: "Runs" },
  { value: "stopped", label: "Does not run" },
];

export const CONDENSER_CHOICES: readonly Choice[] = [
  NOT_SEEN,
  { value: "clean", label: "Clean" },
  { value: "dirty", label: "Dirty, blocked or bent" },
];

export const MORE_AIR_CHOICES: readonly Choice[] = [
  NOT_SEEN,
  { value: "drops", label: "Falls to normal" },
  { value: "stays", label: "Stays where it was" },
];

export const SIGHT_GLASS_CHOICES: readonly Choice[] = [
  NOT_SEEN,
  { value: "clear", label: "Clear" },
  { value: "bubbles", label: "Bubbles go by" },
];

const NOT_KNOWN: Choice = { value: "", label: "Not known" };

export const METERING_CHOICES: readonly Choice[] = [
  NOT_KNOWN,
  { value: "valve", label: "Expansion valve" },
  { value: "orifice-tube", label: "Orifice tube" },
];

export const COMPRESSOR_CHOICES: readonly Choice[] = [
  NOT_KNOWN,
  { value: "fixed", label: "Fixed, with a clutch" },
  { value: "variable", label: "Variable stroke" },
  { value: "electric", label: "Electric, high voltage" },
];
