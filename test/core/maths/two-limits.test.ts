import fc from "fast-check";
import loadHighs from "highs";
import { describe, expect, test } from "vitest";
import { packWithin, type WorkChoice } from "../../../src/core/maths/two-limits.ts";
import { seededRandom } from "../../support/random.ts";

/** Every combination looked at; null when none keeps both limits. */
function bruteForce(classes: readonly (readonly WorkChoice[])[], money: number, work: number): number | null {
  let best: number | null = null;
  const visit = (at: number, value: number, spent: number, worked: number): void => {
    if (spent > money || worked > work) return;
    if (at === classes.length) {
      if (best === null || value < best) best = value;
      return;
    }
    for (const one of classes[at]!) visit(at + 1, value + one.value, spent + one.weight, worked + one.work);
  };
  visit(0, 0, 0, 0);
  return best;
}

test("packWithin finds the best of all combinations of a small fleet, or that none keeps both limits", () => {
  const anyClass = fc.array(
    fc.record({
      value: fc.integer({ min: 0, max: 2000 }),
      weight: fc.integer({ min: 0, max: 900 }),
      work: fc.integer({ min: 0, max: 6 }),
    }),
    { minLength: 1, maxLength: 4 },
  );
  fc.assert(
    fc.property(
      fc.array(anyClass, { minLength: 1, maxLength: 6 }),
      fc.integer({ min: 0, max: 4000 }),
      fc.integer({ min: 0, max: 24 }),
      (classes, money, work) => {
        const packing = packWithin(classes, { weight: money, work });
        const best = bruteForce(classes, money, work);
        expect(packing === null).toBe(best === null);
        if (packing === null || best === null) return;
        expect(packing.value).toBeCloseTo(best, 6);
        expect(packing.exact).toBe(true);
      },
    ),
    { numRuns: 2000, seed: 20_265 },
  );
});

/** Vehicles that stay as they are, are tested, or repaired: money, and hours at the shop. */
function randomFleet(vehicles: number, seed: number): WorkChoice[][] {
  const random = seededRandom(seed);
  return Array.from({ length: vehicles }, () => {
    const value = 100 + 900 * random();
    return [
      { value, weight: 0, work: 0 },
      { value: value * (0.5 + 0.6 * random()), weight: 100 + 300 * random(), work: 5 },
      { value: value * (0.2 + 0.9 * random()), weight: 250 + 1000 * random(), work: 4 },
    ];
  });
}

/** The same problem as a program in the text format that solvers share (CPLEX LP). */
function programText(classes: readonly (readonly WorkChoice[])[], money: number, work: number): string {
  const terms = (of: (choice: WorkChoice) => number) =>
    classes.flatMap((options, c) => options.map((option, o) => `${of(option).toFixed(9)} x${c}_${o}`)).join("\n + ");
  const ones = classes.map((options, c) => ` c${c}: ${options.map((_, o) => `x${c}_${o}`).join(" + ")} = 1`).join("\n");
  const names = classes.flatMap((options, c) => options.map((_, o) => `x${c}_${o}`)).join("\n ");
  return `Minimize\n obj: ${terms(({ value }) => value)}\nSubject To\n money: ${terms(({ weight }) => weight)} <= ${money}\n work: ${terms((one) => one.work)} <= ${work}\n${ones}\nBinary\n ${names}\nEnd\n`;
}

describe("packWithin against an independent solver (highs)", () => {
  test.each([
    [40, 8000, 60, 1],
    [80, 15_000, 90, 2],
    [120, 20_000, 400, 3],
    [120, 60_000, 100, 4],
  ])("%d vehicles, %d of money, %d hours", async (vehicles, money, work, seed) => {
    const classes = randomFleet(vehicles, seed);
    const packing = packWithin(classes, { weight: money, work })!;
    const highs = await loadHighs();
    const solution = highs.solve(programText(classes, money, work), {
      mip_rel_gap: 0,
      mip_abs_gap: 1e-7,
      output_flag: false,
    });
    expect(solution.Status).toBe("Optimal");
    expect(packing.bound).toBeLessThanOrEqual(solution.ObjectiveValue + 1e-4);
    expect(packing.value).toBeGreaterThanOrEqual(solution.ObjectiveValue - 1e-4);
    if (packing.exact) expect(packing.value).toBeCloseTo(solution.ObjectiveValue, 4);
    // What is not proven best is so within a thousandth.
    expect(packing.value - packing.bound).toBeLessThanOrEqual(0.001 * packing.value);
  });
});

test("packWithin of 10 000 vehicles is within a thousandth of the bound, in seconds", () => {
  const classes = randomFleet(10_000, 7);
  const packing = packWithin(classes, { weight: 1_000_000, work: 6000 })!;
  const total = packing.chosen.reduce((sum, option, c) => sum + classes[c]![option]!.work, 0);
  expect(total).toBeLessThanOrEqual(6000);
  expect(packing.weight).toBeLessThanOrEqual(1_000_000);
  expect((packing.value - packing.bound) / packing.bound).toBeLessThanOrEqual(0.001);
});
