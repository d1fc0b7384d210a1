import { REPAIR_RELEASE_SHARE, SEEP_LN_SD, SEEP_POINTS } from "../../../data/model-constants.ts";
import { type Horizon, tableAt } from "../leak/month-table.ts";
import { expNegative } from "../maths/normal.ts";
import type { Question } from "../question/question.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/** ∫ from a to b of e^{−rate·t} dt. */
export function fadingIntegral(rate: number, a: number, b: number): number {
  if (Math.abs(rate) < 1e-12) return b - a;
  return (Math.exp(-rate * a) * -Math.expm1(-rate * (b - a))) / rate;
}

/** Where the exponent changes by less than this over a span, the difference of the ends has too few digits. */
const FADES_LITTLE = 1e-3;

/** `fadingIntegral` where the values of e^{−rate·t} at both ends are known. */
function fadingBetween(rate: number, a: number, b: number, at_a: number, at_b: number): number {
  return rate * (b - a) > FADES_LITTLE ? (at_a - at_b) / rate : fadingIntegral(rate, a, b);
}

/** Sums over the times t of some events, years. */
export interface FadedSums {
  /** Σ D(t), D(t) = e^{−fade·t}. */
  faded: number;
  /** Σ D(t)·e^{growth·t}. */
  net_faded: number;
  /** Σ e^{−hazard·t}. */
  survived: number;
}

/**
 * How top-offs and repairs of a question are counted on a tally. The horizon is one period; `by_year` makes each year
 * of it a period. A path has a row for each period, and what happens is counted in the row of the period it falls in.
 */
export class Spending {
  readonly horizon: Horizon;
  /** Number of periods, and so of rows that a path takes. */
  readonly periods: number;
  /** Full charge by the label, grams. */
  readonly nameplate_g: number;
  /** Years from a repair to the first top-off for seep alone, for each of four equally likely rates of seep. */
  readonly seep_first: readonly number[];
  /** Years from a repair to every top-off for seep alone, at any of the four rates, ascending; each has chance ¼. */
  readonly seep_after: Float64Array;
  private readonly by_year: boolean;
  private readonly pierced: boolean;
  private readonly heel: number;
  private readonly can_net_g: number;
  // Sums over the first i of `seep_after`: of e^{−fade·t}, of e^{(growth − fade)·t}, of e^{−hazard·t}.
  private readonly seep_fade: Float64Array;
  private readonly seep_grown: Float64Array;
  private readonly seep_survival: Float64Array;
  private readonly seep_first_fade: readonly number[];
  /** Refrigerant that a top-off for seep uses: cans at home, grams at a shop. */
  private readonly seep_units: number;
  /** Grams that such a top-off loses from hose and cans. */
  private readonly seep_heel_g: number;
  // ∫ e^{−fade·t} and ∫ e^{−hazard·t} over each period.
  private readonly period_fade: Float64Array;
  private readonly period_survival: Float64Array;
  // And both at the end of each.
  private readonly end_fade: Float64Array;
  private readonly end_survival: Float64Array;
  private readonly repaired: Float64Array;
  /** Rate at which later refrigerant counts for less, per year: discount and hazard less the growth of its price. */
  readonly net_fade: number;
  /** Topped off at home, from cans. */
  readonly diy: boolean;

  constructor(question: Question, by_year = false) {
    const { plan, prices, assumptions, nameplate_g } = question;
    const { keep_years: years, hazard } = plan;
    const fade = assumptions.discount + hazard;
    const growth = assumptions.refrigerant_growth;
    this.horizon = { years, fade, hazard, growth };
    this.net_fade = fade - growth;
    this.by_year = by_year;
    this.periods = by_year ? Math.ceil(years) : 1;
    this.nameplate_g = nameplate_g;
    this.diy = plan.service === "diy";
    this.pierced = prices.can_seal === "pierced";
    this.heel = assumptions.heel;
    this.can_net_g = prices.can_net_g;

    const low_share = 1 - assumptions.low_fraction;
    this.seep_first = SEEP_POINTS.map((z) => low_share / (assumptions.seep_fraction * Math.exp(SEEP_LN_SD * z)));
    const after: number[] = [];
    for (const spell of this.seep_first) {
      for (let t = spell; t < years; t += spell) after.push(t);
    }
    this.seep_after = Float64Array.from(after).sort();
    this.seep_fade = runningSums(this.seep_after, (t) => Math.exp(-fade * t));
    this.seep_grown = runningSums(this.seep_after, (t) => Math.exp((growth - fade) * t));
    this.seep_survival = runningSums(this.seep_after, (t) => Math.exp(-hazard * t));
    this.seep_first_fade = this.seep_first.map((first) => Math.exp(-fade * first));
    this.seep_units = this.refrigerantUnits(low_share * nameplate_g);
    this.seep_heel_g = this.heelRelease(low_share * nameplate_g);

    this.period_fade = new Float64Array(this.periods);
    this.period_survival = new Float64Array(this.periods);
    this.end_fade = new Float64Array(this.periods);
    this.end_survival = new Float64Array(this.periods);
    for (let period = 0; period < this.periods; period++) {
      this.end_fade[period] = decayed(fade, this.periodEnd(period));
      this.end_survival[period] = decayed(hazard, this.periodEnd(period));
      this.period_fade[period] = fadingIntegral(fade, period, this.periodEnd(period));
      this.period_survival[period] = fadingIntegral(hazard, period, this.periodEnd(period));
    }
    this.repaired = new Float64Array(this.periods * TALLY_WIDTH);
  }

  /** The period that `t` years ahead falls in. */
  periodOf(t: number): number {
    return this.by_year ? Math.floor(t) : 0;
  }

