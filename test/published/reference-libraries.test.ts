import { NPV, PV, XNPV } from "@formulajs/formulajs";
import fc from "fast-check";
import jstat from "jstat";
import psychrolib from "psychrolib";
import { describe, expect, it } from "vitest";
import { mixtureQuantile } from "../../src/core/maths/mixture.ts";
import { normalCdf, normalDensity } from "../../src/core/maths/normal.ts";
import { dayNumber } from "../../src/core/quantities/dates.ts";
import { expectedRunning } from "../../src/core/readings/expected.ts";
import { atmosphereKpa } from "../../src/core/refrigerant/atmosphere.ts";
import { rectified } from "../core/maths/rectified.ts";
import { tallied } from "./later-top-offs.ts";

/*
 * General-purpose libraries as independent checks: psychrometrics (psychrolib 1.1.1, after ASHRAE Handbook Fundamentals
 * 2017, chapter 1), spreadsheet finance (formulajs 4.6.1), statistics (jstat 1.9.6). None of them runs in the product.
 */

psychrolib.SetUnitSystem(psychrolib.SI);

describe("air, by psychrometrics", () => {
  it("pressure at an altitude is that of ASHRAE's standard atmosphere within 0.02 %", () => {
    for (let altitude_m = -500; altitude_m <= 5000; altitude_m += 250) {
      const theirs = psychrolib.GetStandardAtmPressure(altitude_m) / 1000;
      expect(Math.abs(atmosphereKpa(altitude_m) / theirs - 1), `${altitude_m} m`).toBeLessThan(2e-4);
    }
  });

  /** Vent air, saturated, of a coil that takes `enthalpy` J/kg from the air; by bisection. */
  function ventOf(ambient_c: number, humidity: number, enthalpy: number, pressure: number): number {
    const of = (t_c: number, share: number) =>
      psychrolib.GetMoistAirEnthalpy(t_c, psychrolib.GetHumRatioFromRelHum(t_c, share, pressure));
    const left = of(ambient_c, humidity) - enthalpy;
    let [low, high] = [-20, ambient_c];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (of(middle, 1) < left) low = middle;
      else high = middle;
    }
    return low;
  }

  // A coil takes the same heat from a kilogram of dry air as of humid air. What drier air is asked to be colder by must
  // be less than what that gives, or a sound system would read weak on a dry day.
  it.each([25, 30, 35, 40])(
    "vent air at %d °C: dry air is not asked to be colder than the same coil makes it",
    (ambient_c) => {
      const pressure = psychrolib.GetStandardAtmPressure(0);
      const asked = (percent: number) => expectedRunning("R-134a", ambient_c, percent).vent_below_c;
      const of = (t_c: number, share: number) =>
        psychrolib.GetMoistAirEnthalpy(t_c, psychrolib.GetHumRatioFromRelHum(t_c, share, pressure));
      const taken = of(ambient_c, 0.65) - of(asked(65), 1);
      expect(taken).toBeGreaterThan(0);
      for (const percent of [60, 50, 40, 30]) {
        expect(asked(percent), `${percent} %`).toBeGreaterThanOrEqual(
          ventOf(ambient_c, percent / 100, taken, pressure),
        );
        expect(asked(percent)).toBeLessThan(asked(percent + 5));
      }
    },
  );
});

const rates = fc.double({ min: -0.05, max: 0.3, noNaN: true });
const amounts = fc.array(fc.double({ min: -10_000, max: 10_000, noNaN: true }), { minLength: 1, maxLength: 30 });

describe("what the options count later, by spreadsheet functions", () => {
  it("NPV of any flows", () => {
    fc.assert(
      fc.property(rates, amounts, (rate, flows) => {
        const theirs = NPV(rate, ...flows) as number;
        const ours = flows.reduce((sum, flow, i) => sum + flow * tallied([i + 1], rate).visits, 0);
        expect(ours).toBeCloseTo(theirs, 5);
      }),
    );
  });

  it("PV of a payment a period", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.3, noNaN: true }),
        fc.integer({ min: 1, max: 40 }),
        (rate, periods) => {
          const yearly = Array.from({ length: periods }, (_, i) => i + 1);
          expect(tallied(yearly, rate).visits).toBeCloseTo(-(PV(rate, periods, 1) as number), 8);
        },
      ),
    );
  });

  it("XNPV: by days over 365", () => {
    const dates = ["2026-05-01", "2026-11-15", "2027-08-01", "2031-02-28"];
    const flows = [-900, 120, 240.5, 800];
    for (const rate of [0.001, 0.03, 0.12]) {
      const theirs = XNPV(
        rate,
        flows,
        dates.map((date) => new Date(`${date}T00:00:00`)),
      ) as number;
      const ours = flows.reduce(
        (sum, flow, i) => sum + flow * tallied([(dayNumber(dates[i]!) - dayNumber(dates[0]!)) / 365], rate).visits,
        0,
      );
      expect(ours).toBeCloseTo(theirs, 6);
    }
  });
});

describe("distributions, by a statistics library", () => {
  it("the normal's share and density", () => {
    for (let z = -6; z <= 6; z += 0.05) {
      expect(normalCdf(z)).toBeCloseTo(jstat.normal.cdf(z, 0, 1), 9);
      expect(normalDensity(z)).toBeCloseTo(jstat.normal.pdf(z, 0, 1), 12);
    }
  });

  it("the mean of what a normal leaves above zero, by Simpson's rule over its density", () => {
    for (const [mean, sd] of [
      [0, 1],
      [1.3, 0.8],
      [-0.7, 1.1],
      [250, 120],
    ] as const) {
      const [to, steps] = [Math.max(0, mean) + 10 * sd, 4000];
      const h = to / steps;
      let sum = 0;
      for (let i = 0; i <= steps; i++) {
        sum += (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * i * h * jstat.normal.pdf(i * h, mean, sd);
      }
      const theirs = (sum * h) / 3;
      expect(rectified(mean, sd * sd)[0] / theirs).toBeCloseTo(1, 6);
    }
  });

  it("quantiles of a log-normal, as a mixture of one", () => {
    const shares = [0.05, 0.25, 0.5, 0.75, 0.95] as const;
    for (const [mean, sd] of [
      [Math.log(0.08), 0.9],
      [Math.log(30), 0.4],
    ] as const) {
      const part = {
        weight: 1,
        quantiles: shares.map((share) => [share, jstat.lognormal.inv(share, mean, sd)] as const),
      };
      for (const share of [0.1, 0.4, 0.5, 0.6, 0.9]) {
        const theirs = jstat.lognormal.inv(share, mean, sd);
        expect(mixtureQuantile([part], share, { log: true }) / theirs, `${share}`).toBeCloseTo(1, 4);
      }
    }
  });
});
