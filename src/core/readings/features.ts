import { bandLines, coldDay, features } from "../../../data/readings-table.ts";
import { normalCdf } from "../maths/normal.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";
import type { ExpectedRunning, FeatureId, ReadingId, Readings } from "./contract.ts";
import { heldSaturationTemperatureC } from "./saturation.ts";

/** A reading as the table sees it: how much of it lies in each band of its feature (adds up to 1). */
export interface Observed {
  feature: FeatureId;
  in_band: readonly number[];
  /** The band that holds most of it. */
  band: string;
}

/** Readings that passed the checks: what is null was not read or cannot be used. */
export interface Usable {
  static_kpa: number | null;
  low_kpa: number | null;
  high_kpa: number | null;
  vent_c: number | null;
  clutch: Readings["clutch"];
  fan: Readings["fan"];
  condenser: Readings["condenser"];
  more_air: Readings["more_air"];
}

/** The features that a reading makes judgeable, given what is known already. */
export function featuresOf(reading: ReadingId, known: Usable): FeatureId[] {
  switch (reading) {
    case "low":
      return [
        "low",
        ...(known.high_kpa === null ? [] : (["gap"] as const)),
        ...(known.vent_c === null ? [] : (["vent-over-evaporating"] as const)),
      ];
    case "high":
      return known.low_kpa === null ? ["high"] : ["high", "gap"];
    case "vent":
      return known.low_kpa === null ? ["vent"] : ["vent", "vent-over-evaporating"];
    default:
      return [reading];
  }
}

/** Features of a running system; the others can be seen on any day. */
const RUNNING: ReadonlySet<FeatureId> = new Set(["low", "high", "gap", "vent", "vent-over-evaporating", "clutch"]);

/** How much a feature counts at `ambient_c`: a running system says little on a cold day. 0 to 1. */
export function countsAt(feature: FeatureId, ambient_c: number): number {
  if (!RUNNING.has(feature)) return 1;
  const { counts_from_c, counts_nothing_below_c } = coldDay;
  return Math.min(1, Math.max(0, (ambient_c - counts_nothing_below_c) / (counts_from_c - counts_nothing_below_c)));
}

/** Each usable reading, and each pair of readings, placed in the bands of the table. */
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
    place("low", evaporating_c, [near_vacuum_c, expected.evaporating_c.from, expected.evaporating_c.to], reading_sd);
  }
  if (condensing_c !== null) {
    const { very_high_over_k, reading_sd } = bandLines.high;
    const { from, to } = expected.condensing_c;
    place("high", condensing_c, [from, to, to + very_high_over_k], reading_sd);
  }
  if (evaporating_c !== null && condensing_c !== null) {
    place("gap", condensing_c - evaporating_c, bandLines.gap.lines, bandLines.gap.reading_sd);
  }
  if (vent_c !== null) {
    const { none_within_k, reading_sd } = bandLines.vent;
    place("vent", vent_c, [expected.vent_below_c, ambient_c - none_within_k], reading_sd);
  }
  if (vent_c !== null && evaporating_c !== null) {
    const { lines, reading_sd } = bandLines["vent-over-evaporating"];
    place("vent-over-evaporating", vent_c - evaporating_c, lines, reading_sd);
  }
  see("clutch", usable.clutch);
  see("fan", usable.fan);
  see("condenser", usable.condenser);
  see("more-air", usable.more_air);
  return observed;
}

/** How much of a reading with an error of `reading_sd` lies between each two of the rising `lines`. */
function shareOfBands(value: number, lines: readonly number[], reading_sd: number): number[] {
  const below = [0, ...lines.map((line) => normalCdf((line - value) / reading_sd)), 1];
  return below.slice(1).map((share, i) => Math.max(0, share - below[i]!));
}

function inBands(feature: FeatureId, in_band: readonly number[]): Observed {
  const most = in_band.indexOf(Math.max(...in_band));
  return { feature, in_band, band: features[feature].bands[most]!.id };
}
