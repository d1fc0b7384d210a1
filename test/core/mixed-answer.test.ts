import { describe, expect, test } from "vitest";
import { mixedAnswer } from "../../src/core/mixed-answer.ts";
import { pageAnswer } from "../../src/core/page-answer.ts";
import type { AssessRequest } from "../../src/core/question/contract.ts";

function request(nameplate_g: number, changes: Partial<AssessRequest> = {}): AssessRequest {
  return {
    as_of: "2026-05-01",
    vehicle: { refrigerant: "R-134a", nameplate_g },
    log: [
      { date: "2024-06-01", cooling: "weak", added_g: 340, added_by: "cans", finish: "unknown" },
      { date: "2026-05-01", cooling: "weak" },
    ],
    ...changes,
  };
}

describe("mixedAnswer(cases)", () => {
  test("of one case is that case's answer", () => {
    const one = request(650);
    expect(mixedAnswer([{ weight: 1, request: one }]).answer).toEqual(pageAnswer(one));
  });

  test("of the same case twice is that case's answer, ranges within half a percent", () => {
    const one = request(650);
    const { answer } = mixedAnswer([
      { weight: 0.4, request: one },
      { weight: 0.6, request: one },
    ]);
    const own = pageAnswer(one);
    expect(answer.verdict).toEqual(own.verdict);
    expect(answer.leak.g_per_year.median).toBeCloseTo(own.leak.g_per_year.median, 3);
    answer.options.forEach((option, i) => {
      expect(option.expected_cost).toBeCloseTo(own.options[i]!.expected_cost, 6);
      expect(option.cost_p05 / own.options[i]!.cost_p05).toBeCloseTo(1, 2);
      expect(option.cost_p95 / own.options[i]!.cost_p95).toBeCloseTo(1, 2);
    });
  });

  test("costs and releases are the weighted means, ranges cover what the cases say", () => {
    const sizes = [480, 850].map((grams) => request(grams));
    const own = sizes.map((one) => pageAnswer(one));
    const { answer, alone } = mixedAnswer([
      { weight: 0.7, request: sizes[0]! },
      { weight: 0.3, request: sizes[1]! },
    ]);
    answer.options.forEach((option, i) => {
      const [a, b] = own.map(({ options }) => options[i]!);
      expect(option.expected_cost).toBeCloseTo(0.7 * a!.expected_cost + 0.3 * b!.expected_cost, 6);
      expect(option.release_g).toBeCloseTo(0.7 * a!.release_g + 0.3 * b!.release_g, 6);
    });
    const { p05, p95 } = answer.leak.g_per_year;
    expect(p05).toBeGreaterThanOrEqual(Math.min(...own.map(({ leak }) => leak.g_per_year.p05)));
    expect(p95).toBeLessThanOrEqual(Math.max(...own.map(({ leak }) => leak.g_per_year.p95)));
    expect(alone.map(({ verdict }) => verdict)).toEqual(own.map(({ verdict }) => verdict));
  });

  test("the case shown is one that agrees with the common answer", () => {
    const cases = [480, 1400].map((grams) => ({ weight: 0.5, request: request(grams) }));
    const { answer, shown } = mixedAnswer(cases);
    const own = pageAnswer(cases[shown]!.request);
    const agree = [480, 1400].some((g) => pageAnswer(request(g)).verdict.option === answer.verdict.option);
    if (agree) expect(own.verdict.option).toBe(answer.verdict.option);
    expect(answer.as_of).toBe("2026-05-01");
  });

  test("readings that say it is not low decide for all", () => {
    const cases = [480, 650].map((grams) => ({
      weight: 0.5,
      request: request(grams, { plan: { readings: "not-low" as const } }),
    }));
    expect(mixedAnswer(cases).answer.verdict).toMatchObject({ option: "check-first", guard: "readings" });
  });

  test("nothing to mix is a caller's mistake", () => {
    expect(() => mixedAnswer([])).toThrow(RangeError);
  });
});
