/**
 * The standard normal distribution.
 *
 * Upper tail Q(z) = e^{−z²/2} · f(|z|) with the rational f of Hart (1968), table 5666, up to |z| = 7.07, and beyond it
 * a continued fraction. Absolute error under 2e-16; relative error under 1e-12 to z = 4 and 3e-9 beyond, worst near the
 * seam at 7 (measured against erfc in 50-digit arithmetic, see test/core/maths/normal.test.ts). The exponential is left
 * to the caller of `tailFactor`, because hot loops want the density too and one exponential serves both.
 */

const INV_SQRT_2PI = 0.3989422804014327;
/** 95 % quantile of the standard normal distribution: nine of ten lie within as many sd either way. */
export const NORMAL_95 = 1.6448536269514722;
const HART_LIMIT = 7.07106781186547;

/**
 * f(a) for a = |z| ≥ 0, so that the upper tail beyond a is `Math.exp(-a*a/2) * tailFactor(a)`.
 *
 * @internal Called from outside by tests alone.
 */
export function tailFactor(a: number): number {
  if (a < HART_LIMIT) {
    return (
      ((((((0.0352624965998911 * a + 0.700383064443688) * a + 6.37396220353165) * a + 33.912866078383) * a +
        112.079291497871) *
        a +
        221.213596169931) *
        a +
        220.206867912376) /
      (((((((0.0883883476483184 * a + 1.75566716318264) * a + 16.064177579207) * a + 86.7807322029461) * a +
        296.564248779674) *
        a +
        637.333633378831) *
        a +
        793.826512519948) *
        a +
        440.413735824752)
    );
  }
  return INV_SQRT_2PI / (a + 1 / (a + 2 / (a + 3 / (a + 4 / (a + 5 / (a + 6 / (a + 7 / (a + 8 / a))))))));
}

const EXP_STEPS = 64;
const EXP_LIMIT = 48;
const EXP_TABLE = Float64Array.from({ length: EXP_LIMIT * EXP_STEPS + 1 }, (_, i) => Math.exp(-i / EXP_STEPS));

/**
 * e^{−x} for x ≥ 0 from a table and six terms of its series, within 1e-13 relative: half the time of Math.exp, which
 * the filter's inner loop calls tens of thousands of times.
 */
export function expNegative(x: number): number {
  if (x >= EXP_LIMIT) return Math.exp(-x);
  const i = (x * EXP_STEPS) | 0;
  const r = i / EXP_STEPS - x;
  return EXP_TABLE[i]! * (1 + r * (1 + r * (0.5 + r * (1 / 6 + r * (1 / 24 + r * (1 / 120))))));
}

/** e^{−rate·t} for t ≥ 0 and a rate of either sign, as near as `expNegative`. */
export function decayed(rate: number, t: number): number {
  return rate >= 0 ? expNegative(rate * t) : 1 / expNegative(-rate * t);
}

/** Φ(z), the chance that a standard normal is below z. */
export function normalCdf(z: number): number {
  const tail = Math.exp(-0.5 * z * z) * tailFactor(Math.abs(z));
  return z > 0 ? 1 - tail : tail;
}

const TAIL_STEPS = 128;
const TAIL_LIMIT = 9.5;
const TAIL_TERMS = 6;
/** From here outward the continued fraction converges in the number of terms below. */
const FRACTION_FROM = 2;
const FRACTION_TERMS = 200;
const TAIL_TABLE = tailTable();

/** Q(a) for a ≥ 0 within 1e-14 of itself: what the table rests on. */
function tailExactly(a: number): number {
  if (a < FRACTION_FROM) return normalCdf(-a);
  let below = a;
  for (let term = FRACTION_TERMS; term >= 1; term--) below = a + term / below;
  return normalDensity(a) / below;
}

/**
 * Taylor series of Q about each step: Q^{(k)} = (−1)^k·He_{k−1}·φ, with the Hermite polynomials
 * He_{k+1} = a·He_k − k·He_{k−1} (Abramowitz and Stegun 1964, 26.2.31 and 22.7.14; from memory).
 */
function tailTable(): Float64Array {
  const points = TAIL_LIMIT * TAIL_STEPS + 1;
  const table = new Float64Array(points * TAIL_TERMS);
  for (let i = 0; i < points; i++) {
    const a = i / TAIL_STEPS;
    const density = normalDensity(a);
    table[i * TAIL_TERMS] = tailExactly(a);
    let before = 0;
    let hermite = 1;
    let per_factorial = 1;
    for (let k = 1; k < TAIL_TERMS; k++) {
      per_factorial /= -k;
      table[i * TAIL_TERMS + k] = per_factorial * hermite * density;
      [before, hermite] = [hermite, a * hermite - (k - 1) * before];
    }
  }
  return table;
}

