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

/**
 * Sorts the readings into those that can be used and says which cannot be, alone or together. A pair that contradicts
 * itself is not used at all: which of the two is wrong cannot be told. What contradicts the static pressure is only
 * reported, because dropping it would let a rising static pressure change beliefs in jumps.
 */
export function plausible(readings: Readings, ambient_c: number): { usable: Usable; problems: ReadingsProblem[] } {
  const problems: ReadingsProblem[] = [];
  const pressure = (field: "static_kpa" | "low_kpa" | "high_kpa"): number | null => {
    const kpa = readings[field];
    if (kpa === null || kpa === undefined) return null;
    if (!(kpa >= 0 && Number.isFinite(kpa))) {
      problems.push({ code: "not-a-reading", values: { field } });
      return null;
    }
    const critical_kpa = REFRIGERANT_DATA[readings.refrigerant].critical_pressure_kpa;
    if (kpa > critical_kpa) {
      problems.push({ code: "beyond-gauge", values: { field, kpa, critical_kpa } });
      // A static pressure stays: however wrong, it is no sign of an empty system.
      return field === "static_kpa" ? kpa : null;
    }
    return kpa;
  };

  const static_kpa = pressure("static_kpa");
  let low_kpa = pressure("low_kpa");
  let high_kpa = pressure("high_kpa");
  const vent_c = readings.vent_c ?? null;
  const usable_vent_c = vent_c !== null && Number.isFinite(vent_c) ? vent_c : null;
  if (vent_c !== null && usable_vent_c === null) problems.push({ code: "not-a-reading", values: { field: "vent_c" } });

  const engine_rpm = readings.engine_rpm ?? null;
  const runs = low_kpa !== null || high_kpa !== null;
  if (engine_rpm !== null && engine_rpm < RUNS_FROM_RPM && runs) {
    problems.push({ code: "engine-off", values: { engine_rpm } });
    low_kpa = null;
    high_kpa = null;
  }
  if (low_kpa !== null && high_kpa !== null && low_kpa > high_kpa + GAUGE_SLACK_KPA) {
    problems.push({ code: "low-above-high", values: { low_kpa, high_kpa } });
    low_kpa = null;
    high_kpa = null;
  }
  if (static_kpa !== null && static_kpa < airAround(readings) - GAUGE_SLACK_KPA) {
    problems.push({ code: "static-vacuum", values: { static_kpa } });
  }
  if (static_kpa !== null && low_kpa !== null && low_kpa > LOW_OVER_STATIC * static_kpa + GAUGE_SLACK_KPA) {
    problems.push({ code: "low-above-static", values: { low_kpa, static_kpa } });
  }
  if (readings.clutch === "off" && low_kpa !== null && high_kpa !== null && high_kpa > PUMPING_RATIO * low_kpa) {
    problems.push({ code: "clutch-off-but-pumping", values: { low_kpa, high_kpa } });
  }
  const evaporating_c = low_kpa === null ? null : saturationTemperatureOrNull(readings.refrigerant, low_kpa);
  if (usable_vent_c !== null && evaporating_c !== null) {
    const [under_k] = bandLines["vent-over-evaporating"].lines;
    if (usable_vent_c - evaporating_c < under_k) {
      problems.push({ code: "vent-under-evaporating", values: { vent_c: usable_vent_c, evaporating_c } });
    }
  }
  const [, no_liquid_below] = bandLines.static.lines;
  const no_liquid =
    static_kpa !== null && static_kpa < no_liquid_below * saturationPressureKpa(readings.refrigerant, ambient_c);
  if (no_liquid && usable_vent_c !== null && usable_vent_c <= ambient_c - expectedRegion.vent.under_ambient_k) {
    problems.push({ code: "cold-without-liquid", values: { vent_c: usable_vent_c, static_kpa } });
  }
  if (usable_vent_c !== null && usable_vent_c > ambient_c + THERMOMETER_SLACK_K) {
    problems.push({ code: "vent-over-ambient", values: { vent_c: usable_vent_c, ambient_c } });
  }
  const looks_running = low_kpa !== null || high_kpa !== null || usable_vent_c !== null || readings.clutch != null;
  if (looks_running && ambient_c < coldDay.counts_from_c) {
    problems.push({ code: "too-cold", values: { ambient_c, sure_from_c: coldDay.counts_from_c } });
  }
  return {
    usable: {
      static_kpa,
      low_kpa,
      high_kpa,
      vent_c: usable_vent_c,
      clutch: readings.clutch,
      fan: readings.fan,
      condenser: readings.condenser,
      more_air: readings.more_air,
    },
    problems,
  };
}

/** The air pressure where it was read, kPa; at sea level where nobody said. */
function airAround({ altitude_m }: Readings): number {
  const { min, max } = readingBounds.altitude_m;
  return atmosphereKpa(altitude_m != null && altitude_m >= min && altitude_m <= max ? altitude_m : 0);
}
