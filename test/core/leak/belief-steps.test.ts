import { describe, expect, test } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { beliefSteps } from "../../../src/core/leak/belief-steps.ts";
import type { AssessRequest, Finding } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";

const OLD: Finding = { date: "2024-05-01", test: "dye", location: "joint", result: "leak" };
const CLEAN: Finding = { date: "2026-03-01", test: "visual", location: "anywhere", result: "clean" };
const HOSE: Finding = { date: "2026-04-01", test: "electronic", location: "hose", result: "leak" };

const request: AssessRequest = {
  as_of: "2026-05-01",
  vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
  log: [{ date: "2024-06-01", repair: "joint", finish: "weighed" }],
  findings: [OLD, CLEAN, HOSE],
};

describe("beliefSteps(question, k_g)", () => {
  const answer = assess(request, { sensitivity: false });
  const steps = beliefSteps(questionOf(request), answer.leak.g_per_year.mean);

  test("counts the findings since the last repair", () => {
    expect(steps.map(({ finding }) => finding)).toEqual([CLEAN, HOSE]);
  });

  test("begins with the shares of the table, and each step where the one before ended", () => {
    // MODEL, table of places: shares that add up to 1 already.
    expect(steps[0]!.before).toEqual([0.15, 0.25, 0.15, 0.2, 0.1, 0.15]);
    expect(steps[1]!.before).toEqual(steps[0]!.after);
  });

  test("ends with what the answer says of the places", () => {
    expect(answer.locations).toHaveLength(6);
    // To rounding: the two means of the leak are summed in another order.
    for (const [l, { probability }] of answer.locations.entries())
      expect(steps[1]!.after[l]).toBeCloseTo(probability, 12);
  });

  test("is Bayes' rule: a leak at the hose by a detector that finds 75 of 100 there and errs 8 times in 100", () => {
    // MODEL: every d times 1 − e^(−E[k]/4 g) for the electronic test; a wrong place one time in five of the false
    // alarms.
    const eye = 1 - Math.exp(-answer.leak.g_per_year.mean / 4);
    const [hit, miss] = [0.75 * eye, 0.08 / 5];
    const before = steps[1]!.before[2]!;
    expect(steps[1]!.after[2]).toBeCloseTo((before * hit) / (before * hit + (1 - before) * miss), 9);
  });
});
