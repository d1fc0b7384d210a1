/**
 * The shape of gauge and vent readings and of what they mean. Units are in the names: °C (`_c`), kPa absolute (`_kpa`,
 * not what a gauge shows, whose zero is the air pressure), temperature differences in kelvin (`_k`). Absent and `null`
 * mean the same: not read.
 */

import type { ReadingsSay, RefrigerantId } from "../question/contract.ts";

/** What the readings can mean; of two that are equally likely, the earlier comes first. */
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

/** What the high side does when more air passes the condenser (at road speed, or with a fan in front of it). */
export const MORE_AIR = ["drops", "stays"] as const;
export type MoreAir = (typeof MORE_AIR)[number];

/** What a sight glass shows at a steady speed: passing bubbles, or nothing, as when the system is full or empty. */
export const SIGHT_GLASS = ["clear", "bubbles"] as const;
export type SightGlass = (typeof SIGHT_GLASS)[number];

/** What meters the refrigerant into the evaporator. */
export const METERING = ["valve", "orifice-tube"] as const;
export type Metering = (typeof METERING)[number];

/** How the compressor regulates its output: by cycling, by changing its stroke, or by the speed of its own motor. */
export const COMPRESSOR = ["fixed", "variable", "electric"] as const;
export type Compressor = (typeof COMPRESSOR)[number];

type Optional<T> = T | null | undefined;

