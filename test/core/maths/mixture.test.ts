import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { mixtureQuantile } from "../../../src/core/maths/mixture.ts";

/** Standard normal scores (Abramowitz and Stegun 1964, table 26.5). */
const Z = { 0.05: -1.644854, 0.5: 0, 0.95: 1.644854 } as const;

function normal(mean: number, sd: number) {
  return ([0.05, 0.5, 0.95] as const).map((p) => [p, mean + sd * Z[p]] as const);
}

describe("mixtureQuantile(parts, p)", () => {
  test("of one normal is the normal's own quantile, between the known ones and beyond", () => {
    const parts = [{ weight: 1, quantiles: normal(20, 3) }];
    expect(mixtureQuantile(parts, 0.5)).toBeCloseTo(20, 6);
    // Φ(1) = 0.8413447, Φ(−2) = 0.0227501 (Abramowitz and Stegun, table 26.1)
    expect(mixtureQuantile(parts, 0.8413447)).toBeCloseTo(23, 4);
    expect(mixtureQuantile(parts, 0.0227501)).toBeCloseTo(14, 4);
  });

  test("of two equal halves far apart: half lies below the gap", () => {
    const parts = [
      { weight: 0.5, quantiles: normal(0, 1) },
      { weight: 0.5, quantiles: normal(100, 1) },
    ];
    // A quarter of the whole is the median of the lower half, three quarters that of the upper.
    expect(mixtureQuantile(parts, 0.25)).toBeCloseTo(0, 4);
    expect(mixtureQuantile(parts, 0.75)).toBeCloseTo(100, 4);
  });

  test("with log: of one lognormal is its own quantile", () => {
    const quantiles = normal(1, 0.5).map(([p, x]) => [p, Math.exp(x)] as const);
    expect(mixtureQuantile([{ weight: 1, quantiles }], 0.8413447, { log: true })).toBeCloseTo(Math.exp(1.5), 4);
  });

  test("rises with p, and lies between the parts' own quantiles", () => {
    const part = fc.tuple(fc.integer({ min: -50, max: 50 }), fc.integer({ min: 1, max: 20 }));
    fc.assert(
      fc.property(part, part, fc.integer({ min: 1, max: 19 }), ([a, sa], [b, sb], twentieths) => {
        const weight = twentieths / 20;
        const parts = [
          { weight, quantiles: normal(a, sa) },
          { weight: 1 - weight, quantiles: normal(b, sb) },
        ];
        const [low, middle, high] = [0.05, 0.5, 0.95].map((p) => mixtureQuantile(parts, p));
        expect(low!).toBeLessThanOrEqual(middle!);
        expect(middle!).toBeLessThanOrEqual(high!);
        for (const [p, q] of [
          [0.05, low!],
          [0.95, high!],
        ] as const) {
          const own = [a + sa * Z[p], b + sb * Z[p]];
          expect(q).toBeGreaterThanOrEqual(Math.min(...own) - 1e-4);
          expect(q).toBeLessThanOrEqual(Math.max(...own) + 1e-4);
        }
      }),
    );
  });
});
