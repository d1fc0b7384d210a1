import { describe, expect, it } from "vitest";
import { assess } from "../../src/core/assess.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { AssessRequest, LogEntry } from "../../src/core/question/contract.ts";

/**
 * The leak rates of United States regulation of stationary equipment (40 CFR 82.152 and 84.102; the wording from
 * memory): annualizing, % = 100·(added / full charge)·365 / min(days since the last addition, 365); rolling, % =
 * 100·(added in the last 365 days, or since the last successful repair if that is shorter) / full charge. No worked
 * example of the agency was at hand, so the rows are arithmetic from the formulas: 12 oz (340.194 g) into a full charge
 * of 650 g.
 */
const AS_OF = "2026-05-01";
const daysAgo = (days: number) => isoFromDay(dayNumber(AS_OF) - days);

const request = (log: LogEntry[], as_of = AS_OF): AssessRequest => ({
  as_of,
  vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
  log,
});
const leakOf = (log: LogEntry[], as_of?: string) => assess(request(log, as_of), { sensitivity: false }).leak;

const ROWS = [
  // 340.194/650 = 52.338 %; over 300 of 365 days 63.678 %; over three years 17.446 % a year.
  { days: 300, annualizing: 63.68, straight_line: 63.68, rolling: 52.34 },
  { days: 365, annualizing: 52.34, straight_line: 52.34, rolling: 52.34 },
  { days: 1095, annualizing: 52.34, straight_line: 17.45, rolling: 52.34 },
];

describe.each(ROWS)("full charge after a repair, 340.194 g added $days days later", ({ days, ...expected }) => {
  // Charged by weight at the repair: an event, but not an addition.
  const repaired: LogEntry = { date: daysAgo(days), finish: "weighed", repair: "joint" };
  const added: LogEntry = { date: AS_OF, added_g: 340.194, added_by: "scale", finish: "gauges" };

  it("by both formulas, to two decimals", () => {
    const { annualizing_percent, rolling_percent } = leakOf([repaired, added]).regulation;
    expect(annualizing_percent).toBeCloseTo(expected.annualizing, 2);
    expect(rolling_percent).toBeCloseTo(expected.rolling, 2);
  });

  it("the model's own estimate holds the straight-line rate, without the cap of 365 days", () => {
    // Not repaired: filled by weight, then so much went back in to be full again.
    const { p05, p95 } = leakOf([{ date: daysAgo(days), finish: "weighed" }, added]).fraction_per_year;
    expect(100 * p05).toBeLessThan(expected.straight_line);
    expect(100 * p95).toBeGreaterThan(expected.straight_line);
    // Over three years the capped formula says three times too much, and the estimate does not.
    if (days === 1095) expect(100 * p95).toBeLessThan(expected.annualizing);
  });
});

describe("which additions count", () => {
  const add = (days: number, added_g: number, more: Partial<LogEntry> = {}): LogEntry => ({
    date: daysAgo(days),
    added_g,
    ...more,
  });
  const percent = (log: LogEntry[], as_of?: string) => {
    const { annualizing_percent, rolling_percent } = leakOf(log, as_of).regulation;
    return [annualizing_percent, rolling_percent].map((one) => (one === null ? null : Math.round(one * 1000) / 1000));
  };
  const weighed = (days: number): LogEntry => ({ date: daysAgo(days), finish: "weighed" });

  it.each([
    // 65 g is a tenth of the full charge; annualized over the days in the second column.
    { says: "nothing on record", log: [weighed(100)], is: [null, null] },
    { says: "only a level check", log: [weighed(100), add(10, 0, { finish: "gauges" })], is: [null, null] },
    { says: "no fill before it", log: [add(10, 65)], is: [null, 10] },
    { says: "100 days after a fill", log: [weighed(110), add(10, 65)], is: [36.5, 10] },
    { says: "several on one day as one", log: [weighed(110), add(10, 65), add(10, 130)], is: [109.5, 30] },
    { says: "the last day alone, annualized from the day before it", log: [add(83, 65), add(10, 65)], is: [50, 20] },
    { says: "less what was recovered", log: [weighed(110), add(10, 195, { recovered_g: 130 })], is: [36.5, 10] },
    { says: "never below nothing", log: [weighed(110), add(10, 65, { recovered_g: 130 })], is: [0, 0] },
    { says: "364 days back, not 365", log: [weighed(900), add(365, 65), add(364, 130)], is: [7300, 20] },
    {
      says: "not those of a repair's day or before",
      log: [add(200, 65), add(100, 65, { repair: "hose" })],
      is: [36.5, 0],
    },
    {
      says: "those after a repair",
      log: [weighed(200), { ...weighed(110), repair: "hose" }, add(10, 65)],
      is: [36.5, 10],
    },
    { says: "an amount charged by weight", log: [weighed(83), add(10, 130, { finish: "weighed" })], is: [100, 20] },
    { says: "the longest gap counts as a year", log: [weighed(5000), add(10, 65)], is: [10, 10] },
  ] as { says: string; log: LogEntry[]; is: (number | null)[] }[])("$says", ({ log, is }) => {
    expect(percent(log)).toEqual(is);
  });

  it("as time passes an addition leaves the rolling window, and stays in the annualized rate", () => {
    const log: LogEntry[] = [weighed(110), add(10, 65)];
    expect(percent(log, "2027-04-20")).toEqual([36.5, 10]);
    expect(percent(log, "2027-04-21")).toEqual([36.5, 0]);
  });
});
