import { describe, expect, it } from "vitest";
import {
  cdfAndSlope,
  expNegative,
  normalCdf,
  normalCdfFast,
  normalDensity,
  rectifiedMoments,
  rectifyAt,
  softSteps,
  tailFactor,
  upperTail,
} from "../../../src/core/maths/normal.ts";
import { rectified } from "./rectified.ts";

describe("normalCdf and normalDensity (Abramowitz and Stegun, 1964, table 26.1, fifteen and ten decimals; from memory)", () => {
  it.each([
    { x: 0.0, cdf: 0.5, density: 0.3989422804 },
    { x: 0.5, cdf: 0.691462461274013, density: 0.3520653268 },
    { x: 1.0, cdf: 0.841344746068543, density: 0.2419707245 },
    { x: 1.5, cdf: 0.933192798731142, density: 0.1295175957 },
    { x: 2.0, cdf: 0.977249868051821, density: 0.0539909665 },
    { x: 2.5, cdf: 0.993790334674224, density: 0.0175283005 },
    { x: 3.0, cdf: 0.99865010196837, density: 0.0044318484 },
    { x: 3.5, cdf: 0.999767370920964, density: 0.0008726827 },
    { x: 4.0, cdf: 0.999968328758167, density: 0.0001338302 },
    { x: 4.5, cdf: 0.999996602326875, density: 0.0000159837 },
    { x: 5.0, cdf: 0.999999713348428, density: 0.0000014867 },
  ])("at $x", ({ x, cdf, density }) => {
    expect(Math.abs(normalCdf(x) - cdf)).toBeLessThanOrEqual(0.6e-15);
    expect(Math.abs(normalCdf(-x) - (1 - cdf))).toBeLessThanOrEqual(0.6e-15);
    expect(Math.abs(normalDensity(x) - density)).toBeLessThanOrEqual(0.51e-10);
    expect(normalDensity(-x)).toBe(normalDensity(x));
  });
});

describe("the tail beyond z, relative to erfc(z/√2)/2 in 50-digit arithmetic, fifteen digits", () => {
  // The seam between the rational and the continued fraction lies at 7.071.
  it.each([
    { z: 0.01, tail: 0.4960106436853684, within: 1e-15 },
    { z: 0.5, tail: 0.3085375387259869, within: 1e-15 },
    { z: 1, tail: 0.158655253931457, within: 2e-15 },
    { z: 2, tail: 0.0227501319481792, within: 5e-15 },
    { z: 3, tail: 0.00134989803163009, within: 2e-14 },
    { z: 5, tail: 2.86651571879194e-7, within: 6e-11 },
    { z: 7, tail: 1.279812543885835e-12, within: 3e-9 },
    { z: 7.07, tail: 7.74668486563649e-13, within: 3e-9 },
    { z: 7.08, tail: 7.20772308646748e-13, within: 1e-10 },
    { z: 8, tail: 6.22096057427178e-16, within: 1e-11 },
    { z: 10, tail: 7.61985302416053e-24, within: 1e-12 },
    { z: 15, tail: 3.67096619931275e-51, within: 1e-13 },
    { z: 20, tail: 2.75362411860623e-89, within: 1e-13 },
    { z: 30, tail: 4.90671392714819e-198, within: 1e-13 },
    { z: 37, tail: 5.72557122252458e-300, within: 1e-13 },
  ])("at $z", ({ z, tail, within }) => {
    expect(Math.abs((Math.exp(-0.5 * z * z) * tailFactor(z)) / tail - 1)).toBeLessThan(within);
    expect(Math.abs(normalCdf(-z) / tail - 1)).toBeLessThan(within);
    // From its table the tail is as good everywhere, and better where the rational is at its worst.
    if (z <= 9) expect(Math.abs(upperTail(z) / tail - 1)).toBeLessThan(1e-11);
  });

  it("normalCdf(z) + normalCdf(−z) is 1, and it rises", () => {
    let before = 0;
    for (let z = -9; z <= 9; z += 0.01) {
      expect(normalCdf(z) + normalCdf(-z)).toBeCloseTo(1, 15);
      expect(normalCdf(z)).toBeGreaterThanOrEqual(before);
      before = normalCdf(z);
    }
  });
});