  /** Where a period ends, years ahead. */
  periodEnd(period: number): number {
    return this.by_year ? Math.min(this.horizon.years, period + 1) : this.horizon.years;
  }

  /** Discount factor D(t) = e^{−(r + h)·t}. */
  fadeAt(t: number): number {
    return t === 0 ? 1 : decayed(this.horizon.fade, t);
  }

  /** What `grams` into the system take: cans at home, grams at a shop. A pierced can is used up. */
  refrigerantUnits(grams: number): number {
    if (!this.diy) return grams;
    const cans = grams / (1 - this.heel) / this.can_net_g;
    return this.pierced ? Math.ceil(cans - 1e-9) : cans;
  }

  /** Grams that escape from hose and cans for `grams` into the system. */
  heelRelease(grams: number): number {
    return this.diy ? (grams * this.heel) / (1 - this.heel) : 0;
  }

  /**
   * Adds `weight` times top-offs of `grams` in one period, without tools, to the row that begins at `row`; nothing for
   * 0 g. The sums are over them.
   */
  addTopOffs(tallies: Float64Array, row: number, weight: number, grams: number, sums: FadedSums): void {
    if (!(grams > 0)) return;
    const faded = weight * sums.faded;
    tallies[row + TALLY.visits]! += faded;
    const units = this.refrigerantUnits(grams);
    tallies[row + TALLY.refrigerant]! += weight * sums.net_faded * units;
    if (!this.diy) return;
    tallies[row + TALLY.cans]! += faded * units;
    tallies[row + TALLY.release]! += weight * sums.survived * this.heelRelease(grams);
  }

  /**
   * The rows of a repair at `t` and of the sound years after it; `tools`, whether they are bought when one of these
   * needs them. `fade` is D(t), `grown` the same with the growth of the price of refrigerant, `survival` e^{−hazard·t}.
   * They are this object's own and hold until the next call.
   */
  repairAt(
    t: number,
    fade: number,
    tools = true,
    grown = decayed(this.net_fade, t),
    survival = decayed(this.horizon.hazard, t),
  ): Float64Array {
    const { repaired, seep_after, periods } = this;
    const { years, fade: rate, hazard } = this.horizon;
    const period_of_repair = this.periodOf(t);
    repaired.fill(0);
    let before = 0;
    for (let period = period_of_repair; period < periods; period++) {
      const row = period * TALLY_WIDTH;
      const end = this.periodEnd(period);
      const begun = period > period_of_repair;
      repaired[row + TALLY.relapse] = begun
        ? this.period_fade[period]!
        : fadingBetween(rate, t, end, fade, this.end_fade[period]!);
      repaired[row + TALLY.sound] = begun
        ? this.period_survival[period]!
        : fadingBetween(hazard, t, end, survival, this.end_survival[period]!);
      // Top-offs for seep that fall in this period, each with chance ¼.
      let until = before;
      while (until < seep_after.length && t + seep_after[until]! < end) until++;
      if (until === before) continue;
      const visits = 0.25 * fade * (this.seep_fade[until]! - this.seep_fade[before]!);
      repaired[row + TALLY.visits] = visits;
      repaired[row + TALLY.lows] = visits;
      if (this.diy) repaired[row + TALLY.cans] = visits * this.seep_units;
      repaired[row + TALLY.refrigerant] =
        0.25 * grown * (this.seep_grown[until]! - this.seep_grown[before]!) * this.seep_units;
      repaired[row + TALLY.release] =
        0.25 * survival * (this.seep_survival[until]! - this.seep_survival[before]!) * this.seep_heel_g;
      before = until;
    }
    const row = period_of_repair * TALLY_WIDTH;
    repaired[row + TALLY.fix] = fade;
    repaired[row + TALLY.fix_grown] = grown;
    repaired[row + TALLY.release]! += REPAIR_RELEASE_SHARE * this.nameplate_g * survival;
    if (before === 0 || !tools) return repaired;
    for (let quarter = 0; quarter < this.seep_first.length; quarter++) {
      const when = t + this.seep_first[quarter]!;
      if (when >= years) continue;
      repaired[this.periodOf(when) * TALLY_WIDTH + TALLY.tools]! += 0.25 * fade * this.seep_first_fade[quarter]!;
    }
    return repaired;
  }

  /** Adds what leaks at `k` grams a year until `t`, by a table of the leak clock weighted with survival. */
  addLeak(tallies: Float64Array, at: number, k: number, surviving: Float64Array, t: number): void {
    let before = 0;
    const last = this.periodOf(t);
    for (let period = 0; period <= last && period < this.periods; period++) {
      const leaked = tableAt(surviving, Math.min(t, this.periodEnd(period)));
      tallies[at + period * TALLY_WIDTH + TALLY.release]! += k * (leaked - before);
      before = leaked;
    }
  }
}

/** e^{−rate·t}, for a rate of either sign. */
function decayed(rate: number, t: number): number {
  return rate >= 0 ? expNegative(rate * t) : 1 / expNegative(-rate * t);
}

/** Adds `weight` times `rows` to `tallies` from `at` on. */
export function addRows(tallies: Float64Array, at: number, weight: number, rows: Float64Array): void {
  for (let c = 0; c < rows.length; c++) tallies[at + c]! += weight * rows[c]!;
}

/** Sums of `f` over the first i points, for i from 0 to all of them. */
function runningSums(points: Float64Array, f: (t: number) => number): Float64Array {
  const sums = new Float64Array(points.length + 1);
  for (let i = 0; i < points.length; i++) sums[i + 1] = sums[i]! + f(points[i]!);
  return sums;
}
