import { describe, expect, test } from "vitest";
import {
  cohortPrior,
  fitCohort,
  GENERAL_PRIOR,
  lnLikelihoodOf,
  ownShare,
  startOf,
  takesPart,
} from "../../../src/core/fleet/cohort.ts";
import { gridWeights, LN_X, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { inventedFleet } from "../../support/fleet-generator.ts";
import { normalRandom, seededRandom } from "../../support/random.ts";

const AS_OF = "2026-05-01";
const request = (log: AssessRequest["log"] = []): AssessRequest => ({
  as_of: AS_OF,
  vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
  log,
});
const TOPPED_OFF = [
  { date: "2023-05-01", finish: "weighed" as const },
  { date: "2024-06-01", cooling: "weak" as const, added_g: 250, added_by: "scale" as const, finish: "gauges" as const },
  { date: "2025-07-01", cooling: "weak" as const, added_g: 260, added_by: "scale" as const, finish: "gauges" as const },
];

/** A log that reads ln x as `y` with a normal error. */
const reading = (y: number, sd: number) => LN_X.map((ln_x) => -0.5 * ((ln_x - y) / sd) ** 2);
const flat = () => new Float64Array(X_COUNT);

describe("lnLikelihoodOf", () => {
  test("does not depend on the prior that made the posterior", () => {
    const question = questionOf(request(TOPPED_OFF));
    const narrow = { ln_x_mean: Math.log(0.6), ln_x_sd: 0.5 };
    const general = lnLikelihoodOf(posteriorOf(question));
    const other = lnLikelihoodOf(posteriorOf(question, { ln_x_prior: narrow }), narrow);
    for (let i = 0; i < X_COUNT; i++) expect(other[i]).toBeCloseTo(general[i]!, 8);
    expect(Math.max(...general)).toBe(0);
  });

  test("is flat without a log", () => {
    const ln = lnLikelihoodOf(posteriorOf(questionOf(request())));
    expect(Math.max(...ln) - Math.min(...ln)).toBeLessThan(1e-9);
  });

  test("stays finite for a log that no leak explains", () => {
    const impossible = Array.from({ length: 60 }, (_, i) => ({
      date: `2026-0${1 + Math.floor(i / 20)}-${String(1 + (i % 20)).padStart(2, "0")}`,
      cooling: i % 2 === 0 ? ("empty" as const) : ("ok" as const),
      recovered_g: i % 3 === 0 ? 640 : null,
    }));
    const ln = lnLikelihoodOf(posteriorOf(questionOf(request(impossible))));
    expect(ln.every((value) => Number.isFinite(value) && value <= 0 && value >= -700)).toBe(true);
  });
});

describe("fitCohort", () => {
  test("of nothing, or of vehicles without a log, is the general prior", () => {
    expect(fitCohort([])).toEqual({ ...GENERAL_PRIOR, vehicles: 0, mean_sd: 0.8 });
    expect(fitCohort([flat(), flat()])).toEqual({ ...GENERAL_PRIOR, vehicles: 0, mean_sd: 0.8 });
  });

  test("of vehicles without a log is what is believed of their kind", () => {
    const bus = startOf(["bus", "bus"]);
    expect(bus).toEqual(questionOf({ ...request(), vehicle: { ...request().vehicle, kind: "bus" } }).leak_prior);
    expect(fitCohort([flat(), flat()], bus)).toEqual({ ...bus, vehicles: 0, mean_sd: 0.8 });
    expect(cohortPrior({ ...fitCohort([flat()], bus) }, bus)).toBe(bus);
  });

  test("of several kinds starts between them, and nobody's kind is as in general", () => {
    const [bus, van] = [startOf(["bus"]), startOf(["van"])];
    expect(startOf([null])).toEqual(GENERAL_PRIOR);
    expect(startOf([])).toEqual(GENERAL_PRIOR);
    const both = startOf(["bus", "van", "van", null]);
    expect(both.ln_x_mean).toBeGreaterThan(bus.ln_x_mean);
    expect(both.ln_x_mean).toBeLessThan(van.ln_x_mean);
  });

  test("few logs stay nearer to where the kind starts; many hardly mind it", () => {
    const bus = startOf(["bus"]);
    const apart = (count: number) => {
      const logs = Array.from({ length: count }, (_, i) => reading(-1 + 0.3 * ((i % 3) - 1), 0.3));
      return fitCohort(logs).ln_x_mean - fitCohort(logs, bus).ln_x_mean;
    };
    expect(apart(3)).toBeGreaterThan(apart(30));
    expect(apart(30)).toBeGreaterThan(0);
    expect(apart(30)).toBeLessThan(0.02);
  });

  test("is not moved by vehicles that say nothing", () => {
    const telling = [-2.5, -1.4, -1.9, -0.9].map((y) => reading(y, 0.3));
    expect(fitCohort([...telling, flat(), flat(), flat()])).toEqual(fitCohort(telling));
  });

  // Readings y ~ N(m, s² + e²) with one known error e: with m ~ N(ln 0.15, 0.8²) the most probable m and s solve
  // m = (Σy/V + ln 0.15/0.64)/(n/V + 1/0.64), V = s² + e² = mean (y − m)². Gelman et al., Bayesian Data Analysis, 3rd
  // ed., §5.4.
  test.each([
    [[-2.6, -1.2, -0.4, -1.9, -2.2, -0.8, -1.5], 0.4],
    [[-3.5, -3.1, -0.2, -0.9], 0.25],
    [[-2.0, -1.0, 0.2, 0.4, -0.7, -2.4, -1.1, -0.3, -1.8], 0.9],
  ])("of normal readings %j has the closed form's mean and spread", (readings, error) => {
    let m = -1.9;
    let v = 1;
    for (let round = 0; round < 10_000; round++) {
      const n = readings.length;
      m = (readings.reduce((sum, y) => sum + y, 0) / v + Math.log(0.15) / 0.64) / (n / v + 1 / 0.64);
      v = Math.max(0.09 + error * error, readings.reduce((sum, y) => sum + (y - m) ** 2, 0) / n);
    }
    const fit = fitCohort(readings.map((y) => reading(y, error)));
    // The grid's ends and its 0.083 steps are what remains.
    expect(fit.ln_x_mean).toBeCloseTo(m, 2);
    expect(fit.ln_x_sd).toBeCloseTo(Math.sqrt(v - error * error), 2);
    expect(fit.vehicles).toBe(readings.length);
  });

  test("is the top of the marginal posterior, found by brute force, for the logs of real vehicles", () => {
    const fleet = inventedFleet({ vehicles: 24, entries: 4, seed: 5, as_of: AS_OF });
    const ln = fleet.map(({ nameplate_g, refrigerant, log }) =>
      lnLikelihoodOf(posteriorOf(questionOf({ as_of: AS_OF, vehicle: { refrigerant, nameplate_g }, log }))),
    );
    const height = (m: number, s: number): number =>
      ln.reduce(
        (sum, one) =>
          sum + Math.log(one.reduce((all, value, i) => all + Math.exp(value - 0.5 * ((LN_X[i]! - m) / s) ** 2) / s, 0)),
        -0.5 * ((m - Math.log(0.15)) / 0.8) ** 2,
      );
    let best = [0, 0.3, -Infinity] as [number, number, number];
    for (let m = -4; m <= 1; m += 0.02) {
      for (let s = 0.3; s <= 2; s += 0.02) {
        const value = height(m, s);
        if (value > best[2]) best = [m, s, value];
      }
    }
    const fit = fitCohort(ln);
    expect(Math.abs(fit.ln_x_mean - best[0])).toBeLessThanOrEqual(0.02);
    expect(Math.abs(fit.ln_x_sd - best[1])).toBeLessThanOrEqual(0.02);
    expect(height(fit.ln_x_mean, fit.ln_x_sd)).toBeGreaterThanOrEqual(best[2]);
  });

  test("never has a spread below 0.3, even of equal vehicles", () => {
    expect(fitCohort(Array.from({ length: 50 }, () => reading(-1, 0.1))).ln_x_sd).toBe(0.3);
  });

  test("of 400 simulated readings recovers their mean and spread within four standard errors", () => {
    const normal = normalRandom(seededRandom(11));
    const [mean, sd, error, n] = [Math.log(0.3), 0.7, 0.5, 400];
    const fit = fitCohort(Array.from({ length: n }, () => reading(mean + sd * normal() + error * normal(), error)));
    const total = sd * sd + error * error;
    expect(Math.abs(fit.ln_x_mean - mean)).toBeLessThan(4 * Math.sqrt(total / n));
    expect(Math.abs(fit.ln_x_sd - sd)).toBeLessThan((4 * total) / (sd * Math.sqrt(2 * n)));
  });

  test("of 300 simulated logs recovers the leak of the group behind them", () => {
    const group = { name: "Vans", refrigerant: "R-134a" as const, nameplate_g: 800, x_median: 0.3, ln_x_sd: 0.6 };
    const fleet = inventedFleet({ vehicles: 300, entries: 8, seed: 3, as_of: AS_OF, groups: [group] });
    const fit = fitCohort(
      fleet.map(({ nameplate_g, refrigerant, log }) =>
        lnLikelihoodOf(
          posteriorOf(questionOf({ as_of: AS_OF, vehicle: { refrigerant, nameplate_g }, log }), { record: false }),
        ),
      ),
    );
    // Sampling alone leaves 0.035 and 0.025; the rest is the filter's approximation and the weak prior.
    expect(Math.abs(fit.ln_x_mean - Math.log(0.3))).toBeLessThan(0.12);
    expect(Math.abs(fit.ln_x_sd - 0.6)).toBeLessThan(0.12);
  });

  test("of 10 000 vague logs, of which EM alone would learn slowly, recovers mean and spread", () => {
    const normal = normalRandom(seededRandom(12));
    const vague = Array.from({ length: 10_000 }, () => reading(-1.9 + 0.6 * normal() + 1.4 * normal(), 1.4));
    const fit = fitCohort(vague);
    // Sampling leaves standard errors of 0.015 and 0.027; the ends of the grid cut a little of such vague logs.
    expect(Math.abs(fit.ln_x_mean + 1.9)).toBeLessThan(0.08);
    expect(Math.abs(fit.ln_x_sd - 0.6)).toBeLessThan(0.12);
  });
});

describe("a vehicle of a cohort", () => {
  const cohort = { ln_x_mean: Math.log(0.5), ln_x_sd: 0.4 };

  test("without a log has its cohort's rate, all of it from its sisters", () => {
    const posterior = posteriorOf(questionOf(request()), { ln_x_prior: cohort });
    const expected = gridWeights(LN_X, cohort.ln_x_mean, cohort.ln_x_sd);
    const by_x = LN_X.map((_, i) => posterior.weight.reduce((sum, w, n) => (n % X_COUNT === i ? sum + w : sum), 0));
    for (let i = 0; i < X_COUNT; i++) expect(by_x[i]).toBeCloseTo(expected[i]!, 12);
    expect(ownShare(posterior, cohort)).toBeCloseTo(0, 9);
  });

  test("with a long log owes less to its sisters than with a short one", () => {
    const share = (entries: number) =>
      ownShare(posteriorOf(questionOf(request(TOPPED_OFF.slice(0, entries))), { ln_x_prior: cohort }), cohort);
    expect(share(2)).toBeGreaterThan(0.1);
    expect(share(3)).toBeGreaterThan(share(2));
    expect(share(3)).toBeLessThan(1);
  });

  test("owes by the precision that a normal log brings: 1/e² of 1/e² + 1/s²", () => {
    const [error, sd] = [0.4, 0.8];
    const weights = gridWeights(LN_X, -1.5, sd).map((w, i) => w * Math.exp(reading(-1.2, error)[i]!));
    const total = weights.reduce((sum, w) => sum + w, 0);
    const weight = Float64Array.from({ length: X_COUNT * 13 }, (_, n) => (n < X_COUNT ? weights[n]! / total : 0));
    expect(ownShare({ weight }, { ln_x_mean: -1.5, ln_x_sd: sd })).toBeCloseTo(
      error ** -2 / (error ** -2 + sd ** -2),
      4,
    );
  });

  test("takes part unless a repair is in its log", () => {
    expect(takesPart(questionOf(request(TOPPED_OFF)))).toBe(true);
    expect(takesPart(questionOf(request([...TOPPED_OFF, { date: "2026-01-01", repair: "hose" }])))).toBe(false);
  });
});

describe("cohortPrior", () => {
  test("moves in steps of 0.05, never below the least spread", () => {
    const { ln_x_mean, ln_x_sd } = cohortPrior({ ln_x_mean: -1.237, ln_x_sd: 0.31, vehicles: 3 });
    expect(ln_x_mean).toBeCloseTo(-1.25, 12);
    expect(ln_x_sd).toBeCloseTo(0.3, 12);
  });

  test("of a vehicle and one sister is the general prior", () => {
    expect(cohortPrior({ ln_x_mean: -0.5, ln_x_sd: 0.3, vehicles: 2 })).toBe(GENERAL_PRIOR);
  });
});
