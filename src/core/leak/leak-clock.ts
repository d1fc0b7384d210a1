import { GROWTH_YEARS } from "../../../data/model-constants.ts";
import { monthStarts } from "../quantities/dates.ts";
import { ATMOSPHERE_KPA } from "../quantities/units.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";

/**
 * The leak clock (MODEL §1): how season and growth drive a leak while liquid is left.
 * Time `u` is in years of 365.25 days from the assessment date; the past is negative.
 */

export const DAYS_PER_YEAR = 365.25;
const MONTH_DAYS = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
const GROWTH_ZERO = 1e-9;
const GROWTH_SMALL = 0.05;
/** Tolerance, in years, for sums over months that should be equal. */
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
  /**
   * Month boundaries in years, ascending, with 0 and the growth limit among them; `rate[i]` holds in [edge[i],
   * edge[i+1]].
   */
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
    const steady = Math.abs(g) < GROWTH_ZERO;
    const grown = (u: number): number => (steady ? 1 : Math.exp(g * Math.min(u, GROWTH_YEARS)));
    // Plain loops: typed arrays' `map` takes many times as long.
    const grown_at = new Float64Array(edge.length);
    for (let i = 0; i < edge.length; i++)
      grown_at[i] = i > 0 && edge[i]! > GROWTH_YEARS ? grown_at[i - 1]! : grown(edge[i]!);
    /** ∫ of e^{g·min(v,3)} from edge `i` to `u`, which is no later than the next; e^{g·min(u,3)} is `grown_u`. */
    const growthIntegral = (i: number, u: number, grown_u: number): number => {
      if (steady || edge[i]! >= GROWTH_YEARS) return (u - edge[i]!) * grown_at[i]!;
      // A difference of what is nearly equal loses its digits.
      if (Math.abs(g) < GROWTH_SMALL) return (grown_at[i]! * Math.expm1(g * (u - edge[i]!))) / g;
      return (grown_u - grown_at[i]!) / g;
    };
    const sum = new Float64Array(edge.length);
    const month = (i: number): number => rate[i]! * growthIntegral(i, edge[i + 1]!, grown_at[i + 1]!);
    for (let i = zero; i < rate.length; i++) sum[i + 1] = sum[i]! + month(i);
    for (let i = zero - 1; i >= 0; i--) sum[i] = sum[i + 1]! - month(i);
    return (u) => {
      let low = 0;
      let high = rate.length - 1;
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if (edge[middle]! <= u) low = middle;
        else high = middle - 1;
      }
      const from_edge = rate[low]! * growthIntegral(low, u, grown(u));
      // Add from the edge nearer to 0.
      return low >= zero ? sum[low]! + from_edge : sum[low + 1]! - (month(low) - from_edge);
    };
  }

  /**
   * First time `u`, years, at which season-adjusted time (the clock at g = 0) reaches `due`: the inverse of
   * `reading(0)`, exact, and the start of a stretch without leaking where `due` is reached at one.
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

/** `t` years after `as_of_day` as a day number: the nearest whole day. */
export function dayAt(as_of_day: number, t: number): number {
  return as_of_day + Math.floor(DAYS_PER_YEAR * t + 0.5);
}
