import type { PressureUnit, UnitSystem } from "../../src/core/quantities/units.ts";
import { REFRIGERANTS } from "../../src/core/question/contract.ts";
import type {
  Clutch,
  Compressor,
  Condenser,
  Fan,
  Metering,
  MoreAir,
  SightGlass,
} from "../../src/core/readings/readings-contract.ts";
import { type Choice, choicesOf } from "../parts/field.tsx";

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

export const READING_UNIT_CHOICES: readonly Choice[] = choicesOf({ us: "°F, oz", metric: "°C, g" });

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

export const GAUGE_CHOICES = choicesOf(GAUGE_NAMES);

const NOT_SEEN = "Not looked at";

export const CLUTCH_CHOICES = choicesOf<Clutch | "">({
  "": NOT_SEEN,
  steady: "Comes on and stays on",
  "cycles-slowly": "On and off, half a minute or longer",
  "cycles-fast": "On and off every few seconds",
  off: "Does not come on",
});

export const FAN_CHOICES = choicesOf<Fan | "">({ "": NOT_SEEN, runs: "Runs", stopped: "Does not run" });

export const CONDENSER_CHOICES = choicesOf<Condenser | "">({
  "": NOT_SEEN,
  clean: "Clean",
  dirty: "Dirty, blocked or bent",
});

export const MORE_AIR_CHOICES = choicesOf<MoreAir | "">({
  "": NOT_SEEN,
  drops: "Falls to normal",
  stays: "Stays where it was",
});

export const SIGHT_GLASS_CHOICES = choicesOf<SightGlass | "">({
  "": NOT_SEEN,
  clear: "Clear",
  bubbles: "Bubbles go by",
});

const NOT_KNOWN = "Not known";

export const METERING_CHOICES = choicesOf<Metering | "">({
  "": NOT_KNOWN,
  valve: "Expansion valve",
  "orifice-tube": "Orifice tube",
});

export const COMPRESSOR_CHOICES = choicesOf<Compressor | "">({
  "": NOT_KNOWN,
  fixed: "Fixed, with a clutch",
  variable: "Variable stroke",
  electric: "Electric, high voltage",
});