/** What was read at a vehicle, and what it is judged by beside that. */
export interface Readings {
  /** What the system is filled with. */
  refrigerant: RefrigerantId;
  /** Air in front of the vehicle, in the shade, °C. Nothing can be judged without it. */
  ambient_c?: Optional<number>;
  /** Relative humidity of that air, percent. */
  humidity_percent?: Optional<number>;
  /** Pressure with the engine off and the whole system as warm as the air around it, kPa absolute. */
  static_kpa?: Optional<number>;
  /** Full charge by the label, grams; used only to estimate the volume of the system. */
  nameplate_g?: Optional<number>;
  /** Inner volume of the refrigerant system, ml, in place of that estimate. */
  system_volume_ml?: Optional<number>;
  /** Height above the sea, m, which decides what gauges take for zero; absent: sea level. */
  altitude_m?: Optional<number>;
  /** Low side, running, kPa absolute. */
  low_kpa?: Optional<number>;
  /** High side, running, kPa absolute. */
  high_kpa?: Optional<number>;
  /** Engine speed while the pressures were read, revolutions per minute. */
  engine_rpm?: Optional<number>;
  /** Air from the middle vent, °C. */
  vent_c?: Optional<number>;
  /** What the compressor clutch does. */
  clutch?: Optional<Clutch>;
  /** Whether the condenser fan runs. */
  fan?: Optional<Fan>;
  /** Whether air gets through the condenser. */
  condenser?: Optional<Condenser>;
  /** What the high side does when more air passes the condenser. */
  more_air?: Optional<MoreAir>;
  /** Surface of the pipe from the evaporator to the compressor, near the low-side port, °C; gives superheat. */
  suction_line_c?: Optional<number>;
  /** Surface of the pipe from the condenser to the metering device, °C; gives subcooling. */
  liquid_line_c?: Optional<number>;
  /** Time from switching the compressor off until both gauges read the same, seconds. */
  equalizing_s?: Optional<number>;
  /** What the sight glass shows. */
  sight_glass?: Optional<SightGlass>;
  /** What meters the refrigerant. */
  metering?: Optional<Metering>;
  /** How the compressor regulates its output. */
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

/** Quantities that are judged: a reading against what is expected, or two readings against each other. */
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

/** A range of values in the unit of the field that holds it. */
export interface Range {
  /** Lower end. */
  from: number;
  /** Upper end. */
  to: number;
}

/** What a well-charged running system shows at an ambient temperature. */
export interface ExpectedRunning {
  /** Evaporating temperature, °C. */
  evaporating_c: Range;
  /** Condensing temperature, °C. */
  condensing_c: Range;
  /** From `evaporating_c.from` up to here, °C, some printed charts say normal and others low. */
  evaporating_lower_end_c: number;
  /** From `condensing_c.from` up to here, °C, some printed charts say normal and others low. */
  condensing_lower_end_c: number;
  /** Low side, kPa absolute: saturation at `evaporating_c`. */
  low_kpa: Range;
  /** High side, kPa absolute: saturation at `condensing_c`. */
  high_kpa: Range;
  /** The warmest vent air that still counts as cold, °C. */
  vent_below_c: number;
}

/** What one reading says about a finding. */
export interface Evidence {
  /** The quantity judged. */
  feature: FeatureId;
  /** Where it lies: a band of the feature in `data/readings-table.ts`. */
  band: string;
  /** Weight of evidence: ln of how much likelier the reading is under this finding than under all others. */
  weight: number;
}

/** A possible cause, with how likely the readings make it. */
export interface Diagnosis {
  /** Which cause. */
  id: FindingId;
  /** Its probability, 0–1. */
  probability: number;
  /** Readings that speak for it, the strongest first. */
  speaks_for: Evidence[];
  /** Readings that speak against it, the strongest first. */
  speaks_against: Evidence[];
}

/** What a static pressure says about a closed system: whether it holds liquid, and how much vapor. */
export interface StaticAnswer {
  /** Vapor alone; liquid present; or more pressure than the refrigerant alone would give. */
  state: "no-liquid" | "liquid" | "above";
  /** Saturation pressure at ambient temperature, kPa absolute. */
  saturation_kpa: number;
  /** Static pressure as a multiple of `saturation_kpa`. */
  ratio: number;
  /**
   * Grams of vapor in the system: with liquid present, the least that it holds. All three are equal where the volume of
   * the system is known; null where neither that nor the nameplate charge is.
   */
  grams: { likely: number; from: number; to: number } | null;
  /** Temperature at which this pressure would be saturation, °C; null outside −40 to 90 °C. */
  saturated_at_c: number | null;
}

/** Temperatures worked out from the readings; null where a reading is missing or beyond the saturation curve. */
export interface Derived {
  /** Saturation temperature of the low side, °C. */
  evaporating_c: number | null;
  /** Saturation temperature of the high side, °C. */
  condensing_c: number | null;
  /** Condensing less ambient temperature, K. */
  condensing_over_ambient_k: number | null;
  /** Vent less evaporating temperature, K. */
  vent_minus_evaporating_k: number | null;
  /** Ambient less vent temperature, K. */
  vent_under_ambient_k: number | null;
  /** Suction line less evaporating temperature, K. */
  superheat_k: number | null;
  /** Condensing less liquid line temperature, K. */
  subcooling_k: number | null;
}

/** Readings that cannot be right, or that cannot be judged, with the numbers that show it. */
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
  /** Which reading. */
  reading: ReadingId;
  /** Expected information gain, bits. */
  bits: number;
  /** The two causes, the likelier first, that it would most likely tell apart. */
  tells_apart: [FindingId, FindingId];
}

/** What the readings mean. */
export interface ReadingsJudgement {
  /** Tells the two kinds of answer apart. */
  kind: "judgement";
  /** The likeliest finding, or `undecided` when none is likelier than all others together. */
  first: FindingId | "undecided";
  /** All findings, the likeliest first; their probabilities add up to 1. */
  findings: Diagnosis[];
  /** Whether it is low: what a question to the model takes as `plan.readings`. */
  says: ReadingsSay;
  /** Temperatures worked out from the readings. */
  derived: Derived;
  /** What a well-charged system would show. */
  expected: ExpectedRunning;
  /** What the static pressure says; null where it was not read. */
  static: StaticAnswer | null;
  /** Number of independent readings that point to a low charge; `says` is never "low" on fewer than two. */
  low_signs: number;
  /** Readings not taken yet, the most informative first. */
  next: NextReading[];
  /** Readings that contradict each other or cannot be judged. */
  problems: ReadingsProblem[];
}

/** A question back: nothing can be said before its answer. */
export interface ReadingsQuestion {
  /** Tells the two kinds of answer apart. */
  kind: "question";
  /** The field that is needed. */
  asks: "ambient_c";
  /** Whether it was not given, or lies outside its range. */
  because: "missing" | "out-of-range";
}

export type ReadingsAnswer = ReadingsJudgement | ReadingsQuestion;
