import { bandLines, coldDay, equipmentCounts, features } from "../../../data/readings-table.ts";
import { normalCdf } from "../maths/normal.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";
import type { ExpectedRunning, FeatureId, ReadingId, Readings } from "./readings-contract.ts";
import { heldSaturationTemperatureC } from "./saturation.ts";

/** A feature as observed. A reading has an error, so it may lie partly in one band and partly in the next. */
export interface Observed {
  /** Which quantity. */
  feature: FeatureId;
  /** Share of the reading in each band of the feature, adding to 1. */
  in_band: readonly number[];
  /** The band that holds most of it. */
  band: string;
}

/** The fields of `Readings` that can be used, in the same units; null where one was not read or failed a check. */
export type Usable = {
  [Field in "static_kpa" | "low_kpa" | "high_kpa" | "vent_c" | "suction_line_c" | "liquid_line_c" | "equalizing_s"]:
    | number
    | null;
} & Pick<Readings, "clutch" | "fan" | "condenser" | "more_air" | "sight_glass" | "metering" | "compressor">;

/** The features that can be judged once a reading is taken, given what is known already. */
export function featuresOf(reading: ReadingId, known: Usable): FeatureId[] {
  const with_low = (...features: FeatureId[]) => (known.low_kpa === null ? [] : features);
  const with_high = (...features: FeatureId[]) => (known.high_kpa === null ? [] : features);
  switch (reading) {
    case "low":
      return [
        "low",
        ...with_high("gap"),
        ...(known.vent_c === null ? [] : (["vent-over-evaporating"] as const)),
        ...(known.suction_line_c === null ? [] : (["superheat"] as const)),
      ];
    case "high":
      return ["high", ...with_low("gap"), ...(known.liquid_line_c === null ? [] : (["subcooling"] as const))];
    case "vent":
      return ["vent", ...with_low("vent-over-evaporating")];
    case "suction-line":
      return with_low("superheat");
    case "liquid-line":
      return with_high("subcooling");
    default:
      return [reading];
  }
}

/** Features of a running system, which tell little on a cold day. */
const RUNNING: ReadonlySet<FeatureId> = new Set([
  "low",
  "high",
  "gap",
  "balance",
  "vent",
  "vent-over-evaporating",
  "clutch",
  "superheat",
  "subcooling",
  "sight-glass",
]);

/** The parts that decide how much a feature can show. */
export type Equipment = Pick<Readings, "metering" | "compressor">;

/**
 * How much a feature counts, 0–1: less on a cold day (`ambient_c`, °C) for a running system, and less where the control
 * of the system hides the feature (`equipmentCounts` of the table).
 */
export function countsAt(feature: FeatureId, ambient_c: number, { metering, compressor }: Equipment = {}): number {
  const by_equipment =
    (metering == null ? 1 : (equipmentCounts.metering[metering][feature] ?? 1)) *
    (compressor == null ? 1 : (equipmentCounts.compressor[compressor][feature] ?? 1));
  if (!RUNNING.has(feature)) return by_equipment;
  const { counts_from_c, counts_nothing_below_c } = coldDay;
  const on_day = (ambient_c - counts_nothing_below_c) / (counts_from_c - counts_nothing_below_c);
  return by_equipment * Math.min(1, Math.max(0, on_day));
}