/**
 * Q(a), the chance that a standard normal is above a, 0 ≤ a < 9.5: within 1e-11 of itself, by a look-up alone.
 *
 * @internal Called from outside by tests alone.
 */
export function upperTail(a: number): number {
  const i = (a * TAIL_STEPS + 0.5) | 0;
  const r = a - i / TAIL_STEPS;
  const r2 = r * r;
  const at = i * TAIL_TERMS;
  // Summed in pairs, so that the processor can work on several at once.
  return (
    TAIL_TABLE[at]! +
    r * TAIL_TABLE[at + 1]! +
    r2 * (TAIL_TABLE[at + 2]! + r * TAIL_TABLE[at + 3]! + r2 * (TAIL_TABLE[at + 4]! + r * TAIL_TABLE[at + 5]!))
  );
}

/** φ(a), 0 ≤ a < 9.5, from the same table: its slope. Within 1e-11 of φ(0). */
function tailDensity(a: number): number {
  const i = (a * TAIL_STEPS + 0.5) | 0;
  const r = a - i / TAIL_STEPS;
  const at = i * TAIL_TERMS;
  return -(
    TAIL_TABLE[at + 1]! +
    r * (2 * TAIL_TABLE[at + 2]!) +
    r * r * (3 * TAIL_TABLE[at + 3]! + r * (4 * TAIL_TABLE[at + 4]!) + r * r * (5 * TAIL_TABLE[at + 5]!))
  );
}

/** Beyond this many sd from 0 less than 5e-17 of a normal is left. */
const SURE = 8.3;

/** Φ(z) from the same table: within 1e-15, for sums over many nodes. */
export function normalCdfFast(z: number): number {
  if (z >= SURE) return 1;
  if (z <= -SURE) return 0;
  return z > 0 ? 1 - upperTail(z) : upperTail(-z);
}

/**
 * Σ `weights`·Φ(`z`) over the first `count` of each: `normalCdfFast` in a loop of its own, where no number is passed
 * from function to function, each in memory of its own.
 */
export function sumOfCdf(weights: Float64Array, z: Float64Array, count: number): number {
  let sum = 0;
  for (let n = 0; n < count; n++) {
    const a = Math.abs(z[n]!);
    if (a >= SURE) {
      if (z[n]! > 0) sum += weights[n]!;
      continue;
    }
    const tail = upperTail(a);
    sum += weights[n]! * (z[n]! > 0 ? 1 - tail : tail);
  }
  return sum;
}

/**
 * Σ `weights`·Φ(`from` + `slope`·x) over the first `count` of each, to `into[0]`, and its derivative by x, to
 * `into[1]`, both from one look at the table.
 */
export function cdfAndSlope(
  weights: Float64Array,
  { from, slope, count }: { from: Float64Array; slope: Float64Array; count: number },
  x: number,
  into: Float64Array,
): void {
  let sum = 0;
  let rise = 0;
  for (let n = 0; n < count; n++) {
    const z = from[n]! + slope[n]! * x;
    const a = Math.abs(z);
    if (a >= SURE) {
      if (z > 0) sum += weights[n]!;
      continue;
    }
    const tail = upperTail(a);
    sum += weights[n]! * (z > 0 ? 1 - tail : tail);
    rise += weights[n]! * tailDensity(a) * slope[n]!;
  }
  into[0] = sum;
  into[1] = rise;
}

/** A step this many sd away is clear: the density there is under 1e-18. */
const CLEAR_STEP = 9;
/** A point of `BELOW_TABLE` has a cache line of its own. */
const BELOW_STRIDE = 8;
const BELOW_HALF = CLEAR_STEP * TAIL_STEPS;
/** A power of two: an index cut to so many points cannot leave the table, which the engine then need not check. */
const BELOW_POINTS = 4096;
const BELOW_MASK = BELOW_POINTS - 1;
/** Next to no chance, but not 0, which could not be divided by. */
const NO_CHANCE = 1e-300;
const BELOW_TABLE = belowTable();

/** The series of Φ about each step from −9 to 9 sd, both of which are clear: for a loop that takes either sign. */
function belowTable(): Float64Array {
  const table = new Float64Array(BELOW_POINTS * BELOW_STRIDE);
  for (let i = 1 - BELOW_HALF; i < BELOW_HALF; i++) {
    const at = (i + BELOW_HALF) * BELOW_STRIDE;
    for (let k = 0; k < TAIL_TERMS; k++) {
      const term = TAIL_TABLE[Math.abs(i) * TAIL_TERMS + k]!;
      // Φ(z) = 1 − Q(z) above 0; Q(−z) below, where odd terms change their sign.
      if (i > 0) table[at + k] = k === 0 ? 1 - term : -term;
      else table[at + k] = k % 2 === 1 ? -term : term;
    }
  }
  table[0] = NO_CHANCE;
  table[2 * BELOW_HALF * BELOW_STRIDE] = 1;
  return table;
}

