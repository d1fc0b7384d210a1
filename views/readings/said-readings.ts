import { formatPressure, formatTemperature } from "../../src/core/quantities/format.ts";
import { ATMOSPHERE_KPA, type PressureUnit, type UnitSystem } from "../../src/core/quantities/units.ts";
import type {
  Evidence,
  Range,
  Readings,
  ReadingsJudgement,
  ReadingsProblem,
} from "../../src/core/readings/readings-contract.ts";
import { joined } from "../words/numbers.ts";

/** Says quantities in the units of the person. */
export interface GaugeStyle {
  units: UnitSystem;
  gauge: PressureUnit;
  /** What the gauge takes for zero; the air at sea level where nobody said. */
  atmosphere_kpa?: number;
}

/** `35 psi`: kPa absolute as the person's gauge shows it. */
export function saidPressure({ gauge, atmosphere_kpa }: GaugeStyle, p_kpa: number): string {
  return joined(formatPressure(p_kpa, gauge, atmosphere_kpa));
}

/** `25–57 psi`. */
export function saidPressures(gaugeStyle: GaugeStyle, { from, to }: Range): string {
  const [low, high] = [saidPressure(gaugeStyle, from), saidPressure(gaugeStyle, to)];
  return `${low.replace(/\s.*$/, "")}–${high}`;
}

/** A difference of pressures in the gauge's unit: `130 psi`, `9 bar`. */
export function saidPressureDifference({ gauge }: GaugeStyle, difference_kpa: number): string {
  const from_zero = gauge === "kPa-absolute" ? "kPa-gauge" : gauge;
  return joined(formatPressure(ATMOSPHERE_KPA + difference_kpa, from_zero, ATMOSPHERE_KPA));
}

/** `85 °F`. */
export function saidTemperature({ units }: GaugeStyle, t_c: number): string {
  return joined(formatTemperature(t_c, units));
}

/** A difference of temperatures: `22 °F`, `12 °C`. */
export function saidDifference({ units }: GaugeStyle, difference_k: number): string {
  return joined(units === "us" ? `${Math.round(difference_k * 1.8)} °F` : `${Math.round(difference_k)} °C`);
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
  gaugeStyle: GaugeStyle,
): string {
  const pressure = (p_kpa: number | null | undefined) => (p_kpa == null ? "not read" : saidPressure(gaugeStyle, p_kpa));
  const against = (region: Range) => `${saidPressures(gaugeStyle, region)} is normal`;
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
      if (band === "lower-end") return `${read} is at the low end: normal in some charts, low in others.`;
      if (band === "expected") return `${read} is normal (${saidPressures(gaugeStyle, expected.low_kpa)}).`;
      return `${read} is ${band}; ${against(expected.low_kpa)}.`;
    }
    case "high": {
      const read = `High side ${pressure(readings.high_kpa)}`;
      if (band === "lower-end") return `${read} is at the low end: normal in some charts, low in others.`;
      if (band === "expected") return `${read} is normal (${saidPressures(gaugeStyle, expected.high_kpa)}).`;
      return `${read} is ${band === "very-high" ? "very high" : band}; ${against(expected.high_kpa)}.`;
    }
    case "gap":
      if (band === "apart") return "The two pressures are far apart, so the compressor is pumping.";
      return band === "equal" ? "The two pressures are nearly equal." : "The two pressures are close together.";
    case "balance":
      if (band === "falls") return "The high side has dropped even further than the low side.";
      return band === "holds"
        ? "The high side holds up although the low side is drawn down."
        : "Both sides have dropped alike.";
    case "vent": {
      const vent = readings.vent_c == null ? "not read" : saidTemperature(gaugeStyle, readings.vent_c);
      if (band === "cold") return `Vent air at ${vent} is cold enough for this day.`;
      const cold = `${saidTemperature(gaugeStyle, expected.vent_below_c)} or colder would be good`;
      return band === "weak"
        ? `Vent air at ${vent} is cool at best; ${cold}.`
        : `Vent air at ${vent} is hardly cooled; ${cold}.`;
    }
    case "vent-over-evaporating": {
      const over_k = derived.vent_minus_evaporating_k;
      if (over_k === null || band === "under") return "Vent air is colder than the evaporator, which cannot be.";
      const over = `Vent air is ${saidDifference(gaugeStyle, over_k)} over the evaporating temperature`;
      return band === "wide" ? `${over}: the evaporator is starved of liquid.` : `${over}, as usual.`;
    }
    case "superheat": {
      const over = saidDifference(gaugeStyle, derived.superheat_k ?? 0);
      if (band === "none") return `Superheat is ${over}: liquid comes back from the evaporator.`;
      return band === "high" ? `Superheat is ${over}: the evaporator is starved.` : `Superheat is ${over}, as usual.`;
    }
    case "subcooling": {
      const under = saidDifference(gaugeStyle, derived.subcooling_k ?? 0);
      if (band === "none") return `Subcooling is ${under}: there is vapor in the liquid line.`;
      return band === "high" ? `Subcooling is ${under}: liquid backs up.` : `Subcooling is ${under}, as usual.`;
    }
    case "equalizing":
      return band === "fast"
        ? "The pressures are equal less than two minutes after switching off."
        : "The pressures take two minutes or longer to equalize.";
    case "sight-glass":
      return band === "bubbles" ? "The sight glass shows bubbles." : "The sight glass is clear.";
    case "clutch":
      return CLUTCH_WORDS[band] ?? "The clutch was looked at.";
    case "fan":
      return band === "runs" ? "The condenser fan runs." : "The condenser fan does not run.";
    case "condenser":
      return band === "clean" ? "The condenser is clean." : "The condenser is dirty, blocked or bent.";
    case "more-air":
      return band === "drops"
        ? "With extra airflow the high side falls to normal."
        : "With extra airflow the high side stays high.";
  }
}

