import { describe, expect, test } from "vitest";
import { crossing, runningTotals, yearEnds } from "../../views/answer/charts/running-totals.ts";
import {
  saidChance,
  saidCo2e,
  saidCount,
  saidMass,
  saidMoney,
  saidPercent,
  saidRelease,
} from "../../views/words/numbers.ts";
import { Unbroken } from "../../views/words/said.tsx";
import { saidMonth, saidSpan, saidYears } from "../../views/words/times.ts";

/** Numbers with their unit stay on one line. */
const joined = (text: string) => text.replaceAll(" ", "\u00a0");

test("a refrigerant among words is not broken over lines", () => {
  expect(String(Unbroken({ text: "R-1234yf, what is missing; no R-12" }))).toBe(
    '<span class="whole">R-1234yf</span>, what is missing; no <span class="whole">R-12</span>',
  );
});

describe("numbers as a person says them", () => {
  test.each([
    [3.4, "$3"],
    [47, "$45"],
    [388, "$390"],
    [-36, "−$35"],
    [1046, "$1,050"],
    [12_345, "$12,500"],
    [0.2, "$0"],
    [-0.2, "$0"],
  ])("saidMoney(%d) is %s", (amount, said) => expect(saidMoney(amount)).toBe(said));

  // An ounce is 28.349523125 g, a pound 453.59237 g (NIST SP 811, appendix B).
  test.each([
    [0, "0 oz", "0 g"],
    [28.35, "1 oz", "30 g"],
    [42, "1.5 oz", "40 g"],
    [340.2, "12 oz", "340 g"],
    [652, "23 oz", "650 g"],
    [1077, "38 oz", "1100 g"],
    [9072, "20 lb", "9050 g"],
  ])("saidMass(%d) is %s, or %s", (grams, us, metric) => {
    expect(saidMass(grams, "us")).toBe(joined(us));
    expect(saidMass(grams, "metric")).toBe(joined(metric));
  });

  test("a release is told in grams in any case", () => {
    expect(saidRelease(1077, "us")).toBe(`${joined("38 oz")} (${joined("1100 g")})`);
    expect(saidRelease(1077, "metric")).toBe(joined("1100 g"));
  });

  test.each([
    [0.183, "0.18 kg"],
    [54.4, "55 kg"],
    [1743, "1,750 kg"],
  ])("saidCo2e(%d) is %s", (kg, said) => expect(saidCo2e(kg)).toBe(joined(said)));

  test("chances near 0 and 1 are not rounded into certainty", () => {
    expect([0, 0.001, 0.81, 0.999, 1].map(saidChance)).toEqual([
      "0\u00a0of\u00a0100",
      "under\u00a01\u00a0of\u00a0100",
      "81\u00a0of\u00a0100",
      "over\u00a099\u00a0of\u00a0100",
      "100\u00a0of\u00a0100",
    ]);
    expect(saidPercent(0.62)).toBe("62%");
  });

  test("counts and ratios", () => {
    expect(saidCount(196.1)).toBe("200");
  });

  test("spans of time", () => {
    expect(saidYears(0.25)).toBe("3\u00a0months");
    expect(saidYears(1)).toBe("1\u00a0year");
    expect(saidYears(2.5)).toBe("2.5\u00a0years");
    expect(saidSpan(3, 9)).toBe("3 to 9\u00a0months");
    expect(saidSpan(10, 25)).toBe("10\u00a0months to 2\u00a0years");
    expect(saidSpan(9, 9.1)).toBe("about 9\u00a0months");
    expect(saidMonth("2027-08-14")).toBe("August 2027");
  });
});

describe("running totals", () => {
  test("add up, and cross where straight lines do", () => {
    expect(runningTotals([1, 2, 3])).toEqual([1, 3, 6]);
    // 10, 10, 10 and 6, 12, 18: the second overtakes between the first and the second year, at 1 + 4/6.
    expect(crossing([10, 10, 10], [6, 12, 18], [1, 2, 3])).toBeCloseTo(1 + 4 / 6, 12);
    expect(crossing([10, 10], [1, 2], [1, 2])).toBeNull();
    expect(yearEnds(2.5)).toEqual([1, 2, 2.5]);
  });
});
