/**
 * The shape of a look at the gauges and of what it means. °C, kPa absolute (a gauge's zero is the air pressure),
 * percent, revolutions per minute; temperature differences are kelvin (`_k`). Absent and `null` mean the same: not
 * read.
 */

import type { ReadingsSay, RefrigerantId } from "../question/contract.ts";

/** What the readings can mean, in the order in which ties are broken. */
export const FINDING_IDS = [
  "low-charge",
  "nearly-empty",
  "overcharge",
  "air",
  "airflow",
  "not-pumping",
  "restriction",
  "valve-open",
  "evaporator-airflow",
  "mixed",
  "normal",
] as const;
export type FindingId = (typeof FINDING_IDS)[number];

export const CLUTCH = ["steady", "cycles-slowly", "cycles-fast", "off"] as const;
export type Clutch = (typeof CLUTCH)[number];

export const FAN = ["runs", "stopped"] as const;
export type Fan = (typeof FAN)[number];

export const CONDENSER = ["clean", "dirty"] as const;
export type Condenser = (typeof CONDENSER)[number];

/** What the high side does when more air is put through the condenser (road speed, or a second fan before it). */
export const MORE_AIR = ["drops", "stays"] as const;
export type MoreAir = (typeof MORE_AIR)[number];

/** What a sight glass shows at a steady speed: bubbles go by, or it stays clear (full, or empty). */
export const SIGHT_GLASS = ["clear", "bubbles"] as const;
export type SightGlass = (typeof SIGHT_GLASS)[number];

/** What meters the refrigerant into the evaporator. */
export const METERING = ["valve", "orifice-tube"] as const;
export type Metering = (typeof METERING)[number];

/** How the compressor holds its output: it cycles, it changes its stroke, or a motor of its own changes its speed. */
export const COMPRESSOR = ["fixed", "variable", "electric"] as const;
export type Compressor = (typeof COMPRESSOR)[number];

type Optional<T> = T | null | undefined;

export interface Readings {
  refrigerant: RefrigerantId;
  /** Air in front of the vehicle, in the shade. Nothing can be judged without it. */
  ambient_c?: Optional<number>;
  humidity_percent?: Optional<number>;
  /** Engine off, and the whole system as warm as the air around it. */
  static_kpa?: Optional<number>;
  /** Only turns density into grams left. */
  nameplate_g?: Optional<number>;
  /** Inner volume of the refrigerant system; goes before the guess from the nameplate charge. */
  system_volume_ml?: Optional<number>;
  /** Height above the sea, m: the air there is what its gauges take for zero. Sea level where it is not said. */
  altitude_m?: Optional<number>;
  low_kpa?: Optional<number>;
  high_kpa?: Optional<number>;
  engine_rpm?: Optional<number>;
  vent_c?: Optional<number>;
  clutch?: Optional<Clutch>;
  fan?: Optional<Fan>;
  condenser?: Optional<Condenser>;
  more_air?: Optional<MoreAir>;
  /** Pipe from the evaporator to the compressor, near the low-side port, for superheat. */
  suction_line_c?: Optional<number>;
  /** Pipe from the condenser to the metering device, for subcooling. */
  liquid_line_c?: Optional<number>;
  /** From switching the compressor off until both gauges read the same, seconds. */
  equalizing_s?: Optional<number>;
  sight_glass?: Optional<SightGlass>;
  metering?: Optional<Metering>;
  compressor?: Optional<Compressor>;
}

/** A reading that can be asked for. */
export type ReadingId =
  | "static"
  | "low"
  | "high"
  | "vent"
  | "clutch"
  | "fan"
  | "condenser"
  | "more-air"
  | "suction-line"
  | "liquid-line"
  | "equalizing"
  | "sight-glass";

/** A judged quantity: a reading against what is expected, or two readings against each other. */
export const FEATURE_IDS = [
  "static",
  "low",
  "high",
  "gap",
  "balance",
  "vent",
  "vent-over-evaporating",
  "clutch",
  "fan",
  "condenser",
  "more-air",
  "superheat",
  "subcooling",
  "equalizing",
  "sight-glass",
] as const;
export type FeatureId = (typeof FEATURE_IDS)[number];

export interface Range {
  from: number;
  to: number;
}