describe("expNegative(x)", () => {
  it("is Math.exp(−x) within 1e-13", () => {
    for (let x = 0; x < 700; x += x < 60 ? 0.001_37 : 0.731) {
      expect(Math.abs(expNegative(x) / Math.exp(-x) - 1)).toBeLessThan(1e-13);
    }
  });

  it("is 1 at 0, 0 far out", () => {
    expect(expNegative(0)).toBe(1);
    expect(expNegative(2000)).toBe(0);
    expect(expNegative(Infinity)).toBe(0);
  });
});

describe("rectifyAt(mean, variance, n, covariance)", () => {
  /** Moments of max(0, m), by Simpson's rule on the part of the density above zero. */
  function integrated(mean: number, variance: number): [mean: number, variance: number] {
    const sd = Math.sqrt(variance);
    const low = Math.max(0, mean - 12 * sd);
    const high = mean + 12 * sd;
    const steps = 20_000;
    const width = (high - low) / steps;
    let first = 0;
    let second = 0;
    for (let i = 0; i <= steps; i++) {
      const m = low + i * width;
      const density = Math.exp(-0.5 * ((m - mean) / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI));
      const simpson = (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * (width / 3) * density;
      first += simpson * m;
      second += simpson * m * m;
    }
    return [first, second - first * first];
  }

  it.each([
    { mean: 0, variance: 1 },
    { mean: 390, variance: 162.5 ** 2 },
    { mean: 50, variance: 100 ** 2 },
    { mean: -50, variance: 100 ** 2 },
    { mean: -300, variance: 100 ** 2 },
    { mean: 790, variance: 100 ** 2 },
  ])("of N($mean, $variance) is what integration gives", ({ mean, variance }) => {
    const [rectified_mean, rectified_variance] = rectified(mean, variance);
    const [by_integration, variance_by_integration] = integrated(mean, variance);
    expect(rectified_mean).toBeCloseTo(by_integration, 7);
    expect(rectified_variance / variance).toBeCloseTo(variance_by_integration / variance, 9);
  });

  it("of a standard normal is 1/√(2π), 1/2 − 1/(2π) (integrals of z·φ and z²·φ above 0)", () => {
    const [mean, variance] = rectified(0, 1);
    expect(mean).toBeCloseTo(1 / Math.sqrt(2 * Math.PI), 15);
    expect(variance).toBeCloseTo(0.5 - 1 / (2 * Math.PI), 15);
  });

  it.each([
    // Moments of max(0, m) from erfc: Q and φ at 5 and 6.5; the digits that cancel are lost to 1e-11.
    { z: 5, mean: 5.346_165_533_832e-8, variance: 1.934_329_232_94e-8 },
    { z: 6.5, mean: 5.915_623_525_442e-12, variance: 1.708_452_923_18e-12 },
  ])("of a normal $z sd below zero keeps its digits", ({ z, mean, variance }) => {
    const [rectified_mean, rectified_variance] = rectified(-z, 1);
    expect(rectified_mean / mean).toBeCloseTo(1, 10);
    expect(rectified_variance / variance).toBeCloseTo(1, 9);
  });

  it("leaves of a covariance the share of the normal that is above zero", () => {
    const covariance = Float64Array.of(3, 3, 3);
    const mean = Float64Array.of(1, 9, -9);
    for (let n = 0; n < 3; n++) rectifyAt(mean, Float64Array.of(1, 1, 1), n, covariance);
    expect(covariance[0]).toBeCloseTo(3 * 0.841344746068543, 12);
    expect([covariance[1], covariance[2]]).toEqual([3, 0]);
  });

  it("leaves a normal eight sd above zero as it is, and nothing of one eight sd below", () => {
    expect(rectified(800, 100 ** 2)).toEqual([800, 100 ** 2]);
    expect(rectified(-800, 100 ** 2)).toEqual([0, 0]);
    expect(rectified(5, 0)).toEqual([5, 0]);
    expect(rectified(0, 0)).toEqual([0, 0]);
    expect(rectified(-5, 0)).toEqual([0, 0]);
  });
});

describe("normalCdfFast", () => {
  it("is normalCdf within 1e-13, and nothing or all far out", () => {
    let worst = 0;
    for (let z = -9; z <= 9; z += 1 / 1024) worst = Math.max(worst, Math.abs(normalCdfFast(z) - normalCdf(z)));
    expect(worst).toBeLessThan(1e-13);
    expect([normalCdfFast(-40), normalCdfFast(40)]).toEqual([0, 1]);
    expect([normalCdfFast(-Infinity), normalCdfFast(Infinity)]).toEqual([0, 1]);
  });
});

describe("cdfAndSlope(weights, lines, x, into)", () => {
  it("is the sum of weighted chances, and what it rises by", () => {
    const weights = Float64Array.of(0.2, 0.3, 0.5, 7);
    // The last is beyond `count`.
    const lines = { from: Float64Array.of(-1, 2, -30, 1), slope: Float64Array.of(0.5, 2, 9, 1), count: 3 };
    const into = new Float64Array(2);
    for (const x of [-4, -1, 0, 0.3, 2, 3.2, 3.4, 5]) {
      cdfAndSlope(weights, lines, x, into);
      const z = [-1 + 0.5 * x, 2 + 2 * x, -30 + 9 * x];
      const sum = 0.2 * normalCdf(z[0]!) + 0.3 * normalCdf(z[1]!) + 0.5 * normalCdf(z[2]!);
      const rise = 0.1 * normalDensity(z[0]!) + 0.6 * normalDensity(z[1]!) + 4.5 * normalDensity(z[2]!);
      expect(Math.abs(into[0]! - sum)).toBeLessThan(1e-14);
      expect(Math.abs(into[1]! - rise)).toBeLessThan(1e-11);
    }
  });
});

describe("rectifiedMoments(which, weight, normals, into)", () => {
  it("is the mean of max(0, m) and of its square, as integrated by Simpson's rule", () => {
    const normals = { mean: Float64Array.of(3, -2, 0.5, -400, 500), variance: Float64Array.of(4, 9, 1, 16, 25) };
    const weight = Float64Array.of(0.1, 0.2, 0.3, 0.25, 0.15);
    const into = new Float64Array(2);
    rectifiedMoments(Int32Array.of(0, 1, 2, 3), weight, normals, into);
    const integral = (power: number): number => {
      const [steps, top] = [40_000, 40];
      let sum = 0;
      for (let i = 1; i <= steps; i++) {
        const m = (i * top) / steps;
        const density = [0, 1, 2].reduce((all, n) => {
          const sd = Math.sqrt(normals.variance[n]!);
          return all + (weight[n]! * normalDensity((m - normals.mean[n]!) / sd)) / sd;
        }, 0);
        sum += (i === steps ? 1 : i % 2 === 1 ? 4 : 2) * m ** power * density;
      }
      return (sum * top) / steps / 3;
    };
    expect(into[0]! / integral(1)).toBeCloseTo(1, 10);
    expect(into[1]! / integral(2)).toBeCloseTo(1, 10);
  });

  it("keeps the digits of `rectifyAt` however far below zero", () => {
    const into = new Float64Array(2);
    for (let z = -7.9; z < 8; z += 0.01) {
      const [mean, variance] = rectified(3 * z, 9);
      rectifiedMoments(
        Int32Array.of(0),
        Float64Array.of(1),
        { mean: Float64Array.of(3 * z), variance: Float64Array.of(9) },
        into,
      );
      expect(Math.abs(into[0]! / mean - 1)).toBeLessThan(1e-9);
      expect(Math.abs(into[1]! / (variance + mean * mean) - 1)).toBeLessThan(1e-9);
    }
  });
});

describe("softSteps(z, mistaken, chance, slope)", () => {
  it("is a chance of Φ(z) but for mistakes, and the slope of its logarithm; clear beyond nine sd", () => {
    const z = Float64Array.from({ length: 20 * 64 + 1 }, (_, i) => i / 64 - 10);
    const chance = z.slice();
    const slope = z.slice();
    softSteps(z, 0.005, chance, slope);
    for (const [n, one] of z.entries()) {
      const clear = Math.abs(one) > 9;
      const expected = 0.005 + 0.99 * normalCdf(one);
      expect(Math.abs(chance[n]! - expected)).toBeLessThan(1e-14);
      expect(Math.abs(slope[n]! - (clear ? 0 : (0.99 * normalDensity(one)) / expected))).toBeLessThan(1e-11);
      if (clear) expect([slope[n], chance[n]]).toEqual([0, one > 0 ? 0.995 : 0.005]);
    }
  });
});
