import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { costBandOf } from "../../../src/core/options/cost-spread.ts";
import { outlookOfRequest } from "../../../src/core/options/outlook.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { validRequests } from "../../support/requests.ts";

describe("costBandOf(outlook, option)", () => {
  test("ends at the option's own 5–95 %, has a value a year, and never falls", () => {
    fc.assert(
      fc.property(validRequests({ max_entries: 5 }), fc.nat(4), (request, pick) => {
        const { options } = assess(request, { sensitivity: false });
        const option = options[pick % options.length]!;
        const { p05, p95 } = costBandOf(outlookOfRequest(request), option.id);
        expect(p05.length).toBe(option.cost_by_year.length);
        expect(p05.at(-1)).toBe(option.cost_p05);
        expect(p95.at(-1)).toBe(option.cost_p95);
        for (const bound of [p05, p95]) {
          for (let i = 1; i < bound.length; i++) expect(bound[i]!).toBeGreaterThanOrEqual(bound[i - 1]! - 1e-9);
        }
        for (let i = 0; i < p05.length; i++) expect(p95[i]!).toBeGreaterThanOrEqual(p05[i]!);
      }),
      { numRuns: 40 },
    );
  });

  test("living without it costs the same every day: half of two undiscounted years after one", () => {
    const request: AssessRequest = {
      as_of: "2026-05-01",
      vehicle: { refrigerant: "R-134a", nameplate_g: 600 },
      plan: { keep_years: 2, season_worth: 100 },
      assumptions: { discount: 0 },
    };
    const { p05, p95 } = costBandOf(outlookOfRequest(request), "live-without");
    // Worth 100 a year, faded by the hazard of 2 % a year alone: ∫₀¹ 100·e^(−0.02·t) dt = 100·(1 − e^−0.02)/0.02.
    const first_year = (100 * (1 - Math.exp(-0.02))) / 0.02;
    expect(p05[0]).toBeCloseTo(first_year, 9);
    expect(p95[0]).toBeCloseTo(first_year, 9);
  });

  test("an option that is not compared is an error", () => {
    const request: AssessRequest = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 600 } };
    expect(() => costBandOf(outlookOfRequest(request), "live-without")).toThrow(RangeError);
  });
});
