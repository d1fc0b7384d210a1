/**
 * The root of a function that changes sign on [low, high]: the Illinois variant of false position, with a bisection
 * whenever the bracket fails to halve in three steps. Stops when the bracket is within `tolerance`. If the sign is the
 * same at both ends, gives the end that is nearer to a root in value.
 */
export function rootOf(
  f: (x: number) => number,
  low: number,
  high: number,
  tolerance: number,
  f_low = f(low),
  f_high = f(high),
): number {
  if (f_low === 0) return low;
  if (f_high === 0) return high;
  if (f_low > 0 === f_high > 0) return Math.abs(f_low) < Math.abs(f_high) ? low : high;
  let a = low;
  let b = high;
  let fa = f_low;
  let fb = f_high;
  let wide = high - low;
  for (let step = 0; step < 200 && Math.abs(b - a) > tolerance; step++) {
    const bisect = step % 4 === 3 && Math.abs(b - a) > 0.5 * wide;
    if (step % 4 === 3) wide = Math.abs(b - a);
    const x = bisect ? 0.5 * (a + b) : b - (fb * (b - a)) / (fb - fa);
    const fx = f(x);
    if (fx === 0) return x;
    if (fx > 0 === fb > 0) {
      // The same end moves twice: halve the weight of the other so that it moves next.
      if (!bisect) fa *= 0.5;
    } else {
      a = b;
      fa = fb;
    }
    b = x;
    fb = fx;
  }
  return Math.abs(fb) < Math.abs(fa) ? b : 0.5 * (a + b);
}
