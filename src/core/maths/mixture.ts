import { normalCdf } from "./normal.ts";

/** Standard normal scores of the shares at which quantiles are told. */
const SCORES: Readonly<Record<number, number>> = {
  0.05: -1.644854,
  0.1: -1.281552,
  0.25: -0.67449,
  0.5: 0,
  0.75: 0.67449,
  0.9: 1.281552,
  0.95: 1.644854,
};

/** One part of a mixture, by what is known of it: values at some shares, both rising. */
export interface MixturePart {
  weight: number;
  /** Pairs of a share (one of 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95) and the value there. */
  quantiles: readonly (readonly [share: number, value: number])[];
}

/**
 * The value at share `p` of a mixture of distributions of which only some quantiles are known. Between and beyond them
 * each part is taken as normal, or as normal in the logarithm with `log`, so that the result is exact for parts that
 * are. Weights add to 1.
 */
export function mixtureQuantile(parts: readonly MixturePart[], p: number, { log = false } = {}): number {
  const knots = parts.map(({ weight, quantiles }) => ({
    weight,
    points: quantiles.map(([share, value]) => ({ z: SCORES[share]!, x: log ? Math.log(value) : value })),
  }));
  const all = knots.flatMap(({ points }) => points.map(({ x }) => x));
  let low = Math.min(...all);
  let high = Math.max(...all);
  const reach = Math.max(high - low, Number.EPSILON);
  const share = (x: number) =>
    knots.reduce((sum, { weight, points }) => sum + weight * normalCdf(scoreAt(points, x)), 0);
  for (let i = 0; i < 60 && share(low) > p; i++) low -= reach;
  for (let i = 0; i < 60 && share(high) < p; i++) high += reach;
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (share(middle) < p) low = middle;
    else high = middle;
  }
  return log ? Math.exp(high) : high;
}

/** Linear between the known points, and on beyond them; a step where several have one value. */
function scoreAt(points: readonly { z: number; x: number }[], x: number): number {
  const first = points[0]!;
  const last = points.at(-1)!;
  if (first.x === last.x) return x < first.x ? -9 : 9;
  let right = points.findIndex((point) => point.x >= x && point.x > first.x);
  if (right === -1) right = points.length - 1;
  while (right > 1 && points[right - 1]!.x === points[right]!.x) right--;
  const a = points[right - 1]!;
  const b = points[right]!;
  if (a.x === b.x) return x < a.x ? a.z : last.z;
  return a.z + ((x - a.x) / (b.x - a.x)) * (b.z - a.z);
}
