import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { weightedQuantiles } from "../../../src/core/maths/weighted-quantile.ts";

const quantiles = (values: number[], weights: number[], shares: number[]) =>
  weightedQuantiles(Float64Array.from(values), Float64Array.from(weights), shares);
const quantile = (values: number[], weights: number[], p: number) => quantiles(values, weights, [p])[0];

/** The definition: sort, add up, stop at the first value whose share reaches `p`. */
function sorted(values: readonly number[], weights: readonly number[], p: number): number {
  const order = values.map((value, i) => ({ value, weight: weights[i]! })).sort((a, b) => a.value - b.value);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  let reached = 0;
  for (const { value, weight } of order) {
    reached += weight;
    if (reached >= (p - 1e-12) * total) return value;
  }
  return order.at(-1)!.value;
}

describe("weightedQuantiles(values, weights, [p]) is the smallest value whose cumulative weight reaches p", () => {
  it.each([
    { p: 0, is: 10 },
    { p: 0.1, is: 10 },
    { p: 0.11, is: 20 },
    { p: 0.3, is: 20 },
    { p: 0.300_000_1, is: 30 },
    { p: 0.6, is: 30 },
    { p: 0.95, is: 40 },
    { p: 1, is: 40 },
  ])("of 10, 20, 30, 40 weighing 1, 2, 3, 4 at $p is $is", ({ p, is }) => {
    expect(quantile([40, 20, 10, 30], [4, 2, 1, 3], p)).toBe(is);
  });

  it("of one value is that value; values without weight are passed over", () => {
    expect(quantile([7], [0.3], 0.5)).toBe(7);
    expect(quantile([1, 2, 3], [0, 1, 0], 0.05)).toBe(2);
    expect(quantile([1, 2, 3], [0, 1, 0], 0.95)).toBe(2);
  });

  it("agrees with a plain sort", () => {
    // Whole weights add up exactly, so both ways meet the same borders; few distinct values make ties.
    const pairs = fc.array(fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: 0, max: 5 })), {
      minLength: 1,
      maxLength: 80,
    });
    fc.assert(
      fc.property(pairs, fc.integer({ min: 0, max: 40 }), (rows, fortieths) => {
        fc.pre(rows.some(([, weight]) => weight > 0));
        const values = rows.map(([value]) => value);
        const weights = rows.map(([, weight]) => weight);
        const p = fortieths / 40;
        if (p > 0) expect(quantile(values, weights, p)).toBe(sorted(values, weights, p));
      }),
      { numRuns: 1000 },
    );
  });

  it("of many values, bunched or far apart, is that of a plain sort, for several shares at once", () => {
    // Exponents spread the values over six powers of ten, so that nearly all fall into the first of the bins.
    const pairs = fc.array(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 5 })), {
      minLength: 300,
      maxLength: 900,
      size: "max",
    });
    fc.assert(
      fc.property(pairs, fc.boolean(), (rows, bunched) => {
        fc.pre(rows.some(([, weight]) => weight > 0));
        const values = rows.map(([value]) => (bunched ? 10 ** (value / 10) : value));
        const weights = rows.map(([, weight]) => weight);
        const shares = [0.05, 0.5, 0.95, 1];
        expect(quantiles(values, weights, shares)).toEqual(shares.map((p) => sorted(values, weights, p)));
      }),
      { numRuns: 200 },
    );
  });
});
