import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { risingRoot, type WithSlope } from "../../../src/core/maths/root.ts";

/** A function with its slope, from two functions. */
function withSlope(f: (x: number) => number, slope: (x: number) => number): WithSlope {
  return (x, into) => into.set([f(x), slope(x)]);
}

describe("risingRoot(f, low, high, guess, tolerance)", () => {
  const square = withSlope(
    (x) => x * x - 2,
    (x) => 2 * x,
  );
  it.each([
    { name: "x² − 2", f: square, low: 0, high: 2, root: Math.SQRT2 },
    { name: "−cos x", f: withSlope((x) => -Math.cos(x), Math.sin), low: 0, high: 3, root: Math.PI / 2 },
    { name: "e^x − 10", f: withSlope((x) => Math.exp(x) - 10, Math.exp), low: -5, high: 9, root: Math.log(10) },
    {
      name: "x⁹, flat at its root",
      f: withSlope(
        (x) => (x - 1) ** 9,
        (x) => 9 * (x - 1) ** 8,
      ),
      low: -1,
      high: 4,
      root: 1,
    },
    {
      name: "a step",
      f: withSlope(
        (x) => (x < 0.3 ? -1 : 1e6),
        () => 0,
      ),
      low: 0,
      high: 1,
      root: 0.3,
    },
    {
      name: "one end steep",
      f: withSlope(
        (x) => Math.expm1(50 * (x - 0.9)),
        (x) => 50 * Math.exp(50 * (x - 0.9)),
      ),
      low: 0,
      high: 1,
      root: 0.9,
    },
  ])("finds that of $name from any guess", ({ f, low, high, root }) => {
    for (const guess of [low, 0.3 * low + 0.7 * high, high, low - 5, high + 5]) {
      expect(Math.abs(risingRoot(f, low, high, guess, 1e-9) - root)).toBeLessThan(1e-8);
    }
  });

  it("takes a few steps where Newton's method does", () => {
    let asked = 0;
    const counted: WithSlope = (x, into) => {
      asked++;
      square(x, into);
    };
    // Newton from 1.5: 1.41667, 1.414216, 1.41421356237 (a textbook example, from memory), then to the last digit.
    risingRoot(counted, 0, 2, 1.5, 1e-9);
    expect(asked).toBeLessThanOrEqual(5);
  });

  it("gives an end that is a root, and that end without a change of sign that is nearer to one", () => {
    const line = (at: number) =>
      withSlope(
        (x) => x - at,
        () => 1,
      );
    expect(risingRoot(line(0), 0, 1, 0.5, 1e-9)).toBeCloseTo(0, 12);
    expect(risingRoot(line(1), 0, 1, 0.5, 1e-9)).toBeCloseTo(1, 12);
    expect(risingRoot(line(-1), 0, 1, 0.5, 1e-9)).toBe(0);
    expect(risingRoot(line(2), 0, 1, 0.5, 1e-9)).toBe(1);
  });

  it("finds the root of any rising cubic, and stays in its bracket", () => {
    const part = fc.double({ min: 0, max: 10, noNaN: true });
    const within = fc.double({ min: -6, max: 7, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), part, part, within, (root, cubic, straight, guess) => {
        const f = withSlope(
          (x) => cubic * (x - root) ** 3 + (straight + 0.01) * (x - root),
          (x) => 3 * cubic * (x - root) ** 2 + straight + 0.01,
        );
        const found = risingRoot(f, -6, 7, guess, 1e-9);
        expect(Math.abs(found - root)).toBeLessThan(1e-8);
        expect(found >= -6 && found <= 7).toBe(true);
      }),
    );
  });
});