/** What is wrong with the readings themselves, and what to do about it. */
export function saidProblem(problem: ReadingsProblem, gaugeStyle: GaugeStyle): string {
  switch (problem.code) {
    case "not-a-reading":
      return "One of the readings is not a number that a gauge can show; it was left out.";
    case "low-above-high":
      return `The low side (${saidPressure(gaugeStyle, problem.values.low_kpa)}) is above the high side (${saidPressure(gaugeStyle, problem.values.high_kpa)}), which is impossible while it runs, so neither was used. Check for crossed hoses or swapped numbers.`;
    case "engine-off":
      return `At ${problem.values.engine_rpm} rpm the engine does not run, so running pressures were not used. Enter them as static pressure, or start the engine.`;
    case "beyond-gauge":
      return `${saidPressure(gaugeStyle, problem.values.kpa)} is more than this refrigerant can show at all. Check the number and its unit.`;
    case "static-vacuum":
      return `A standing system at ${saidPressure(gaugeStyle, problem.values.static_kpa)} is under a vacuum: it was evacuated and not filled, or the gauge's zero is off.`;
    case "low-above-static":
      return `The running low side (${saidPressure(gaugeStyle, problem.values.low_kpa)}) reads above the static pressure (${saidPressure(gaugeStyle, problem.values.static_kpa)}). Read the static pressure again, engine off for an hour.`;
    case "clutch-off-but-pumping":
      return "The clutch does not come on, yet the pressures are far apart, so it is pumping. Look at the clutch again.";
    case "vent-under-evaporating":
      return `Vent air at ${saidTemperature(gaugeStyle, problem.values.vent_c)} cannot be colder than the evaporator at ${saidTemperature(gaugeStyle, problem.values.evaporating_c)}. Check the thermometer and the low side's unit.`;
    case "cold-without-liquid":
      return `Vent air at ${saidTemperature(gaugeStyle, problem.values.vent_c)} is cold, so there must be liquid, but a static pressure of ${saidPressure(gaugeStyle, problem.values.static_kpa)} says there is none. Check that the coupler opened the port, then read the static pressure again.`;
    case "line-under-evaporating":
      return `The suction line at ${saidTemperature(gaugeStyle, problem.values.suction_line_c)} cannot be colder than the evaporator at ${saidTemperature(gaugeStyle, problem.values.evaporating_c)}, so it was not used. Press the probe on bare metal and wrap it.`;
    case "line-over-condensing":
      return `The liquid line at ${saidTemperature(gaugeStyle, problem.values.liquid_line_c)} cannot be hotter than the condenser at ${saidTemperature(gaugeStyle, problem.values.condensing_c)}, so it was not used. Measure behind the condenser, not before it.`;
    case "vent-over-ambient":
      return `Vent air at ${saidTemperature(gaugeStyle, problem.values.vent_c)} is warmer than the air outside, so it was not used. Is the heater on, or a blend door stuck?`;
    case "too-cold":
      return `At ${saidTemperature(gaugeStyle, problem.values.ambient_c)}, running pressures tell little. They count fully from ${saidTemperature(gaugeStyle, problem.values.sure_from_c)} up. Static pressure works on any day.`;
  }
}
