import type { LikelyLow } from "../../src/core/leak/forecast.ts";
import { dayNumber } from "../../src/core/quantities/dates.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { LeakAnswer, Spread } from "../../src/core/question/contract.ts";
import { saidMass, saidMassSpan } from "./numbers.ts";
import { saidMonth, saidMonths, saidSpan } from "./times.ts";

/*
 * One statistic for one thing. Every page takes the leak rate, the life of a charge, the charge now and the next low
 * charge from here: the best estimate is the median (of the charge now the mean, which its curve draws), and the likely
 * range always holds 9 of 10 cases.
 */

/** A best estimate and its likely range, as they are said. */
export interface SaidEstimate {
  best: string;
  range: string;
}

/** The leak rate: `4 oz a year`, `2 to 12 oz a year`. */
export function saidLeak(leak_g: Pick<Spread, "median" | "p05" | "p95">, units: UnitSystem): SaidEstimate {
  const { best, range } = saidYearlyLeak(leak_g, units);
  return { best: `${best} a year`, range: `${range} a year` };
}

/** The same under a heading that says "a year": `4 oz`, `2 to 12 oz`. */
export function saidYearlyLeak(leak_g: Pick<Spread, "median" | "p05" | "p95">, units: UnitSystem): SaidEstimate {
  return { best: saidMass(leak_g.median, units), range: saidMassSpan(leak_g.p05, leak_g.p95, units) };
}

/** The best estimate of the leak rate, in grams a year: what is compared, sorted and drawn. */
export function bestLeak_g(leak_g: Pick<Spread, "median">): number {
  return leak_g.median;
}

/** How long a full charge lasts: `16 months`, `10 months to 2 years`. */
export function saidLife(lasts_months: LeakAnswer["full_charge_lasts_months"]): SaidEstimate {
  return { best: saidMonths(lasts_months.median), range: saidSpan(lasts_months.p05, lasts_months.p95) };
}

/** What is in it now: `14 oz`, `9 to 19 oz`. */
export function saidChargeNow(charge_g: LeakAnswer["charge_now_g"], units: UnitSystem): SaidEstimate {
  return { best: saidMass(charge_g.mean, units), range: saidMassSpan(charge_g.p05, charge_g.p95, units) };
}

export interface NextLowGround {
  as_of: string;
  /** Whether it is low now, or nearly so. */
  low_now: boolean;
  next_low: { p50: string | null };
  likely_low: LikelyLow;
}

/** When it will be low again: `low now`, or a month (null: not within 20 years) and its likely range. */
export type SaidNextLow =
  | { low_now: true }
  | { low_now: false; date: string | null; best: string; range: string | null };

/** When it is likely low again, in words: best estimate and likely range. */
export function saidNextLow({ as_of, low_now, next_low: { p50 }, likely_low }: NextLowGround): SaidNextLow {
  if (low_now) return { low_now };
  const { p05, p95 } = likely_low;
  const sayEnd = p95 !== null && isWide(p05 ?? as_of, p95) ? saidYear : saidMonth;
  const from = p05 === null || p05 <= as_of ? "now" : sayEnd(p05);
  if (p50 === null) {
    const earliest = p05 === null ? null : from;
    return {
      low_now,
      date: null,
      best: "not within 20 years",
      range: earliest === null ? null : `${earliest} to beyond 20 years`,
    };
  }
  return {
    low_now,
    date: p50,
    best: saidMonth(p50),
    range: p95 === null ? `${from} to beyond 20 years` : `${from} to ${sayEnd(p95)}`,
  };
}

/** A range of more years than this is given without months. */
const WIDE_YEARS = 5;

function isWide(from: string, to: string): boolean {
  return dayNumber(to) - dayNumber(from) > WIDE_YEARS * 365;
}

function saidYear(iso: string): string {
  return iso.slice(0, 4);
}
