import { describe, expect, test } from "vitest";
import { cohort } from "../../../data/model-constants.ts";
import { auditYears, leakThresholdOf, lossInterval, summedAudit } from "../../../src/core/fleet/audit.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";

function auditOf(log: LogEntry[], as_of = "2026-05-01", nameplate_g = 650) {
  const question = questionOf({ as_of, vehicle: { refrigerant: "R-134a", nameplate_g }, log });
  return auditYears(question, posteriorOf(question, { record: false }));
}

// The checks of the published-facts table "Constructed checks": 650 g full charge, 340.194 g added so many days after
// the last full charge. 40 CFR 82.152 and 84.102, arithmetic by hand.
describe("the regulation's formulas", () => {
  test.each([
    ["2025-07-05", 63.68, 52.34],
    ["2025-05-01", 52.34, 52.34],
    ["2023-05-02", 52.34, 52.34],
  ])("a full charge on %s and 340.194 g on 2026-05-01", (charged, annualizing, rolling) => {
    const years = auditOf([
      { date: charged, finish: "weighed" },
      { date: "2026-05-01", added_g: 340.194, added_by: "scale" },
    ]);
    expect(years.at(-1)!.annualizing_percent).toBeCloseTo(annualizing, 2);
    expect(years.at(-1)!.rolling_percent).toBeCloseTo(rolling, 2);
  });

  test("stand at the end of each year, and annualizing only in a year with an addition", () => {
    const years = auditOf([
      { date: "2023-03-01", finish: "weighed" },
      { date: "2024-03-01", added_g: 130, added_by: "scale" },
    ]);
    expect(years.map(({ year }) => year)).toEqual([2023, 2024, 2025, 2026]);
    expect(years.map(({ annualizing_percent }) => annualizing_percent === null)).toEqual([true, false, true, true]);
    // 130 of 650 g within the year before 31 December 2024; none in the year before 31 December 2025.
    expect(years.map(({ rolling_percent }) => rolling_percent)).toEqual([null, 20, 0, 0]);
  });
});

describe("auditYears", () => {
  const log: LogEntry[] = [
    { date: "2023-07-01", finish: "weighed" },
    { date: "2024-06-01", cooling: "weak", added_g: 250, added_by: "scale", finish: "gauges" },
    { date: "2025-05-01", cooling: "weak", recovered_g: 380, added_g: 650, added_by: "scale", finish: "weighed" },
  ];

  test("counts what is on record in each year", () => {
    const years = auditOf(log);
    expect(years.map(({ added_g, recovered_g }) => [added_g, recovered_g])).toEqual([
      [0, 0],
      [250, 0],
      [650, 380],
      [0, 0],
    ]);
  });

  test("begins with the first entry and ends with the day of the question", () => {
    const spans = auditOf(log).map(({ span_years }) => span_years);
    expect(spans[0]).toBeCloseTo(184 / 365.25, 6);
    expect(spans[1]).toBeCloseTo(366 / 365.25, 6);
    expect(spans.at(-1)).toBeCloseTo(120 / 365.25, 6);
  });

  // About 250 g leaked in 11 months, twice: mass balance by hand.
  test("puts the loss near what the balance of the log says", () => {
    const [, whole_year] = auditOf(log);
    expect(whole_year!.lost_g).toBeGreaterThan(220);
    expect(whole_year!.lost_g).toBeLessThan(330);
    const { p05_g, p95_g } = lossInterval(whole_year!.lost_g, whole_year!.lost_sd_g);
    expect(p05_g).toBeLessThan(273);
    expect(p95_g).toBeGreaterThan(273);
  });

  test("a repair changes the years after it, not those before", () => {
    const before = auditOf(log, "2025-05-01");
    const repaired = auditOf([...log.slice(0, 2), { ...log[2]!, repair: "hose" }], "2026-05-01");
    expect(repaired[1]!.lost_g).toBeCloseTo(before[1]!.lost_g, 6);
    const [now, then] = [repaired.at(-1)!, repaired[1]!];
    expect(now.lost_g / now.span_years).toBeLessThan(0.5 * (then.lost_g / then.span_years));
  });

  test("no more is lost than was in it", () => {
    const fast = Array.from(
      { length: 12 },
      (_, i): LogEntry => ({
        date: `2025-${String(i + 1).padStart(2, "0")}-01`,
        cooling: "empty",
        added_g: 30,
        added_by: "scale",
      }),
    );
    for (const { lost_g, added_g } of auditOf(fast)) expect(lost_g).toBeLessThanOrEqual(650 + added_g);
  });

  test("of no log is empty", () => {
    expect(auditOf([])).toEqual([]);
  });
});

