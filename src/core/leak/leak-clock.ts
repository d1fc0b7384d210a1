import { GROWTH_YEARS } from "../../../data/model-constants.ts";
import { monthStarts } from "../quantities/dates.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";

/**
 * The leak clock (MODEL §1): how season and growth drive a leak while liquid is left.
 * Time `u` is in years of 365.25 days from the assessment date; the past is negative.
 */

export const DAYS_PER_YEAR = 365.25;
const ATMOSPHERE_KPA = 101.325;
const MONTH_DAYS = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
const GROWTH_ZERO = 1e-9;
/** Sums over months that should be equal differ by less, in years. */
const SEASON_ROUNDING = 1e-9;

/**
 * Season weights s_1..s_12 (mean over the days of the year 1) from twelve monthly mean temperatures in °C, January
 * first. A small leak is laminar, so it is driven by psat² − p_atm². No climate, or no drive in any month, gives ones.
 */
export function seasonWeights(refrigerant: RefrigerantId, monthly_mean_c: readonly number[] | null): Float64Array {
  const weights = new Float64Array(12).fill(1);
  if (monthly_mean_c === null) return weights;
  const drive = monthly_mean_c.map((t_c) =>
    Math.max(0, saturationPressureKpa(refrigerant, t_c) ** 2 - ATMOSPHERE_KPA ** 2),
  );
  let sum = 0;
  let days = 0;
  for (let m = 0; m < 12; m++) {
    sum += drive[m]! * MONTH_DAYS[m]!;
    days += MONTH_DAYS[m]!;
  }
  const mean = sum / days;
  if (!(mean > 0)) return weights;
  for (let m = 0; m < 12; m++) weights[m] = drive[m]! / mean;
  return weights;
}

/** ∫ from 0 to u of s(v)·e^{g·min(v,3)} dv for one growth g, u within the span its `LeakClock` was made for. */
export type ClockReading = (u: number) => number;

/** Calendar months around the assessment date with their season weights; hands out clocks for any growth. */
export class LeakClock {
  /** Month boundaries in years, ascending, with 0 and the growth limit among them; `rate[i]` holds in [edge[i], edge[i+1]]. */
  private readonly edge: Float64Array;
  private readonly rate: Float64Array;
  private readonly zero: number;

  /** `first_u` ≤ 0 ≤ `last_u`: the span, in years, that the readings must cover. `as_of_day` as of `dayNumber`. */
  constructor(weights: Float64Array, as_of_day: number, first_u: number, last_u: number) {
    const edges: number[] = [];
    const rates: number[] = [];
    let rate = 0;
    let from = Infinity;
    for (const { month, start } of monthStarts(as_of_day + Math.floor(first_u * DAYS_PER_YEAR))) {
      const edge = (start - as_of_day) / DAYS_PER_YEAR;
      for (const cut of [0, GROWTH_YEARS]) {
        if (from < cut && cut < edge) {
          edges.push(cut);
          rates.push(rate);
        }
      }
      edges.push(edge);
      if (edge > last_u) break;
      rate = weights[month - 1]!;
      rates.push(rate);
      from = edge;
    }
    this.edge = Float64Array.from(edges);
    this.rate = Float64Array.from(rates);
    this.zero = this.edge.indexOf(0);
  }

  /** The clock for growth `g` per year, summed outward from 0 so that near spans keep their digits. */
  reading(g: number): ClockReading {
    const { edge, rate, zero } = this;
    const sum = new Float64Array(edge.length);
    for (let i = zero; i < rate.length; i++) sum[i + 1] = sum[i]! + rate[i]! * piece(edge[i]!, edge[i + 1]!, g);
    for (let i = zero - 1; i >= 0; i--) sum[i] = sum[i + 1]! - rate[i]! * piece(edge[i]!, edge[i + 1]!, g);
    return (u) => {
      let low = 0;
      let high = rate.length - 1;
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if (edge[middle]! <= u) low = middle;
        else high = middle - 1;
      }
      // Add from the edge nearer to 0.
      if (low >= zero) return sum[low]! + rate[low]! * piece(edge[low]!, u, g);
      return sum[low + 1]! - rate[low]! * piece(u, edge[low + 1]!, g);
    };
  }

  /**
   * First time `u`, years, at which season-adjusted time (the clock at g = 0) reaches `due`: the inverse of `reading(0)`,
   * exact, and the start of a stretch without leaking where `due` is reached at one.
   */
  seasonReaches(due: number): number {
    const { edge, rate } = this;
    const season = this.reading(0);
    let last = 0;
    while (last < rate.length - 1 && season(edge[last + 1]!) < due - SEASON_ROUNDING) last++;
    const into = rate[last]! > 0 ? (due - season(edge[last]!)) / rate[last]! : 0;
    return Math.min(edge[last + 1]!, edge[last]! + Math.max(0, into));
  }
}

/** ∫ from a to b of e^{g·min(v,3)} dv, where 3 is not inside (a, b). */
function piece(a: number, b: number, g: number): number {
  if (Math.abs(g) < GROWTH_ZERO) return b - a;
  if (a >= GROWTH_YEARS) return (b - a) * Math.exp(g * GROWTH_YEARS);
  return (Math.exp(g * a) * Math.expm1(g * (b - a))) / g;
}

/** `t` years after `as_of_day` as a day number: the nearest whole day. */
export function dayAt(as_of_day: number, t: number): number {
  return as_of_day + Math.floor(DAYS_PER_YEAR * t + 0.5);
}
