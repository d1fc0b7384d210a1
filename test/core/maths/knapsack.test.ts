import fc from "fast-check";
import loadHighs from "highs";
import { describe, expect, test } from "vitest";
import { frontier, type Item, pack, relax } from "../../../src/core/maths/knapsack.ts";
import { seededRandom } from "../../support/random.ts";

/** Every combination looked at; null when none fits. */
function bruteForce(classes: readonly (readonly Item[])[], capacity: number): number | null {
  let best: number | null = null;
  const visit = (at: number, value: number, weight: number): void => {
    if (weight > capacity) return;
    if (at === classes.length) {
      if (best === null || value < best) best = value;
      return;
    }
    for (const option of classes[at]!) visit(at + 1, value + option.value, weight + option.weight);
  };
  visit(0, 0, 0);
  return best;
}

/** Whether `chosen` is what it says it is, within the capacity. */
function expectConsistent(classes: readonly (readonly Item[])[], capacity: number, packing: ReturnType<typeof pack>) {
  const total = { value: 0, weight: 0 };
  classes.forEach((options, c) => {
    const option = options[packing!.chosen[c]!]!;
    total.value += option.value;
    total.weight += option.weight;
  });
  expect(packing!.value).toBeCloseTo(total.value, 6);
  expect(packing!.weight).toBeCloseTo(total.weight, 6);
  expect(total.weight).toBeLessThanOrEqual(capacity + 1e-6);
  expect(packing!.bound).toBeLessThanOrEqual(packing!.value + 1e-9);
}

/** Options as a fleet has them: most vehicles save money by a dearer first year, some do not. */
function randomFleet(vehicles: number, seed: number): Item[][] {
  const random = seededRandom(seed);
  return Array.from({ length: vehicles }, () => {
    const top_off = { value: 100 + 900 * random(), weight: 200 * random() };
    const repair = { value: 300 + 700 * random(), weight: 250 + 1000 * random() };
    const dye = { value: top_off.value * (0.6 + 0.5 * random()), weight: top_off.weight + 300 * random() };
    const electronic = { value: repair.value * (0.7 + 0.5 * random()), weight: repair.weight * (0.4 + 0.7 * random()) };
    return [repair, dye, electronic, top_off];
  });
}

const small_fleet = fc.array(
  fc.array(fc.record({ value: fc.integer({ min: -50, max: 50 }), weight: fc.integer({ min: 0, max: 30 }) }), {
    minLength: 1,
    maxLength: 5,
  }),
  { minLength: 1, maxLength: 7 },
);

describe("pack", () => {
  test("is the optimum of every small fleet, and says so", () => {
    fc.assert(
      fc.property(small_fleet, fc.integer({ min: 0, max: 150 }), (classes, capacity) => {
        const best = bruteForce(classes, capacity);
        const packing = pack(relax(classes), capacity);
        if (best === null) {
          expect(packing).toBeNull();
          return;
        }
        expectConsistent(classes, capacity, packing);
        expect(packing!.value).toBeCloseTo(best, 9);
        expect(packing!.exact).toBe(true);
        expect(packing!.bound).toBeCloseTo(best, 9);
      }),
      { numRuns: 2000, seed: 20_261 },
    );
  });

  test("is the optimum where many options are alike", () => {
    const few = fc.array(
      fc.array(fc.record({ value: fc.integer({ min: 0, max: 3 }), weight: fc.integer({ min: 0, max: 3 }) }), {
        minLength: 1,
        maxLength: 4,
      }),
      { minLength: 1, maxLength: 7 },
    );
    fc.assert(
      fc.property(few, fc.integer({ min: 0, max: 20 }), (classes, capacity) => {
        expect(pack(relax(classes), capacity)?.value ?? null).toBe(bruteForce(classes, capacity));
      }),
      { numRuns: 2000, seed: 20_262 },
    );
  });

  test("spends more for less, and never less for more", () => {
    const relaxed = relax(randomFleet(60, 4));
    const values = Array.from({ length: 40 }, (_, i) => pack(relaxed, 6000 + 1500 * i)?.value ?? Infinity);
    for (let i = 1; i < values.length; i++) expect(values[i]!).toBeLessThanOrEqual(values[i - 1]! + 1e-9);
  });

  test("without a limit takes every class's least value, and more budget would bring nothing", () => {
    const classes = randomFleet(50, 5);
    const packing = pack(relax(classes), 1e9)!;
    const least = classes.reduce((sum, options) => sum + Math.min(...options.map(({ value }) => value)), 0);
    expect(packing.value).toBeCloseTo(least, 9);
    expect(packing.multiplier).toBe(0);
    expect(packing.exact).toBe(true);
  });

  test("refuses classes without options and numbers that are none", () => {
    expect(() => relax([[]])).toThrow(RangeError);
    expect(() => relax([[{ value: Number.NaN, weight: 1 }]])).toThrow(RangeError);
    expect(() => relax([[{ value: 1, weight: -1 }]])).toThrow(RangeError);
    expect(pack(relax([]), 0)).toMatchObject({ value: 0, weight: 0, exact: true });
  });
});