describe("summedAudit", () => {
  const row = {
    ...{ recovered_g: 1, first_charge_g: 0, span_years: 1, annualizing_percent: null, rolling_percent: null },
    ...{ over_limit_on: null, chronic_on: null, fleet_group: "Vans", mean_sd: 0.1, lost_per_ln_g: 0 },
  };
  const share = cohort.common_share;

  test("adds amounts, first charges apart, and the variances of what each errs by alone", () => {
    const sum = summedAudit([
      { ...row, added_g: 10, first_charge_g: 10, lost_g: 30, lost_sd_g: 3 },
      { ...row, added_g: 20, lost_g: 40, lost_sd_g: 4 },
    ]);
    expect(sum).toMatchObject({ added_g: 30, first_charge_g: 10, recovered_g: 2, net_added_g: 18, lost_g: 70 });
    expect(sum.lost_sd_g).toBeCloseTo(Math.hypot(3, 4, share * 70), 9);
  });

  test("adds up what is wrong about a group for all its vehicles, and not across groups", () => {
    const van = { ...row, added_g: 0, lost_g: 0, lost_sd_g: 0, lost_per_ln_g: 100 };
    // A hundred vans: 100 · 100 g · 0.1; with half of them in another group, two such halves by Pythagoras.
    const vans = Array.from({ length: 100 }, () => van);
    expect(summedAudit(vans).lost_sd_g).toBeCloseTo(1000, 6);
    const two = vans.map((one, i) => (i < 50 ? one : { ...one, fleet_group: "Buses" }));
    expect(summedAudit(two).lost_sd_g).toBeCloseTo(500 * Math.SQRT2, 6);
  });
});

// Log-normal: E = e^{μ+s²/2}, var = (e^{s²} − 1)·E². With s = 0.5 and median 100: mean 113.31, sd 60.39, 5–95 %
// 43.94–227.6.
test("lossInterval has the quantiles of the log-normal of that mean and sd", () => {
  const { p05_g, p95_g } = lossInterval(113.3148, 60.3901);
  expect(p05_g).toBeCloseTo(43.94, 1);
  expect(p95_g).toBeCloseTo(227.6, 0);
  expect(lossInterval(0, 0)).toEqual({ p05_g: 0, p95_g: 0 });
});

// 40 CFR 84.106 applies from 15 lb (6804 g) from 2026-01-01, at 10 %; 125 % in a year is chronic.
describe("rules for large charges", () => {
  test("hold from the charge and the day on that they name", () => {
    expect(leakThresholdOf("R-134a", 6800, "2026-05-01")).toBeNull();
    expect(leakThresholdOf("R-134a", 6804, "2025-12-31")).toBeNull();
    expect(leakThresholdOf("R-134a", 6804, "2026-01-01")?.limit_percent).toBe(10);
    expect(leakThresholdOf("R-1234yf", 9000, "2026-05-01")).toBeNull(); // GWP below 53
    expect(leakThresholdOf("R-12", 22_680, "2026-05-01")?.citation).toBe("40 CFR 82.157");
  });

  test("date the day on which a vehicle passed the limit, and leaks chronically", () => {
    const log: LogEntry[] = [
      { date: "2025-12-01", finish: "weighed" },
      // 500 of 8000 g: 6.25 % in the year; then 2000 in all, 25 %; then 10 500, over 125 %.
      { date: "2026-12-01", added_g: 500, added_by: "scale" },
      { date: "2026-12-10", added_g: 1500, added_by: "scale" },
      { date: "2026-12-20", added_g: 8500, added_by: "scale" },
    ];
    const year = auditOf(log, "2026-12-31", 8000).at(-1)!;
    expect(year).toMatchObject({ over_limit_on: "2026-12-10", chronic_on: "2026-12-20" });
    expect(auditOf(log, "2026-12-31", 6000).at(-1)).toMatchObject({ over_limit_on: null, chronic_on: null });
  });

  test("take a full first charge apart", () => {
    const years = auditOf([{ date: "2025-03-01", added_g: 650, added_by: "scale", finish: "weighed" }], "2026-05-01");
    expect(years.map(({ added_g, first_charge_g }) => [added_g, first_charge_g])).toEqual([
      [650, 650],
      [0, 0],
    ]);
  });
});
