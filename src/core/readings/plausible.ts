import { bandLines, coldDay, expectedRegion, readingBounds } from "../../../data/readings-table.ts";
import { REFRIGERANT_DATA } from "../../../data/refrigerants.ts";
import { atmosphereKpa } from "../refrigerant/atmosphere.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";
import type { Readings, ReadingsProblem } from "./contract.ts";
import type { Usable } from "./features.ts";
import { saturationTemperatureOrNull } from "./saturation.ts";

/** A gauge and its reader may be off by this much; only beyond it is a contradiction one, kPa. */
const GAUGE_SLACK_KPA = 15;
/** Slowest idle of an engine that runs, rpm. */
const RUNS_FROM_RPM = 300;
/** A running low side cannot stand above a soaked static pressure by more than this ratio. */
const LOW_OVER_STATIC = 1.25;
/** With the clutch off the sides equalise; a ratio above this means something pumps. */
const PUMPING_RATIO = 2;
/** Thermometers differ by this much before a contradiction is one, K. */
const THERMOMETER_SLACK_K = 3;

/** What a check sees: the readings that still stand, and what was judged beside them. */
interface Seen extends Usable {
  given: Readings;
  ambient_c: number;
  evaporating_c: number | null;
  condensing_c: number | null;
}

/** A contradiction, and the readings that it makes unusable. */
interface Check {
  finds: (seen: Seen) => ReadingsProblem | null;
  drops?: readonly (keyof Usable)[];
}

/**
 * In the order in which they are made. A pair that contradicts itself is not used at all: which of the two is wrong
 * cannot be told. What contradicts the static pressure is only reported, because dropping it would let a rising static
 * pressure change beliefs in jumps.
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
    // Warmer than outside is the heater or a blend door, and says nothing of the refrigerant.
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

/** Sorts the readings into those that can be used and says which cannot be, alone or together. */
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

/** Each reading on its own: a number that an instrument can show. */
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
    // A static pressure stays: however wrong, it is no sign of an empty system.
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

/** The air pressure where it was read, kPa; at sea level where nobody said. */
function airAround({ altitude_m }: Readings): number {
  const { min, max } = readingBounds.altitude_m;
  return atmosphereKpa(altitude_m != null && altitude_m >= min && altitude_m <= max ? altitude_m : 0);
}