/** Every feature that the usable readings give, placed in the bands of the table. */
export function observe(
  refrigerant: RefrigerantId,
  ambient_c: number,
  expected: ExpectedRunning,
  usable: Usable,
): Observed[] {
  const observed: Observed[] = [];
  const place = (feature: FeatureId, value: number, lines: readonly number[], reading_sd: number) =>
    observed.push(inBands(feature, shareOfBands(value, lines, reading_sd)));
  const see = (feature: FeatureId, seen: string | null | undefined) => {
    if (seen === null || seen === undefined) return;
    observed.push(
      inBands(
        feature,
        features[feature].bands.map((band) => (band.id === seen ? 1 : 0)),
      ),
    );
  };

  const { static_kpa, low_kpa, high_kpa, vent_c } = usable;
  const evaporating_c = low_kpa === null ? null : heldSaturationTemperatureC(refrigerant, low_kpa);
  const condensing_c = high_kpa === null ? null : heldSaturationTemperatureC(refrigerant, high_kpa);

  if (static_kpa !== null) {
    const { lines, reading_sd } = bandLines.static;
    place("static", static_kpa / saturationPressureKpa(refrigerant, ambient_c), lines, reading_sd);
  }
  if (evaporating_c !== null) {
    const { near_vacuum_c, reading_sd } = bandLines.low;
    const { from, to } = expected.evaporating_c;
    place("low", evaporating_c, [near_vacuum_c, from, expected.evaporating_lower_end_c, to], reading_sd);
  }
  if (condensing_c !== null) {
    const { very_high_over_k, reading_sd } = bandLines.high;
    const { from, to } = expected.condensing_c;
    place("high", condensing_c, [from, expected.condensing_lower_end_c, to, to + very_high_over_k], reading_sd);
  }
  if (evaporating_c !== null && condensing_c !== null) {
    place("gap", condensing_c - evaporating_c, bandLines.gap.lines, bandLines.gap.reading_sd);
    if (evaporating_c < bandLines.balance.asked_below_c) {
      const { lines, reading_sd } = bandLines.balance;
      place("balance", balance(refrigerant, ambient_c, evaporating_c, condensing_c), lines, reading_sd);
    }
  }
  if (vent_c !== null) {
    const { none_within_k, reading_sd } = bandLines.vent;
    place("vent", vent_c, [expected.vent_below_c, ambient_c - none_within_k], reading_sd);
  }
  if (vent_c !== null && evaporating_c !== null) {
    const { lines, reading_sd } = bandLines["vent-over-evaporating"];
    place("vent-over-evaporating", vent_c - evaporating_c, lines, reading_sd);
  }
  const { suction_line_c, liquid_line_c, equalizing_s } = usable;
  if (suction_line_c !== null && evaporating_c !== null) {
    const { lines, reading_sd } = bandLines.superheat;
    place("superheat", suction_line_c - evaporating_c, lines, reading_sd);
  }
  if (liquid_line_c !== null && condensing_c !== null) {
    const { lines, reading_sd } = bandLines.subcooling;
    place("subcooling", condensing_c - liquid_line_c, lines, reading_sd);
  }
  if (equalizing_s !== null) {
    const { lines, reading_sd } = bandLines.equalizing;
    place("equalizing", equalizing_s, lines, reading_sd);
  }
  see("sight-glass", usable.sight_glass);
  see("clutch", usable.clutch);
  see("fan", usable.fan);
  see("condenser", usable.condenser);
  see("more-air", usable.more_air);
  return observed;
}

/**
 * High side against low side, where the low side is drawn down: the condenser's temperature over ambient as a share of
 * its usual one, less the low side's pressure as a share of its usual one. The heat rejected follows the mass flow, and
 * the mass flow follows the density of what the compressor draws, so the two shares fall together. With little
 * refrigerant the high side falls further; with a restriction, or an evaporator that takes up no heat, it holds up.
 */
function balance(refrigerant: RefrigerantId, ambient_c: number, evaporating_c: number, condensing_c: number): number {
  const { usual_over_ambient_k, lifts_per_k, lifts_above_c, usual_evaporating_c } = bandLines.balance;
  const usual_k = usual_over_ambient_k + lifts_per_k * Math.max(0, ambient_c - lifts_above_c);
  const suction =
    saturationPressureKpa(refrigerant, evaporating_c) / saturationPressureKpa(refrigerant, usual_evaporating_c);
  return (condensing_c - ambient_c) / usual_k - suction;
}

/** The share of a reading with standard error `reading_sd` that lies in each band between the ascending `lines`. */
function shareOfBands(value: number, lines: readonly number[], reading_sd: number): number[] {
  const below = [0, ...lines.map((line) => normalCdf((line - value) / reading_sd)), 1];
  return below.slice(1).map((share, i) => Math.max(0, share - below[i]!));
}

function inBands(feature: FeatureId, in_band: readonly number[]): Observed {
  const most = in_band.indexOf(Math.max(...in_band));
  return { feature, in_band, band: features[feature].bands[most]!.id };
}