/**
 * Soft steps, for each of the first `count` of `z`: the chance `mistaken` + (1 − 2·`mistaken`)·Φ(z), and the slope of
 * its logarithm, which is exactly 0 more than nine sd away. A loop of its own without a branch, since the work of one
 * node then does not wait for that of another.
 */
export function softSteps(
  z: Float64Array,
  mistaken: number,
  chance: Float64Array,
  slope: Float64Array,
  count = z.length,
): void {
  const table = BELOW_TABLE;
  const sure = 1 - 2 * mistaken;
  for (let n = 0; n < count; n++) {
    const one = Math.max(-CLEAR_STEP, Math.min(CLEAR_STEP, z[n]!));
    const i = (one * TAIL_STEPS + (BELOW_HALF + 0.5)) & BELOW_MASK;
    const r = one - (i - BELOW_HALF) / TAIL_STEPS;
    const r2 = r * r;
    const at = i * BELOW_STRIDE;
    const c1 = table[at + 1]!;
    const c2 = table[at + 2]!;
    const c3 = table[at + 3]!;
    const c4 = table[at + 4]!;
    const c5 = table[at + 5]!;
    const below = table[at]! + r * c1 + r2 * (c2 + r * c3 + r2 * (c4 + r * c5));
    const density = c1 + r * (2 * c2) + r2 * (3 * c3 + r * (4 * c4) + r2 * (5 * c5));
    const seen = mistaken + sure * below;
    chance[n] = seen;
    slope[n] = (sure * density) / seen;
  }
}

/** φ(z), the standard normal density. */
export function normalDensity(z: number): number {
  return INV_SQRT_2PI * Math.exp(-0.5 * z * z);
}

/** Beyond this many sd from zero a normal needs no rectifying: practically all of it, or nothing, is left. */
export const RECTIFY_LIMIT = 8;
/** So many sd below zero what is left of a normal is a small difference: its density needs every digit. */
export const FAR_BELOW = 3;

/**
 * A normal variable m below zero counts as zero: its mean and variance at `n` become those of max(0, m), and its
 * covariance with another variable, if given, what is left of it.
 */
export function rectifyAt(mean: Float64Array, variance: Float64Array, n: number, covariance?: Float64Array): void {
  const mean_m = mean[n]!;
  const var_m = variance[n]!;
  if (mean_m * mean_m >= RECTIFY_LIMIT * RECTIFY_LIMIT * var_m) {
    if (mean_m > 0 || (mean_m === 0 && var_m === 0)) return;
    mean[n] = 0;
    variance[n] = 0;
    if (covariance !== undefined) covariance[n] = 0;
    return;
  }
  const sd = Math.sqrt(var_m);
  const alpha = mean_m / sd;
  const tail = upperTail(Math.abs(alpha));
  const above = alpha > 0 ? 1 - tail : tail;
  const density = INV_SQRT_2PI * expNegative(0.5 * alpha * alpha);
  const rectified = mean_m * above + sd * density;
  mean[n] = rectified;
  variance[n] = Math.max(0, (mean_m * mean_m + var_m) * above + mean_m * sd * density - rectified * rectified);
  if (covariance !== undefined) covariance[n]! *= above;
}

/**
 * The mean of max(0, m), to `into[0]`, and of its square, to `into[1]`, where m is a mixture of normals: those at the
 * indexes `which` of `mean` and `variance`, by `weight`. As `rectifyAt`, with the density from the table as well.
 */
export function rectifiedMoments(
  which: Int32Array,
  weight: Float64Array,
  { mean, variance }: { mean: Float64Array; variance: Float64Array },
  into: Float64Array,
): void {
  let first = 0;
  let second = 0;
  for (let i = 0; i < which.length; i++) {
    const n = which[i]!;
    const m = mean[n]!;
    const v = variance[n]!;
    const m2 = m * m;
    if (m2 >= RECTIFY_LIMIT * RECTIFY_LIMIT * v) {
      if (m <= 0) continue;
      first += weight[n]! * m;
      second += weight[n]! * (m2 + v);
      continue;
    }
    const sd = Math.sqrt(v);
    const alpha = m / sd;
    const a = Math.abs(alpha);
    const tail = upperTail(a);
    const density = alpha < -FAR_BELOW ? INV_SQRT_2PI * expNegative(0.5 * alpha * alpha) : tailDensity(a);
    const above = m > 0 ? 1 - tail : tail;
    first += weight[n]! * (m * above + sd * density);
    second += weight[n]! * ((m2 + v) * above + m * sd * density);
  }
  into[0] = first;
  into[1] = second;
}
