/** Writes the value of a function at `x` to `into[0]`, and its slope there to `into[1]`. */
export type WithSlope = (x: number, into: Float64Array) => void;

/**
 * The root of a rising function on [low, high], within `tolerance`: Newton's steps from `guess`, and a bisection
 * wherever a step would leave the bracket or is not half of the step before the last (safeguarded Newton; Press et al.
 * 2007, section 9.4, from memory). Where the function keeps its sign, the end that is nearer to a root.
 */
export function risingRoot(f: WithSlope, low: number, high: number, guess: number, tolerance: number): number {
  const at = new Float64Array(2);
  let [below, above] = [low, high];
  let x = Math.min(high, Math.max(low, guess));
  let last = high - low;
  let before_last = last;
  while (above - below > tolerance) {
    f(x, at);
    const value = at[0]!;
    if (value === 0) return x;
    if (value > 0) above = x;
    else below = x;
    const newton = x - value / at[1]!;
    const good = newton > below && newton < above && Math.abs(newton - x) <= 0.5 * before_last;
    const next = good ? newton : 0.5 * (below + above);
    before_last = last;
    last = Math.abs(next - x);
    x = next;
    if (good && last <= tolerance) return x;
  }
  if (above === high) return high;
  return below === low ? low : x;
}