describe("frontier", () => {
  test("has the optimum at each of its points", () => {
    fc.assert(
      fc.property(small_fleet, (classes) => {
        for (const { weight, value } of frontier(relax(classes))) {
          expect(value).toBeCloseTo(bruteForce(classes, weight + 1e-9)!, 9);
        }
      }),
      { numRuns: 300, seed: 20_263 },
    );
  });

  test("is convex: each unit of budget brings less than the one before", () => {
    const points = frontier(relax(randomFleet(200, 6)));
    for (let i = 2; i < points.length; i++) {
      const slope = (k: number) =>
        (points[k]!.value - points[k - 1]!.value) / (points[k]!.weight - points[k - 1]!.weight);
      expect(slope(i)).toBeGreaterThanOrEqual(slope(i - 1) - 1e-9);
    }
  });
});

describe("against an independent solver of integer programs", () => {
  test.each([
    [30, 0.1],
    [30, 0.5],
    [80, 0.3],
    [200, 0.2],
    [200, 0.7],
  ])("%i vehicles, %f of the way from the least to the most that helps", async (vehicles, part) => {
    const classes = randomFleet(vehicles, 100 + vehicles);
    const relaxed = relax(classes);
    const points = frontier(relaxed);
    const capacity = points[0]!.weight + part * (points.at(-1)!.weight - points[0]!.weight);
    const packing = pack(relaxed, capacity)!;
    expectConsistent(classes, capacity, packing);

    const highs = await loadHighs();
    const solution = highs.solve(programText(classes, capacity), {
      mip_rel_gap: 0,
      mip_abs_gap: 1e-7,
      output_flag: false,
    });
    expect(solution.Status).toBe("Optimal");
    expect(packing.exact).toBe(true);
    expect(packing.value).toBeCloseTo(solution.ObjectiveValue, 4);
  });
});

/** The same problem as a program in the text format that solvers share (CPLEX LP). */
function programText(classes: readonly (readonly Item[])[], capacity: number): string {
  const terms = (of: (choice: Item) => number) =>
    classes.flatMap((options, c) => options.map((option, o) => `${of(option).toFixed(9)} x${c}_${o}`)).join("\n + ");
  const ones = classes.map((options, c) => ` c${c}: ${options.map((_, o) => `x${c}_${o}`).join(" + ")} = 1`).join("\n");
  const names = classes.flatMap((options, c) => options.map((_, o) => `x${c}_${o}`)).join("\n ");
  return `Minimize\n obj: ${terms(({ value }) => value)}\nSubject To\n budget: ${terms(({ weight }) => weight)} <= ${capacity.toFixed(9)}\n${ones}\nBinary\n ${names}\nEnd\n`;
}

test("for 10 000 vehicles the gap is at most a thousandth", () => {
  const classes = randomFleet(10_000, 7);
  const relaxed = relax(classes);
  const points = frontier(relaxed);
  for (const part of [0.02, 0.25, 0.6, 0.95]) {
    const capacity = points[0]!.weight + part * (points.at(-1)!.weight - points[0]!.weight);
    const packing = pack(relaxed, capacity)!;
    expectConsistent(classes, capacity, packing);
    expect((packing.value - packing.bound) / packing.bound).toBeLessThanOrEqual(0.001);
  }
});
