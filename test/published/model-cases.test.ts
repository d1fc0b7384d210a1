import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { assess } from "../../src/core/assess.ts";
import type { AssessAnswer, AssessRequest, CurvePoint } from "../../src/core/question/contract.ts";

/**
 * Worked cases of the model: requests with the whole answer, computed from the model's text by a program that shares no
 * code with this one. Tolerance: 1e-6 relative, 1e-9 absolute near zero (the cases carry 12 digits; what is left is the
 * order of sums and the accuracy of the normal distribution). Everything that is no number must be equal.
 */
const RELATIVE = 1e-6;
const ABSOLUTE = 1e-9;
const CURVE_POINTS = 12;

interface WorkedCase {
  name: string;
  request: AssessRequest;
  expected: Omit<AssessAnswer, "first_step">;
}

const { cases }: { cases: WorkedCase[] } = JSON.parse(
  readFileSync(new URL("model-cases.json", import.meta.url), "utf8"),
);

function roundHalfToEven(value: number): number {
  const below = Math.floor(value);
  const part = value - below;
  if (part !== 0.5) return Math.round(value);
  return below % 2 === 0 ? below : below + 1;
}

/** The cases keep 12 points of a longer curve, evenly by position. */
function trimmed(curve: readonly CurvePoint[]): readonly CurvePoint[] {
  if (curve.length <= CURVE_POINTS) return curve;
  const steps = CURVE_POINTS - 1;
  return Array.from({ length: CURVE_POINTS }, (_, i) => curve[roundHalfToEven((i * (curve.length - 1)) / steps)]!);
}

/** Every place where `here` is not what is expected. */
function differences(here: unknown, expected: unknown, path = ""): string[] {
  if (typeof expected === "number" && typeof here === "number") {
    const off = Math.abs(here - expected);
    const allowed = Math.max(ABSOLUTE, RELATIVE * Math.abs(expected));
    return off <= allowed ? [] : [`${path}: ${here}, not ${expected}`];
  }
  if (typeof expected === "object" && expected !== null && typeof here === "object" && here !== null) {
    if (Array.isArray(expected) !== Array.isArray(here)) return [`${path}: a list against an object`];
    const names = new Set([...Object.keys(here), ...Object.keys(expected)]);
    const of = (value: object, name: string): unknown => (value as Record<string, unknown>)[name];
    return [...names].flatMap((name) =>
      Object.hasOwn(here, name) && Object.hasOwn(expected, name)
        ? differences(of(here, name), of(expected, name), `${path}.${name}`)
        : [`${path}.${name}: only on one side`],
    );
  }
  return Object.is(here, expected) ? [] : [`${path}: ${String(here)}, not ${String(expected)}`];
}

describe("assess(request) gives the worked answer", () => {
  it("of 34 cases", () => {
    expect(new Set(cases.map(({ name }) => name)).size).toBe(34);
  });

  it.each(cases)("$name", ({ request, expected }) => {
    // The first step stands beside the contract's options: these cases do not have it.
    const { first_step: _, ...answer } = assess(request);
    const here = { ...answer, forecast: { ...answer.forecast, curve: trimmed(answer.forecast.curve) } };
    expect(differences(here, expected)).toEqual([]);
  });
});

describe("the comparison with a worked answer", () => {
  it.each([
    { change: "a number off by 2e-6 of it", here: { a: [1, 1.000_002] }, found: 1 },
    { change: "a number off by 0.5e-6 of it", here: { a: [1, 1.000_000_5] }, found: 0 },
    { change: "a missing entry", here: { a: [1] }, found: 1 },
    { change: "an entry too many", here: { a: [1, 1, 1] }, found: 1 },
    { change: "a field of another name", here: { b: [1, 1] }, found: 2 },
    { change: "null for a number", here: { a: [1, null] }, found: 1 },
    { change: "text for a number", here: { a: [1, "1"] }, found: 1 },
    { change: "NaN", here: { a: [1, Number.NaN] }, found: 1 },
  ])("sees $found in $change", ({ here, found }) => {
    expect(differences(here, { a: [1, 1] })).toHaveLength(found);
  });
});
