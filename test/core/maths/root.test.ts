import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rootOf } from "../../../src/core/maths/root.ts";

describe("rootOf(f, low, high, tolerance)", () => {
  it.each([
    { name: "x² − 2", f: (x: number) => x * x - 2, low: 0, high: 2, root: Math.SQRT2 },
    { name: "cos x", f: Math.cos, low: 0, high: 3, root: Math.PI / 2 },
    {
      name: "e^x − 10, falling the other way",
      f: (x: number) => 10 - Math.exp(x),
      low: -5,
      high: 9,
      root: Math.log(10),
    },
    { name: "x⁹, flat at its root", f: (x: number) => (x - 1) ** 9, low: -1, high: 4, root: 1 },
    { name: "a step", f: (x: number) => (x < 0.3 ? -1 : 1e6), low: 0, high: 1, root: 0.3 },
    { name: "one end steep", f: (x: number) => Math.expm1(50 * (x - 0.9)), low: 0, high: 1, root: 0.9 },
  ])("finds that of $name", ({ f, low, high, root }) => {
    expect(Math.abs(rootOf(f, low, high, 1e-9) - root)).toBeLessThan(1e-8);
  });

  it("gives an end that is a root, and that end without a change of sign that is nearer to one", () => {
    expect(rootOf((x) => x, 0, 1, 1e-9)).toBe(0);
    expect(rootOf((x) => x - 1, 0, 1, 1e-9)).toBe(1);
    expect(rootOf((x) => x + 1, 0, 1, 1e-9)).toBe(0);
    expect(rootOf((x) => x - 2, 0, 1, 1e-9)).toBe(1);
  });

  it("finds the root of any rising cubic, and stays in its bracket", () => {
    const part = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), part, part, (root, cubic, straight) => {
        const f = (x: number) => cubic * (x - root) ** 3 + (straight + 0.01) * (x - root);
        const found = rootOf(f, -6, 7, 1e-9);
        expect(Math.abs(found - root)).toBeLessThan(1e-8);
        expect(found >= -6 && found <= 7).toBe(true);
      }),
    );
  });
});
