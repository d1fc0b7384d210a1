/**
 * Present value factors of life-cycle costing: what money later is worth now, at a real discount rate per period.
 * NIST Handbook 135 (Fuller and Petersen, 1996), chapter 3, and ASTM E917. Rates are fractions (0.03 is 3 %) above −1.
 */

function logGrowth(rate: number): number {
  if (!(rate > -1 && rate < Number.POSITIVE_INFINITY)) throw new RangeError(`A rate must be above -1, not ${rate}`);
  return Math.log1p(rate);
}

function checkPeriods(periods: number): void {
  if (!(periods >= 0 && periods < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`The number of periods must be 0 or more, not ${periods}`);
  }
}

/** Worth now of 1 paid once, `periods` from now (a fraction is allowed): SPV = (1 + d)^−n. */
export function singlePresentValue(rate: number, periods: number): number {
  const log_rate = logGrowth(rate);
  checkPeriods(periods);
  return Math.exp(-periods * log_rate);
}

/** Worth now of 1 paid at the end of each of `periods` periods: UPV = (1 − (1 + d)^−n)/d, and n at d = 0. */
export function uniformPresentValue(rate: number, periods: number): number {
  return escalatedUniformPresentValue(rate, 0, periods);
}

/**
 * Worth now of a payment at the end of each of `periods` periods that is 1 at today's prices and grows by `escalation`
 * a period: UPV* = (1 + e)/(d − e)·[1 − ((1 + e)/(1 + d))^n], and n at d = e.
 */
export function escalatedUniformPresentValue(rate: number, escalation: number, periods: number): number {
  const log_ratio = logGrowth(escalation) - logGrowth(rate);
  checkPeriods(periods);
  if (log_ratio === 0) return periods;
  // The same sum of ((1+e)/(1+d))^t, written with expm1: near d = e the published form loses all its digits.
  return (Math.exp(log_ratio) * Math.expm1(periods * log_ratio)) / Math.expm1(log_ratio);
}

/** Net present value of `flows`, the first at the end of the first period. */
export function netPresentValue(rate: number, flows: readonly number[]): number {
  return flows.reduce((sum, flow, i) => sum + flow * singlePresentValue(rate, i + 1), 0);
}
