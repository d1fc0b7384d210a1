import { GAIN_WORTH_READING_BITS, readingBounds, saysLines } from "../../../data/readings-table.ts";
import type { ReadingsSay, RefrigerantId } from "../question/contract.ts";
import { believe, expectedGainBits, rankedFindings } from "./belief.ts";
import type { Derived, Finding, FindingId, ReadingId, Readings, ReadingsAnswer } from "./contract.ts";
import { expectedRunning } from "./expected.ts";
import { featuresOf, observe, type Usable } from "./features.ts";
import { plausible } from "./plausible.ts";
import { saturationTemperatureOrNull } from "./saturation.ts";
import { staticPressure } from "./static-pressure.ts";

/**
 * Is it low at all? Ranks what gauge and vent readings can mean: physics first (saturation temperatures of the
 * pressures, against what a well-charged system does at this ambient temperature), then Bayes' rule with the table of
 * `data/readings-table.ts`. Any readings may be missing but the ambient temperature, which is asked for.
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
  const expected = expectedRunning(refrigerant, ambient_c, humidity_percent);
  const observed = observe(refrigerant, ambient_c, expected, usable);
  const belief = believe(observed, ambient_c);
  const findings = rankedFindings(belief, observed, ambient_c);
  return {
    kind: "judgement",
    first: firstFinding(findings),
    findings,
    says: readingsSay(findings, usable),
    derived: derivedTemperatures(refrigerant, ambient_c, usable),
    expected,
    static: usable.static_kpa === null ? null : staticPressure(refrigerant, ambient_c, usable.static_kpa, readings),
    next: unread(usable)
      .map((reading) => ({ reading, bits: expectedGainBits(belief, featuresOf(reading, usable), ambient_c) }))
      .filter(({ bits }) => bits >= GAIN_WORTH_READING_BITS)
      .sort((a, b) => b.bits - a.bits),
    problems,
  };
}

/** Readings decide when one finding is likelier than all others together. */
function firstFinding(findings: readonly Finding[]): FindingId | "undecided" {
  const [first] = findings;
  return first !== undefined && first.probability > 0.5 ? first.id : "undecided";
}

/** What the assessment makes of it. Without a pressure or a vent temperature it stays open, however telling the looks. */
function readingsSay(findings: readonly Finding[], { static_kpa, low_kpa, high_kpa, vent_c }: Usable): ReadingsSay {
  if (static_kpa === null && low_kpa === null && high_kpa === null && vent_c === null) return "undecided";
  let low = 0;
  for (const { id, probability } of findings) if (id === "low-charge" || id === "nearly-empty") low += probability;
  if (low >= saysLines.low_from) return "low";
  return low <= saysLines.not_low_to ? "not-low" : "undecided";
}

function derivedTemperatures(refrigerant: RefrigerantId, ambient_c: number, usable: Usable): Derived {
  const { low_kpa, high_kpa, vent_c } = usable;
  const evaporating_c = low_kpa === null ? null : saturationTemperatureOrNull(refrigerant, low_kpa);
  const condensing_c = high_kpa === null ? null : saturationTemperatureOrNull(refrigerant, high_kpa);
  return {
    evaporating_c,
    condensing_c,
    condensing_over_ambient_k: condensing_c === null ? null : condensing_c - ambient_c,
    vent_minus_evaporating_k: vent_c === null || evaporating_c === null ? null : vent_c - evaporating_c,
    vent_under_ambient_k: vent_c === null ? null : ambient_c - vent_c,
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
  };
  return (Object.keys(taken) as ReadingId[]).filter(
    (reading) => taken[reading] === null || taken[reading] === undefined,
  );
}

function within(value: number | null | undefined, from: number, to: number): number | null {
  return value !== null && value !== undefined && value >= from && value <= to ? value : null;
}
