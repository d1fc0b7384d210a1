import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { cellQuantile, lastsLessThan } from "../../../src/core/leak/leak.ts";
import { GROWTH, NODES, X, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { normalCdf } from "../../../src/core/maths/normal.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { AS_OF, carRequest, daysAgo, toppedOffEvery } from "../samples.ts";

const M0 = 650;

describe("cellQuantile(points, weights, step, p)", () => {
  // Cells [0.5, 1.5], [1.5, 2.5], [2.5, 3.5] holding 0.2, 0.5, 0.3.
  const points = Float64Array.of(1, 2, 3);
  const weights = Float64Array.of(0.2, 0.5, 0.3);
  it.each([
    { p: 0, is: 0.5 },
    { p: 0.1, is: 1 },
    { p: 0.2, is: 1.5 },
    { p: 0.45, is: 2 },
    { p: 0.7, is: 2.5 },
    { p: 0.85, is: 3 },
    { p: 1, is: 3.5 },
  ])("at $p is $is", ({ p, is }) => {
    expect(cellQuantile(points, weights, 1, p)).toBeCloseTo(is, 12);
  });

  it("does not mind how weights are scaled, nor empty cells", () => {
    expect(cellQuantile(points, Float64Array.of(2, 5, 3), 1, 0.45)).toBeCloseTo(2, 12);
    expect(cellQuantile(points, Float64Array.of(0, 1, 0), 1, 0)).toBe(1.5);
    expect(cellQuantile(points, Float64Array.of(0, 1, 0), 1, 1)).toBe(2.5);
  });
});

describe("how long a full charge lasts", () => {
  const question = questionOf(carRequest(toppedOffEvery(365, 3)));
  const posterior = posteriorOf(question);
  const { leak } = assess(carRequest(toppedOffEvery(365, 3)), { sensitivity: false });

  /** Σ w·Φ((b + k·T − M0)/sd b), summed here. */
  const directly = (years: number) => {
    let sum = 0;
    for (let n = 0; n < NODES; n++) {
      const k = X[n % X_COUNT]! * M0;
      sum += posterior.weight[n]! * normalCdf((posterior.mean_b[n]! + k * years - M0) / Math.sqrt(posterior.var_b[n]!));
    }
    return sum;
  };

  it("lastsLessThan is the mixture over nodes, and its quantiles are its roots", () => {
    for (const years of [0.1, 0.5, 1, 4, 50])
      expect(lastsLessThan(posterior, M0, years)).toBeCloseTo(directly(years), 12);
    const { p05, median, p95 } = leak.full_charge_lasts_months;
    expect(directly(p05 / 12)).toBeCloseTo(0.05, 8);
    expect(directly(median / 12)).toBeCloseTo(0.5, 8);
    expect(directly(p95 / 12)).toBeCloseTo(0.95, 8);
  });

  it("classes end at 6 and 18 months and 4 years, and add to 1", () => {
    const { fast, moderate, slow, seep } = leak.class;
    expect(fast).toBeCloseTo(directly(0.5), 12);
    expect(fast + moderate).toBeCloseTo(directly(1.5), 12);
    expect(fast + moderate + slow).toBeCloseTo(directly(4), 12);
    expect(fast + moderate + slow + seep).toBeCloseTo(1, 12);
  });

  it("is about 40 % of the charge over the leak rate", () => {
    expect(
      leak.full_charge_lasts_months.median / ((12 * (M0 - leak.low_below_g)) / leak.g_per_year.median),
    ).toBeCloseTo(1, 1);
  });
});

describe("charge now", () => {
  it("of a car filled by weight today is the nameplate, to 15 g", () => {
    const { charge_now_g } = assess(carRequest([{ date: AS_OF, finish: "weighed" }]), { sensitivity: false }).leak;
    expect(charge_now_g.mean).toBeCloseTo(M0, 9);
    // 1.644854 sd either way (Abramowitz and Stegun, table 26.5; from memory).
    expect(charge_now_g.p05).toBeCloseTo(M0 - 1.644854 * 15, 4);
    expect(charge_now_g.p95).toBeCloseTo(M0 + 1.644854 * 15, 4);
  });

  it("of a car whose refrigerant was recovered today is nothing", () => {
    const { charge_now_g } = assess(carRequest([{ date: AS_OF, recovered_g: 200 }]), { sensitivity: false }).leak;
    // Twice the least sd of a node, a millionth of nameplate.
    expect(charge_now_g.mean).toBe(0);
    expect(charge_now_g.p05).toBe(0);
    expect(charge_now_g.p95).toBeLessThan(2e-6 * M0);
  });

  it("falls with time and never below zero", () => {
    let before = Infinity;
    for (const days of [0, 30, 365, 2000, 14_000]) {
      const { mean, p05 } = assess(carRequest([{ date: daysAgo(days), finish: "weighed" }]), { sensitivity: false })
        .leak.charge_now_g;
      expect(mean).toBeLessThan(before);
      expect(p05).toBeGreaterThanOrEqual(0);
      before = mean;
    }
    expect(before).toBeGreaterThanOrEqual(0);
  });
});

describe("repair_sure_date", () => {
  const repaired = (days: number, id: LogEntry["repair"], looks: LogEntry[] = []): LogEntry[] => [
    { date: daysAgo(days + 250), finish: "weighed" },
    { date: daysAgo(days), cooling: "weak", finish: "weighed", repair: id },
    ...looks,
  ];
  const dateOf = (log: LogEntry[], holds?: number) =>
    assess(carRequest(log, holds === undefined ? {} : { prices: { locations: { joint: { holds } } } }), {
      sensitivity: false,
    }).leak.repair_sure_date;

  it("is null without a repair, today where it is sure already", () => {
    expect(dateOf([{ date: daysAgo(300), finish: "weighed" }])).toBeNull();
    expect(dateOf(repaired(0, "condenser"))).toBe(AS_OF); // 0.95 by itself
  });

  it("is the first quarter at which one more ok look makes it 0.9, by logging that look then", () => {
    const log = repaired(60, "joint");
    const date = dateOf(log, 0.8)!;
    const quarters = ["2026-07-31", "2026-10-31", "2027-01-30", "2027-05-01", "2027-08-01", "2027-10-31", "2028-01-30"];
    expect(quarters).toContain(date);
    // The same look, asked on that day and on the quarter before: the log's own filter must agree.
    const held = (as_of: string) =>
      assess(
        {
          ...carRequest([...log, { date: as_of, cooling: "ok" }], { prices: { locations: { joint: { holds: 0.8 } } } }),
          as_of,
        },
        { sensitivity: false },
      ).leak.repair_held!;
    expect(held(date)).toBeGreaterThanOrEqual(0.9 - 0.005);
    const before = quarters[quarters.indexOf(date) - 1];
    if (before !== undefined) expect(held(before)).toBeLessThan(0.9 + 0.005);
  });
});

describe("growth", () => {
  it("is believed around 5 % a year without a log, between the grid's ends", () => {
    const { growth_per_year } = assess(carRequest(), { sensitivity: false }).leak;
    // N(0.05, 0.15) cut below −0.3 and above 0.9: hardly.
    expect(growth_per_year.mean).toBeCloseTo(0.05, 2);
    expect(growth_per_year.p05).toBeCloseTo(0.05 - 1.645 * 0.15, 1);
    expect(growth_per_year.p95).toBeCloseTo(0.05 + 1.645 * 0.15, 1);
    expect(GROWTH[0]).toBe(-0.3);
    expect(GROWTH[12]).toBe(0.9);
  });

  it("is seen where spells shorten", () => {
    const log = [1500, 900, 500, 230].map(
      (days): LogEntry => ({
        date: daysAgo(days),
        cooling: "weak",
        added_g: 289,
        finish: "gauges",
      }),
    );
    const growing = assess(carRequest([...log, { date: AS_OF, cooling: "weak" }]), { sensitivity: false }).leak;
    const steady = assess(carRequest(toppedOffEvery(365, 4)), { sensitivity: false }).leak;
    expect(growing.growth_per_year.mean).toBeGreaterThan(0.1);
    expect(growing.growth_per_year.mean).toBeGreaterThan(steady.growth_per_year.mean + 0.1);
  });
});
