/** Sums of the first one, two, three … values. */
export function runningTotals(values: readonly number[]): number[] {
  let total = 0;
  return values.map((value) => {
    total += value;
    return total;
  });
}

/**
 * Years until the running totals of `a` and `b` cross for the last time, linear between year ends; null when one stays
 * ahead. `ends` are the year ends in years.
 */
export function crossing(a: readonly number[], b: readonly number[], ends: readonly number[]): number | null {
  for (let i = a.length - 1; i > 0; i--) {
    const before = a[i - 1]! - b[i - 1]!;
    const after = a[i]! - b[i]!;
    if (before * after >= 0) continue;
    return ends[i - 1]! + ((ends[i]! - ends[i - 1]!) * before) / (before - after);
  }
  return null;
}

/** Ends of the years of a plan: 1, 2, … and its own end, which may come within a year. */
export function yearEnds(keep_years: number): number[] {
  return Array.from({ length: Math.ceil(keep_years) }, (_, i) => Math.min(i + 1, keep_years));
}
