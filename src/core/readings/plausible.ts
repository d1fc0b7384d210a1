import { bandLines, coldDay, expectedRegion, readingBounds } from "../../../data/readings-table.ts";
import { REFRIGERANT_DATA } from "../../../data/refrigerants.ts";
import { atmosphereKpa } from "../refrigerant/atmosphere.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";
import type { Usable } from "./features.ts";
import type { Readings, ReadingsProblem } from "./readings-contract.ts";
import { saturationTemperatureOrNull } from "./saturation.ts";

/** kPa by which gauge and reader may err before two pressures contradict each other. */
const GAUGE_SLACK_KPA = 15;
/** Slowest idle of an engine that runs, rpm. */
const RUNS_FROM_RPM = 300;
/** A running low side cannot exceed the static pressure of a soaked system by more than this factor. */
const LOW_OVER_STATIC = 1.25;
/** With the clutch off both sides equalize, so a larger ratio of high to low side means that something pumps. */
const PUMPING_RATIO = 2;
/** K by which thermometers may err before two temperatures contradict each other. */
const THERMOMETER_SLACK_K = 3;

/** What a check sees: the readings usable so far, and what goes with them. */
type Seen = Usable & {
  /** All readings as given. */
  given: Readings;
  /** Ambient temperature, °C. */
  ambient_c: number;
  /** Saturation temperature of the low side, °C; null without one. */
  evaporating_c: number | null;
  /** Saturation temperature of the high side, °C; null without one. */
  condensing_c: number | null;
};

/** One check of readings against each other. */
interface Check {
  /** The contradiction, if there is one. */
  finds: (seen: Seen) => ReadingsProblem | null;
  /** Readings that the contradiction makes unusable. */
  drops?: readonly (keyof Usable)[];
}

/**
 * The checks in the order in which they are made. Of two readings that contradict each other both are dropped, since
 * either may be wrong. A contradiction of the static pressure is only reported: if it were dropped, beliefs would jump
 * as a static pressure rises.
 */
const CHECKS: readonly Check[] = [
  {
    finds: ({ given: { engine_rpm }, low_kpa, high_kpa }) =>
      engine_rpm != null && engine_rpm < RUNS_FROM_RPM && (low_kpa !== null || high_kpa !== null)
        ? { code: "engine-off", values: { engine_rpm } }
        : null,
    drops: ["low_kpa", "high_kpa"],
  },
  {
    finds: ({ low_kpa, high_kpa }) =>
      low_kpa !== null && high_kpa !== null && low_kpa > high_kpa + GAUGE_SLACK_KPA
        ? { code: "low-above-high", values: { low_kpa, high_kpa } }
        : null,
    drops: ["low_kpa", "high_kpa"],
  },
  {
    finds: ({ static_kpa, given }) =>
      static_kpa !== null && static_kpa < airAround(given) - GAUGE_SLACK_KPA
        ? { code: "static-vacuum", values: { static_kpa } }
        : null,
  },
  {
    finds: ({ static_kpa, low_kpa }) =>
      static_kpa !== null && low_kpa !== null && low_kpa > LOW_OVER_STATIC * static_kpa + GAUGE_SLACK_KPA
        ? { code: "low-above-static", values: { low_kpa, static_kpa } }
        : null,
  },
  {
    finds: ({ clutch, low_kpa, high_kpa }) =>
      clutch === "off" && low_kpa !== null && high_kpa !== null && high_kpa > PUMPING_RATIO * low_kpa
        ? { code: "clutch-off-but-pumping", values: { low_kpa, high_kpa } }
        : null,
  },
  {
    finds: ({ vent_c, evaporating_c }) =>
      vent_c !== null && evaporating_c !== null && vent_c - evaporating_c < bandLines["vent-over-evaporating"].lines[0]
        ? { code: "vent-under-evaporating", values: { vent_c, evaporating_c } }
        : null,
  },
  {
    finds: ({ suction_line_c, evaporating_c }) =>
      suction_line_c !== null && evaporating_c !== null && suction_line_c < evaporating_c - THERMOMETER_SLACK_K
        ? { code: "line-under-evaporating", values: { suction_line_c, evaporating_c } }
        : null,
    drops: ["suction_line_c"],
  },
  {
    finds: ({ liquid_line_c, condensing_c }) =>
      liquid_line_c !== null && condensing_c !== null && liquid_line_c > condensing_c + THERMOMETER_SLACK_K
        ? { code: "line-over-condensing", values: { liquid_line_c, condensing_c } }
        : null,
    drops: ["liquid_line_c"],
  },
  {
    finds: ({ static_kpa, vent_c, ambient_c, given: { refrigerant } }) =>
      static_kpa !== null &&
      static_kpa < bandLines.static.lines[1] * saturationPressureKpa(refrigerant, ambient_c) &&
      vent_c !== null &&
      vent_c <= ambient_c - expectedRegion.vent.under_ambient_k
        ? { code: "cold-without-liquid", values: { vent_c, static_kpa } }
        : null,
  },
  {
    // Vent air warmer than outside comes from the heater or a blend door and tells nothing about the refrigerant.
    finds: ({ vent_c, ambient_c }) =>
      vent_c !== null && vent_c > ambient_c + THERMOMETER_SLACK_K
        ? { code: "vent-over-ambient", values: { vent_c, ambient_c } }
        : null,
    drops: ["vent_c"],
  },
  {
    finds: ({ low_kpa, high_kpa, vent_c, clutch, ambient_c }) =>
      (low_kpa !== null || high_kpa !== null || vent_c !== null || clutch != null) && ambient_c < coldDay.counts_from_c
        ? { code: "too-cold", values: { ambient_c, sure_from_c: coldDay.counts_from_c } }
        : null,
  },
];

