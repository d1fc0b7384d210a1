import jstat from "jstat";
import { describe, expect, test } from "vitest";
import { leakPriors } from "../../data/leak-priors.ts";
import { assess } from "../../src/core/assess.ts";
import type { AssessRequest, VehicleKind } from "../../src/core/question/contract.ts";

/*
 * What is believed of a leak before there is a log, by kind of vehicle, against the averages published for it.
 * Log-normal distribution: jstat 1.9.6. Charges and spread are working assumptions of ours.
 */

/** ERG for the California Air Resources Board, 06-342: heavy-duty vehicles of all model years, large transit buses. */
const PUBLISHED = [
  { kind: "heavy-vehicle", g_per_year: 257, charge_g: 1200 },
  { kind: "bus", g_per_year: 1340, charge_g: 7700 },
] as const;

function asked(nameplate_g: number, kind?: VehicleKind | null): AssessRequest {
  return {
    as_of: "2026-05-01",
    vehicle: { refrigerant: "R-134a", nameplate_g, ...(kind === undefined ? {} : { kind }) },
  };
}

describe.each(PUBLISHED)("a $kind without a log", ({ kind, g_per_year, charge_g }) => {
  const { ln_x_mean, ln_x_sd } = leakPriors[kind];
  const { leak } = assess(asked(charge_g, kind), { sensitivity: false });

  test("loses on average what was published", () => {
    expect(jstat.lognormal.mean(ln_x_mean, ln_x_sd) * charge_g).toBeCloseTo(g_per_year, 6);
    // The grid ends at eight charges a year.
    expect(leak.g_per_year.mean / g_per_year).toBeGreaterThan(0.97);
    expect(leak.g_per_year.mean / g_per_year).toBeLessThan(1.01);
  });

  test("has the log-normal's best estimate and likely range", () => {
    for (const [name, p] of [
      ["p05", 0.05],
      ["p25", 0.25],
      ["median", 0.5],
      ["p75", 0.75],
      ["p95", 0.95],
    ] as const)
      expect(Math.log(leak.fraction_per_year[name] / jstat.lognormal.inv(p, ln_x_mean, ln_x_sd)), name).toBeCloseTo(
        0,
        1,
      );
  });
});

test("a bus of 7.7 kg that loses 1 kg a year loses 13 % (Schwarz 2007), well inside the likely range of its kind", () => {
  expect(1000 / leakPriors.bus.published.charge_g).toBeCloseTo(0.13, 2);
  const { fraction_per_year } = assess(asked(7700, "bus"), { sensitivity: false }).leak;
  expect(fraction_per_year.p25).toBeLessThan(0.13);
  expect(fraction_per_year.p75).toBeGreaterThan(0.13);
});

test("a car, a van and a vehicle of which nobody said what it is are answered alike, as the model text has it", () => {
  const general = assess(asked(650));
  for (const kind of ["car", "van", null] as const) expect(assess(asked(650, kind))).toEqual(general);
  expect(assess(asked(650, "bus")).leak).not.toEqual(general.leak);
});

test("the more a log says, the less the kind matters", () => {
  const log = [2021, 2022, 2023, 2024, 2025].map((year) => ({
    date: `${year}-06-01`,
    cooling: "weak" as const,
    added_g: 260,
    added_by: "scale" as const,
    finish: "gauges" as const,
  }));
  const apart = (entries: typeof log) => {
    const of = (kind: VehicleKind) => assess({ ...asked(650, kind), log: entries }).leak.fraction_per_year.median;
    return Math.log(of("car") / of("bus"));
  };
  expect(apart([])).toBeGreaterThan(0.4);
  expect(Math.abs(apart(log))).toBeLessThan(0.05);
});
