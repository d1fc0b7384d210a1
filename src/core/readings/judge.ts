import { GAIN_WORTH_READING_BITS, readingBounds, saysLines } from "../../../data/readings-table.ts";
import type { ReadingsSay, RefrigerantId } from "../question/contract.ts";
import { believe, expectedGainBits, rankedFindings, tellsApart } from "./belief.ts";
import { expectedRunning } from "./expected.ts";
import { featuresOf, observe, type Usable } from "./features.ts";
import { plausible } from "./plausible.ts";
import type {
  Derived,
  Diagnosis,
  FeatureId,
  FindingId,
  ReadingId,
  Readings,
  ReadingsAnswer,
} from "./readings-contract.ts";
import { saturationTemperatureOrNull } from "./saturation.ts";
import { staticPressure } from "./static-pressure.ts";

/**
 * Ranks what gauge and vent readings can mean, low charge among them. Pressures become saturation temperatures and are
 * compared with what a well-charged system shows at this ambient temperature; then Bayes' rule is applied with the
 * table of `data/readings-table.ts`. Any reading may be missing except the ambient temperature, which is asked for.
 * Never throws on numbers: impossible ones are reported in `problems`.
 *
 * @example
 * judgeReadings({ refrigerant: "R-134a", ambient_c: 30, static_kpa: 310 })
 * // { kind: "judgement", first: "nearly-empty", says: "low" }
 */
export function judgeReadings(readings: Readings): ReadingsAnswer {
  const ambient_c = readings.ambient_c ?? null;
  if (ambient_c === null) return { kind: "question", asks: "ambient_c", because: "missing" };
  if (within(ambient_c, readingBounds.ambient_c.min, readingBounds.ambient_c.max) === null) {
    return { kind: "question", asks: "ambient_c", because: "out-of-range" };
  }
  const { refrigerant } = readings;
  const humidity_percent = within(readings.humidity_percent, 0, 100);
  const { usable, problems } = plausible(readings, ambient_c);
  const engine_rpm = within(readings.engine_rpm, readingBounds.engine_rpm.min, readingBounds.engine_rpm.max);
  const expected = expectedRunning(refrigerant, ambient_c, humidity_percent, engine_rpm);
  const observed = observe(refrigerant, ambient_c, expected, usable);
  const belief = believe(observed, ambient_c, usable);
  const findings = rankedFindings(belief, observed, ambient_c, usable);
  const low_signs = signsOfLow(findings);
  return {
    kind: "judgement",
    first: firstFinding(findings),
    findings,
    says: readingsSay(findings, low_signs, usable),
    low_signs,
    derived: derivedTemperatures(refrigerant, ambient_c, usable),
    expected,
    static: usable.static_kpa === null ? null : staticPressure(refrigerant, ambient_c, usable.static_kpa, readings),
    next: unread(usable)
      .map((reading) => {
        const judgeable = featuresOf(reading, usable);
        return {
          reading,
          bits: expectedGainBits(belief, judgeable, ambient_c, usable),
          tells_apart: tellsApart(belief, judgeable, ambient_c, usable),
        };
      })
      .filter(({ bits }) => bits >= GAIN_WORTH_READING_BITS)
      .sort((a, b) => b.bits - a.bits),
    problems,
  };
}

/** The likeliest finding, if it is likelier than all others together. */
function firstFinding(findings: readonly Diagnosis[]): FindingId | "undecided" {
  const [first] = findings;
  return first !== undefined && first.probability > 0.5 ? first.id : "undecided";
}

/**
 * Whether it is low, as the assessment takes it: undecided without a pressure or a vent temperature, whatever was seen,
 * and never low on one sign alone.
 */
function readingsSay(
  findings: readonly Diagnosis[],
  low_signs: number,
  { static_kpa, low_kpa, high_kpa, vent_c }: Usable,
): ReadingsSay {
  if (static_kpa === null && low_kpa === null && high_kpa === null && vent_c === null) return "undecided";
  let low = 0;
  for (const { id, probability } of findings) if (id === "low-charge" || id === "nearly-empty") low += probability;
  if (low >= saysLines.low_from && low_signs >= saysLines.low_signs) return "low";
  return low <= saysLines.not_low_to ? "not-low" : "undecided";
}

/** The reading that each feature comes from. Features of one reading count as one sign, as they err together. */
const SIGN_OF: Readonly<Record<FeatureId, string>> = {
  static: "static",
  low: "low",
  gap: "low",
  balance: "low",
  superheat: "suction line",
  high: "high",
  subcooling: "liquid line",
  vent: "vent",
  "vent-over-evaporating": "vent",
  clutch: "clutch",
  fan: "fan",
  condenser: "condenser",
  "more-air": "more air",
  equalizing: "equalizing",
  "sight-glass": "sight glass",
};

/**
 * How many readings speak for low charge or for nearly empty, whichever has more. A static pressure without liquid
 * counts twice, because it is compared with the refrigerant's own curve and not with charts.
 */
function signsOfLow(findings: readonly Diagnosis[]): number {
  const counts = findings
    .filter(({ id }) => id === "low-charge" || id === "nearly-empty")
    .map(({ speaks_for }) => new Set(speaks_for.map(({ feature }) => SIGN_OF[feature])))
    .map((signs) => signs.size + (signs.has("static") ? 1 : 0));
  return Math.max(0, ...counts);
}

function derivedTemperatures(refrigerant: RefrigerantId, ambient_c: number, usable: Usable): Derived {
  const { low_kpa, high_kpa, vent_c, suction_line_c, liquid_line_c } = usable;
  const evaporating_c = low_kpa === null ? null : saturationTemperatureOrNull(refrigerant, low_kpa);
  const condensing_c = high_kpa === null ? null : saturationTemperatureOrNull(refrigerant, high_kpa);
  return {
    evaporating_c,
    condensing_c,
    condensing_over_ambient_k: condensing_c === null ? null : condensing_c - ambient_c,
    vent_minus_evaporating_k: vent_c === null || evaporating_c === null ? null : vent_c - evaporating_c,
    vent_under_ambient_k: vent_c === null ? null : ambient_c - vent_c,
    superheat_k: suction_line_c === null || evaporating_c === null ? null : suction_line_c - evaporating_c,
    subcooling_k: liquid_line_c === null || condensing_c === null ? null : condensing_c - liquid_line_c,
  };
}

function unread(usable: Usable): ReadingId[] {
  const taken: Record<ReadingId, unknown> = {
    static: usable.static_kpa,
    low: usable.low_kpa,
    high: usable.high_kpa,
    vent: usable.vent_c,
    clutch: usable.clutch,
    fan: usable.fan,
    condenser: usable.condenser,
    "more-air": usable.more_air,
    "suction-line": usable.suction_line_c,
    "liquid-line": usable.liquid_line_c,
    equalizing: usable.equalizing_s,
    "sight-glass": usable.sight_glass,
  };
  return (Object.keys(taken) as ReadingId[]).filter(
    (reading) => taken[reading] === null || taken[reading] === undefined,
  );
}

function within(value: number | null | undefined, from: number, to: number): number | null {
  return value !== null && value !== undefined && value >= from && value <= to ? value : null;
}