/** The readings that can be used, and what is wrong with the others, alone or against each other. */
export function plausible(given: Readings, ambient_c: number): { usable: Usable; problems: ReadingsProblem[] } {
  const problems: ReadingsProblem[] = [];
  let usable = eachAlone(given, problems);
  for (const { finds, drops = [] } of CHECKS) {
    const temperature = (kpa: number | null) =>
      kpa === null ? null : saturationTemperatureOrNull(given.refrigerant, kpa);
    const problem = finds({
      ...usable,
      given,
      ambient_c,
      evaporating_c: temperature(usable.low_kpa),
      condensing_c: temperature(usable.high_kpa),
    });
    if (problem === null) continue;
    problems.push(problem);
    usable = { ...usable, ...Object.fromEntries(drops.map((field) => [field, null])) };
  }
  return { usable, problems };
}

/** Checks each reading by itself: whether it is a number that an instrument can show. */
function eachAlone(given: Readings, problems: ReadingsProblem[]): Usable {
  const number = (field: "vent_c" | "suction_line_c" | "liquid_line_c" | "equalizing_s"): number | null => {
    const value = given[field] ?? null;
    if (value === null || Number.isFinite(value)) return value;
    problems.push({ code: "not-a-reading", values: { field } });
    return null;
  };
  const pressure = (field: "static_kpa" | "low_kpa" | "high_kpa"): number | null => {
    const kpa = given[field];
    if (kpa === null || kpa === undefined) return null;
    if (!(kpa >= 0 && Number.isFinite(kpa))) {
      problems.push({ code: "not-a-reading", values: { field } });
      return null;
    }
    const critical_kpa = REFRIGERANT_DATA[given.refrigerant].critical_pressure_kpa;
    if (kpa <= critical_kpa) return kpa;
    problems.push({ code: "beyond-gauge", values: { field, kpa, critical_kpa } });
    // A static pressure is kept: too high is still no sign of an empty system.
    return field === "static_kpa" ? kpa : null;
  };
  return {
    static_kpa: pressure("static_kpa"),
    low_kpa: pressure("low_kpa"),
    high_kpa: pressure("high_kpa"),
    vent_c: number("vent_c"),
    suction_line_c: number("suction_line_c"),
    liquid_line_c: number("liquid_line_c"),
    equalizing_s: number("equalizing_s"),
    clutch: given.clutch,
    fan: given.fan,
    condenser: given.condenser,
    more_air: given.more_air,
    sight_glass: given.sight_glass,
    metering: given.metering,
    compressor: given.compressor,
  };
}

/** Air pressure at the gauge, kPa; that at sea level where the altitude is not known. */
function airAround({ altitude_m }: Readings): number {
  const { min, max } = readingBounds.altitude_m;
  return atmosphereKpa(altitude_m != null && altitude_m >= min && altitude_m <= max ? altitude_m : 0);
}
