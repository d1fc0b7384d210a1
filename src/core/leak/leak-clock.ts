import { GROWTH_YEARS } from "../../../data/model-constants.ts";
import { monthStarts } from "../quantities/dates.ts";
import { ATMOSPHERE_KPA } from "../quantities/units.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";

/**
 * The leak clock (MODEL §1): how season and growth drive a leak while liquid is left.
 * Time `u` is in years of 365.25 days from the assessment date; the past is negative.
 */

/** Days in a year of the model's time. */
export const DAYS_PER_YEAR = 365.25;
const MONTH_DAYS = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
/** Growth, per year, below which the clock counts as steady. */
const GROWTH_ZERO = 1e-9;
/** Growth, per year, below which integrals are taken by `expm1`. */
const GROWTH_SMALL = 0.05;
/** Tolerance, in years, for sums over months that should be equal. */
const SEASON_ROUNDING = 1e-9;

/**
 * How fast a leak runs in each month, January first, with a mean over the days of the year of 1. `monthly_mean_c`:
 * twelve mean temperatures, °C; without them, or with no drive in any month, all weights are 1. A small leak flows
 * laminar, so it is driven by psat² − p_atm² (MODEL §1).
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

/** ∫ from 0 to u of s(v)·e^{g·min(v, GROWTH_YEARS)} dv for one growth g; u, years, must lie in its clock's span. */
export type ClockReading = (u: number) => number;

/** Growth factor at `u` years, for growth `g` per year. */
function grown(g: number, u: number): number {
  return Math.abs(g) < GROWTH_ZERO ? 1 : Math.exp(g * Math.min(u, GROWTH_YEARS));
}

/** ∫ of the growth factor between two times of one month, years; `at_from` and `at_to` are the factor there. */
function growthIntegral(g: number, from: number, to: number, at_from: number, at_to: number): number {
  if (from >= GROWTH_YEARS || Math.abs(g) < GROWTH_ZERO) return (to - from) * at_from;
  // The difference of two nearly equal factors would lose digits.
  if (Math.abs(g) < GROWTH_SMALL) return (at_from * Math.expm1(g * (to - from))) / g;
  return (at_to - at_from) / g;
}

/** The clock of one growth g, per year; arrays are by month, as in `LeakClock`. */
interface GrowthClock extends Pick<LeakClock, "edge" | "rate" | "zero"> {
  /** The growth. */
  g: number;
  /** Growth factor at each edge. */
  grown_at: Float64Array;
  /** Integral over each month, years. */
  month: Float64Array;
  /** Integral from 0 to each edge, years. */
  sum: Float64Array;
}

/** What a clock reads at `u`. No closure: those are compiled anew each time they are made. */
function readClock({ g, edge, rate, zero, grown_at, month, sum }: GrowthClock, u: number): number {
  let low = 0;
  let high = rate.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (edge[middle]! <= u) low = middle;
    else high = middle - 1;
  }
  const from = edge[low]!;
  const at_from = grown_at[low]!;
  const from_edge = rate[low]! * growthIntegral(g, from, u, at_from, from < GROWTH_YEARS ? grown(g, u) : at_from);
  // From the edge nearer to 0, which keeps the digits there.
  return low >= zero ? sum[low]! + from_edge : sum[low + 1]! - (month[low]! - from_edge);
}

/** The calendar months around the assessment date with their season weights; makes clocks for any growth. */
export class LeakClock {
  /** Month boundaries, years, ascending; 0 and the end of growth are among them. */
  readonly edge: Float64Array;
  /** Season weight between `edge[i]` and `edge[i + 1]`. */
  readonly rate: Float64Array;
  /** Index of 0 in `edge`. */
  readonly zero: number;

  /**
   * `first_u` ≤ 0 ≤ `last_u`: the span that readings must cover, years. `as_of_day`: day number of the assessment date.
   */
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

  /** The clock for growth `g`, per year. It sums outward from 0, so that values near 0 keep their digits. */
  reading(g: number): ClockReading {
    const { edge, rate, zero } = this;
    const grown_at = new Float64Array(edge.length);
    for (let i = 0; i < edge.length; i++)
      grown_at[i] = i > 0 && edge[i - 1]! >= GROWTH_YEARS ? grown_at[i - 1]! : grown(g, edge[i]!);
    const month = new Float64Array(rate.length);
    for (let i = 0; i < rate.length; i++)
      month[i] = rate[i]! * growthIntegral(g, edge[i]!, edge[i + 1]!, grown_at[i]!, grown_at[i + 1]!);
    const sum = new Float64Array(edge.length);
    for (let i = zero; i < rate.length; i++) sum[i + 1] = sum[i]! + month[i]!;
    for (let i = zero - 1; i >= 0; i--) sum[i] = sum[i + 1]! - month[i]!;
    const clock: GrowthClock = { g, edge, rate, zero, grown_at, month, sum };
    return (u) => readClock(clock, u);
  }

  /**
   * First time, years, at which season-adjusted time reaches `due`: the exact inverse of `reading(0)`. Where months
   * without leaking hold `due` for a while, their beginning.
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

/** Day number of the day nearest to `t` years after the day number `as_of_day`. */
export function dayAt(as_of_day: number, t: number): number {
  return as_of_day + Math.floor(DAYS_PER_YEAR * t + 0.5);
}
