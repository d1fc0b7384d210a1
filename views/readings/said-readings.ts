import { formatPressure, formatTemperature } from "../../src/core/quantities/format.ts";
import type { PressureUnit, UnitSystem } from "../../src/core/quantities/units.ts";
import type {
  Evidence,
  Range,
  Readings,
  ReadingsJudgement,
  ReadingsProblem,
} from "../../src/core/readings/contract.ts";

/** Says quantities in the units of the person. */
export interface Sayer {
  units: UnitSystem;
  gauge: PressureUnit;
  /** What the gauge takes for zero; the air at sea level where nobody said. */
  atmosphere_kpa?: number;
}

export function saidPressure({ gauge, atmosphere_kpa }: Sayer, p_kpa: number): string {
  return formatPressure(p_kpa, gauge, atmosphere_kpa);
}

/** `25–57 psi`. */
export function saidPressures(sayer: Sayer, { from, to }: Range): string {
  const [low, high] = [saidPressure(sayer, from), saidPressure(sayer, to)];
  return `${low.replace(/\s.*$/, "")}–${high}`;
}

export function saidTemperature({ units }: Sayer, t_c: number): string {
  return formatTemperature(t_c, units);
}

/** A difference of temperatures: `22 °F`, `12 °C`. */
export function saidDifference({ units }: Sayer, difference_k: number): string {
  return units === "us" ? `${Math.round(difference_k * 1.8)} °F` : `${Math.round(difference_k)} °C`;
}

const CLUTCH_WORDS: Readonly<Record<string, string>> = {
  steady: "The clutch comes on and stays on.",
  "cycles-slowly": "The clutch goes on and off slowly.",
  "cycles-fast": "The clutch goes on and off every few seconds.",
  off: "The clutch does not come on.",
};

/** One reading as a sentence: what was read against what would be expected. */
export function saidEvidence(
  { feature, band }: Evidence,
  readings: Readings,
  { expected, derived, static: standing }: ReadingsJudgement,
  sayer: Sayer,
): string {
  const pressure = (p_kpa: number | null | undefined) => (p_kpa == null ? "not read" : saidPressure(sayer, p_kpa));
  const against = (region: Range) => `${saidPressures(sayer, region)} is expected`;
  switch (feature) {
    case "static": {
      const read = `Static pressure ${pressure(readings.static_kpa)}`;
      const liquid = standing === null ? "saturation" : pressure(standing.saturation_kpa);
      if (band === "liquid") return `${read} fits liquid present (${liquid}).`;
      return `${read} is ${band === "above" ? "above" : "below"} the ${liquid} of liquid at this temperature.`;
    }
    case "low": {
      const read = `Low side ${pressure(readings.low_kpa)}`;
      if (band === "near-vacuum") return `${read} is nearly a vacuum; ${against(expected.low_kpa)}.`;
      if (band === "expected") return `${read} is as expected (${saidPressures(sayer, expected.low_kpa)}).`;
      return `${read} is ${band}; ${against(expected.low_kpa)}.`;
    }
    case "high": {
      const read = `High side ${pressure(readings.high_kpa)}`;
      if (band === "expected") return `${read} is as expected (${saidPressures(sayer, expected.high_kpa)}).`;
      return `${read} is ${band === "very-high" ? "very high" : band}; ${against(expected.high_kpa)}.`;
    }
    case "gap":
      if (band === "apart") return "The two sides stand well apart, so something pumps.";
      return band === "equal" ? "The two sides are nearly equal." : "The two sides tend to equal.";
    case "vent": {
      const vent = readings.vent_c == null ? "not read" : saidTemperature(sayer, readings.vent_c);
      if (band === "cold") return `Vent air at ${vent} is cold enough for this day.`;
      const cold = `${saidTemperature(sayer, expected.vent_below_c)} or colder would be good`;
      return band === "weak"
        ? `Vent air at ${vent} is cool at best; ${cold}.`
        : `Vent air at ${vent} is hardly cooled; ${cold}.`;
    }
    case "vent-over-evaporating": {
      const over_k = derived.vent_minus_evaporating_k;
      if (over_k === null || band === "under") return "Vent air is colder than the evaporator, which cannot be.";
      const over = `Vent air is ${saidDifference(sayer, over_k)} over the evaporating temperature`;
      return band === "wide" ? `${over}: the evaporator is cold, but little of it is wet.` : `${over}, as usual.`;
    }
    case "clutch":
      return CLUTCH_WORDS[band] ?? "The clutch was looked at.";
    case "fan":
      return band === "runs" ? "The condenser fan runs." : "The condenser fan does not run.";
    case "condenser":
      return band === "clean" ? "The condenser is clean." : "The condenser is dirty, blocked or bent.";
    case "more-air":
      return band === "drops"
        ? "With more air over the condenser the high side falls."
        : "With more air over the condenser the high side stays high.";
  }
}

/** What is wrong with the readings themselves, and what to do about it. */
export function saidProblem(problem: ReadingsProblem, sayer: Sayer): string {
  switch (problem.code) {
    case "not-a-reading":
      return "One of the readings is not a number that a gauge can show; it was left out.";
    case "low-above-high":
      return `The low side (${saidPressure(sayer, problem.values.low_kpa)}) reads above the high side (${saidPressure(sayer, problem.values.high_kpa)}), which cannot be while it runs. Neither was used: look whether the hoses are crossed or the numbers swapped.`;
    case "engine-off":
      return `At ${problem.values.engine_rpm} rpm the engine does not run, so running pressures were not used. Enter them as static pressure, or start the engine.`;
    case "beyond-gauge":
      return `${saidPressure(sayer, problem.values.kpa)} is more than this refrigerant can show at all. Check the number and its unit.`;
    case "static-vacuum":
      return `A standing system at ${saidPressure(sayer, problem.values.static_kpa)} is under a vacuum: it was evacuated and not filled, or the gauge's zero is off.`;
    case "low-above-static":
      return `The running low side (${saidPressure(sayer, problem.values.low_kpa)}) reads above the static pressure (${saidPressure(sayer, problem.values.static_kpa)}). Read the static pressure again, engine off for an hour.`;
    case "clutch-off-but-pumping":
      return "The clutch does not come on, yet the sides stand far apart: something pumps. Look at the clutch again.";
    case "vent-under-evaporating":
      return `Vent air at ${saidTemperature(sayer, problem.values.vent_c)} cannot be colder than the evaporator at ${saidTemperature(sayer, problem.values.evaporating_c)}. Check the thermometer and the low side's unit.`;
    case "cold-without-liquid":
      return `Vent air at ${saidTemperature(sayer, problem.values.vent_c)} is cold, which needs liquid, and ${saidPressure(sayer, problem.values.static_kpa)} of static pressure says that there is none. Look whether the coupler opened the port, then read the static pressure again.`;
    case "vent-over-ambient":
      return `Vent air at ${saidTemperature(sayer, problem.values.vent_c)} is warmer than the air outside: is the heater on, or a blend door stuck?`;
    case "too-cold":
      return `At ${saidTemperature(sayer, problem.values.ambient_c)} a running system says little; readings count fully from ${saidTemperature(sayer, problem.values.sure_from_c)} up. The static pressure holds on any day.`;
  }
}