/** Where a well-charged running system stands at an ambient temperature. */
export interface ExpectedRunning {
  evaporating_c: Range;
  condensing_c: Range;
  /** Between `from` and this the printed charts contradict each other: normal by some, low by others. */
  evaporating_lower_end_c: number;
  condensing_lower_end_c: number;
  low_kpa: Range;
  high_kpa: Range;
  /** The warmest vent air that still counts as cold. */
  vent_below_c: number;
}

/** What one reading says about a finding. `band` is a band of the feature in `data/readings-table.ts`. */
export interface Evidence {
  feature: FeatureId;
  band: string;
  /** ln of how much likelier the reading is under this finding than under the others together. */
  weight: number;
}

/** A possible cause, with how likely the readings make it. */
export interface Diagnosis {
  id: FindingId;
  probability: number;
  /** What speaks for it and against it, strongest first. */
  speaks_for: Evidence[];
  speaks_against: Evidence[];
}

/** What a static pressure says (MODEL of a closed vessel: liquid present, or vapor alone). */
export interface StaticAnswer {
  state: "no-liquid" | "liquid" | "above";
  saturation_kpa: number;
  /** Static pressure over saturation pressure at ambient, both absolute. */
  ratio: number;
  /**
   * Grams of vapor in the system; with liquid present, the least that is in it. All three are one where the system's
   * volume is known; null where neither that nor the nameplate charge is.
   */
  grams: { likely: number; from: number; to: number } | null;
  /** The temperature at which this pressure would be saturation; null outside −40 to 90 °C. */
  saturated_at_c: number | null;
}

export interface Derived {
  evaporating_c: number | null;
  condensing_c: number | null;
  condensing_over_ambient_k: number | null;
  vent_minus_evaporating_k: number | null;
  vent_under_ambient_k: number | null;
  /** Suction line over evaporating temperature, and condensing temperature over liquid line. */
  superheat_k: number | null;
  subcooling_k: number | null;
}

/** Readings that cannot be, or that cannot be judged, and the numbers that show it. */
export type ReadingsProblem =
  | { code: "not-a-reading"; values: { field: keyof Readings } }
  | { code: "low-above-high"; values: { low_kpa: number; high_kpa: number } }
  | { code: "engine-off"; values: { engine_rpm: number } }
  | {
      code: "beyond-gauge";
      values: { field: "static_kpa" | "low_kpa" | "high_kpa"; kpa: number; critical_kpa: number };
    }
  | { code: "static-vacuum"; values: { static_kpa: number } }
  | { code: "low-above-static"; values: { low_kpa: number; static_kpa: number } }
  | { code: "clutch-off-but-pumping"; values: { low_kpa: number; high_kpa: number } }
  | { code: "vent-under-evaporating"; values: { vent_c: number; evaporating_c: number } }
  | { code: "cold-without-liquid"; values: { vent_c: number; static_kpa: number } }
  | { code: "line-under-evaporating"; values: { suction_line_c: number; evaporating_c: number } }
  | { code: "line-over-condensing"; values: { liquid_line_c: number; condensing_c: number } }
  | { code: "vent-over-ambient"; values: { vent_c: number; ambient_c: number } }
  | { code: "too-cold"; values: { ambient_c: number; sure_from_c: number } };

/** A reading worth taking. */
export interface NextReading {
  reading: ReadingId;
  /** The expected information gain. */
  bits: number;
  /** The two causes, likelier first, that it would most likely tell apart. */
  tells_apart: [FindingId, FindingId];
}

export interface ReadingsJudgement {
  kind: "judgement";
  /** The likeliest finding, or `undecided` when none is likelier than all others together. */
  first: FindingId | "undecided";
  /** All findings, likeliest first; probabilities add up to 1. */
  findings: Diagnosis[];
  says: ReadingsSay;
  derived: Derived;
  expected: ExpectedRunning;
  static: StaticAnswer | null;
  /** How many independent readings point to a low charge; `says` is "low" from two on. */
  low_signs: number;
  /** Readings not taken yet by what they would tell, most first. */
  next: NextReading[];
  problems: ReadingsProblem[];
}

/** Nothing can be said before this is known. */
export interface ReadingsQuestion {
  kind: "question";
  asks: "ambient_c";
  because: "missing" | "out-of-range";
}

export type ReadingsAnswer = ReadingsJudgement | ReadingsQuestion;
