import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayAt, LeakClock, seasonWeights } from "../../../src/core/leak/leak-clock.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import { REFRIGERANTS, type RefrigerantId } from "../../../src/core/question/contract.ts";

const MONTH_DAYS = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const YEAR_DAYS = 365.25;
const climates = fc.array(fc.integer({ min: -40, max: 50 }), { minLength: 12, maxLength: 12 });
const growths = fc.integer({ min: -60, max: 180 }).map((hundredth) => hundredth / 100);
const days = fc.integer({ min: dayNumber("1990-01-01"), max: dayNumber("2100-01-01") });
const times = fc.integer({ min: -40_000, max: 20_000 }).map((thousandth) => thousandth / 1000);

describe("seasonWeights", () => {
  it("are one without a climate, in an even one, and where it is always too cold to leak", () => {
    const ones = new Array(12).fill(1);
    expect([...seasonWeights("R-134a", null)]).toEqual(ones);
    for (const weight of seasonWeights("R-134a", new Array(12).fill(21))) expect(weight).toBeCloseTo(1, 14);
    // R-134a boils at −26 °C under an atmosphere.
    expect([...seasonWeights("R-134a", new Array(12).fill(-30))]).toEqual(ones);
  });

  it("stop in months below the boiling point, and count only there", () => {
    const weights = seasonWeights("R-134a", [-35, -35, -35, -35, -35, 10, 10, -35, -35, -35, -35, -35]);
    // June and July share a year's leak: 61 of 365.25 days.
    for (const [month, weight] of weights.entries()) {
      expect(weight).toBeCloseTo(month === 5 || month === 6 ? YEAR_DAYS / 61 : 0, 12);
    }
  });

  it.each([
    // (p² − 1.013²) relative to 20 °C for R-134a, from saturation pressures 5.72, 7.70, 10.17, 13.18 bar of the
    // equation of state of Tillner-Roth and Baehr (1994); three digits.
    { t_c: 30, ratio: 1.84 },
    { t_c: 40, ratio: 3.23 },
    { t_c: 50, ratio: 5.45 },
  ])("make a month at $t_c °C leak $ratio times one at 20 °C", ({ t_c, ratio }) => {
    const weights = seasonWeights("R-134a", [20, 20, 20, 20, 20, 20, t_c, 20, 20, 20, 20, 20]);
    expect(Math.abs(weights[6]! / weights[0]! - ratio)).toBeLessThan(0.006);
  });

  it("have a mean over the days of the year of one", () => {
    fc.assert(
      fc.property(fc.constantFrom(...REFRIGERANTS), climates, (refrigerant, monthly_mean_c) => {
        const weights = seasonWeights(refrigerant, monthly_mean_c);
        const mean = MONTH_DAYS.reduce((sum, length, m) => sum + length * weights[m]!, 0) / YEAR_DAYS;
        expect(mean).toBeCloseTo(1, 12);
        for (const weight of weights) expect(weight).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

/** ∫ of s(v)·e^{g·min(v,3)}, day by day: each day by Simpson's rule, in the month that the calendar gives it. */
function dayByDay(weights: Float64Array, as_of_day: number, from_day: number, to_day: number, g: number): number {
  const rate = (u: number) => Math.exp(g * Math.min(u, 3));
  let sum = 0;
  for (let day = from_day; day < to_day; day++) {
    const month = new Date(day * 86_400_000).getUTCMonth();
    const u = (day - as_of_day) / YEAR_DAYS;
    const h = 1 / YEAR_DAYS;
    sum += (weights[month]! * h * (rate(u) + 4 * rate(u + h / 2) + rate(u + h))) / 6;
  }
  return sum;
}

describe("the leak clock", () => {
  const summer = [2, 4, 9, 14, 19, 24, 27, 26, 22, 15, 9, 4];

  it.each([
    { g: 0, of: "the time itself", from: -2, to: 5, is: 7 },
    { g: 0.1, of: "(e^{gb} − e^{ga})/g", from: -2, to: 3, is: (Math.exp(0.3) - Math.exp(-0.2)) / 0.1 },
    { g: 0.1, of: "e^{3g} a year after three years", from: 3, to: 7, is: 4 * Math.exp(0.3) },
    { g: -0.3, of: "both pieces", from: 1, to: 4, is: (Math.exp(-0.9) - Math.exp(-0.3)) / -0.3 + Math.exp(-0.9) },
    { g: 1e-12, of: "the time, for hardly any growth", from: -2, to: 5, is: 7 },
    { g: 1e-8, of: "the series of e^{gu}", from: 0, to: 2, is: 2 + 2e-8 },
  ])("without a season at g = $g is $of", ({ g, from, to, is }) => {
    const read = new LeakClock(seasonWeights("R-134a", null), dayNumber("2026-05-01"), -3, 20).reading(g);
    expect(read(to) - read(from)).toBeCloseTo(is, 12);
    expect(read(0)).toBe(0);
  });

  it.each([
    { as_of: "2026-05-01", from: "2022-11-20", to: "2033-02-11", refrigerant: "R-134a", g: 0.1 },
    { as_of: "2024-02-29", from: "2020-02-29", to: "2029-01-01", refrigerant: "R-1234yf", g: -0.3 },
    { as_of: "2000-03-01", from: "1996-02-28", to: "2000-03-01", refrigerant: "R-12", g: 0.9 },
    { as_of: "2026-12-31", from: "2026-12-31", to: "2046-12-30", refrigerant: "R-134a", g: 0.4 },
  ] as { as_of: string; from: string; to: string; refrigerant: RefrigerantId; g: number }[])(
    "asked on $as_of from $from to $to at g = $g is the sum over the days",
    ({ as_of, from, to, refrigerant, g }) => {
      const weights = seasonWeights(refrigerant, summer);
      const [as_of_day, from_day, to_day] = [dayNumber(as_of), dayNumber(from), dayNumber(to)];
      const read = new LeakClock(weights, as_of_day, Math.min(0, (from_day - as_of_day) / YEAR_DAYS), 21).reading(g);
      const span = read((to_day - as_of_day) / YEAR_DAYS) - read((from_day - as_of_day) / YEAR_DAYS);
      // The day in which growth stops has a kink that Simpson's rule does not see.
      expect(span / dayByDay(weights, as_of_day, from_day, to_day, g)).toBeCloseTo(1, 7);
    },
  );

  it("clock(a, b) + clock(b, c) is clock(a, c), never negative, and more in a longer span", () => {
    fc.assert(
      fc.property(climates, days, growths, fc.tuple(times, times, times), (monthly_mean_c, day, g, moments) => {
        const [a, b, c] = moments.toSorted((one, other) => one - other) as [number, number, number];
        const read = new LeakClock(seasonWeights("R-134a", monthly_mean_c), day, -40, 20).reading(g);
        const clock = (from: number, to: number) => read(to) - read(from);
        expect(Math.abs(clock(a, b) + clock(b, c) - clock(a, c))).toBeLessThanOrEqual(
          1e-9 * Math.abs(clock(a, c)) + 1e-12,
        );
        expect(clock(a, b)).toBeGreaterThanOrEqual(0);
        expect(clock(a, c)).toBeGreaterThanOrEqual(clock(a, b));
      }),
    );
  });

  it("is positive where every month leaks", () => {
    const warm = fc.array(fc.integer({ min: -15, max: 50 }), { minLength: 12, maxLength: 12 });
    // Far back, a fast growing leak was so small that a span of it is lost in the sum from 0; so no more than 10 years.
    const start = fc.integer({ min: -3650, max: 7300 }).map((day) => day / YEAR_DAYS);
    const growth = fc.integer({ min: -3, max: 9 }).map((tenth) => tenth / 10);
    fc.assert(
      fc.property(warm, days, growth, start, fc.integer({ min: 1, max: 1500 }), (climate, day, g, from, length) => {
        const read = new LeakClock(seasonWeights("R-134a", climate), day, -10, 25).reading(g);
        expect(read(from + length / YEAR_DAYS) - read(from)).toBeGreaterThan(0);
      }),
    );
  });

  it("runs a year in a year of 365.25 days, in any climate, four years together", () => {
    fc.assert(
      fc.property(
        climates,
        fc.integer({ min: dayNumber("1990-01-01"), max: dayNumber("2075-01-01") }),
        (climate, day) => {
          const read = new LeakClock(seasonWeights("R-12", climate), day, 0, 20).reading(0);
          expect(read(4)).toBeCloseTo(4, 10);
          expect(read(20)).toBeCloseTo(20, 9);
        },
      ),
    );
  });
});

describe("dayAt(day, t)", () => {
  it("is the nearest whole day, a half counting up", () => {
    expect(dayAt(1000, 0)).toBe(1000);
    expect(dayAt(1000, 1)).toBe(1365);
    expect(dayAt(1000, 2)).toBe(1731);
    expect(dayAt(1000, -2)).toBe(270);
    expect(dayAt(1000, 4)).toBe(2461);
    expect(dayAt(1000, 0.25 / 365.25)).toBe(1000);
  });
});
