import { REPAIR_RELEASE_SHARE, SEEP_LN_SD, SEEP_POINTS } from "../../../data/model-constants.ts";
import { type Horizon, tableAt } from "../leak/month-table.ts";
import { decayed } from "../maths/normal.ts";
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
  readonly seep_fade: Float64Array;
  readonly seep_grown: Float64Array;
  readonly seep_survival: Float64Array;
  // And of e^{−fade·t} over the first top-off at each rate among them.
  readonly seep_tools: Float64Array;
  /** How many of `seep_after` come for certain before the end of each month. */
  readonly seep_within: Int32Array;
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
    this.seep_tools = runningSums(this.seep_after, (t) => (this.seep_first.includes(t) ? Math.exp(-fade * t) : 0));
    this.seep_within = countsByMonth(this.seep_after, years);
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

  /** What `grams` into the system take: cans at home, grams at a shop. A pierced can is used up. */
  refrigerantUnits(grams: number): number {
    if (!this.diy) return grams;
    const cans = grams / (1 - this.heel) / this.can_net_g;
    return this.pierced ? Math.ceil(cans - 1e-9) : cans;
  }

  /** How many cans some grams take, where opened ones are used up; else null. */
  get cansOf(): ((grams: number) => number) | null {
    return this.diy && this.pierced ? (grams) => this.refrigerantUnits(grams) : null;
  }

  /** Grams that escape from hose and cans for `grams` into the system. */
  heelRelease(grams: number): number {
    return this.diy ? (grams * this.heel) / (1 - this.heel) : 0;
  }

  /** Adds `weight` times a top-off of `grams` today, without tools, to the row beginning at `row`; nothing for 0 g. */
  addTopOffToday(tallies: Float64Array, row: number, weight: number, grams: number): void {
    if (!(grams > 0)) return;
    const units = this.refrigerantUnits(grams);
    tallies[row + TALLY.visits]! += weight;
    tallies[row + TALLY.refrigerant]! += weight * units;
    if (!this.diy) return;
    tallies[row + TALLY.cans]! += weight * units;
    tallies[row + TALLY.release]! += weight * this.heelRelease(grams);
  }

  /**
   * The rows of a repair at `t` and of the sound years after it; `tools`, whether they are bought when one of these
   * needs them. `fade`, `grown` and `survival` as in `addRepair`. They are this object's own and hold until the next
   * call.
   */
  repairAt(
    t: number,
    tools = true,
    fade = decayed(this.horizon.fade, t),
    grown = decayed(this.net_fade, t),
    survival = decayed(this.horizon.hazard, t),
  ): Float64Array {
    this.repaired.fill(0);
    this.addRepair(this.repaired, 0, 1, t, fade, grown, survival, tools);
    return this.repaired;
  }

  /**
   * Adds `weight` times the rows of `repairAt` to those that begin at `at`. `fade` is D(t), `grown` the same with the
   * growth of the price of refrigerant, `survival` e^{−hazard·t}.
   */
  addRepair(
    rows: Float64Array,
    at: number,
    weight: number,
    t: number,
    fade: number,
    grown: number,
    survival: number,
    tools: boolean,
  ): void {
    const { periods } = this;
    const { fade: rate, hazard } = this.horizon;
    const period = this.periodOf(t);
    const row = at + period * TALLY_WIDTH;
    const end = this.periodEnd(period);
    const share = weight * fade;
    rows[row + TALLY.fix]! += share;
    rows[row + TALLY.fix_grown]! += weight * grown;
    rows[row + TALLY.release]! += REPAIR_RELEASE_SHARE * this.nameplate_g * weight * survival;
    rows[row + TALLY.relapse]! += weight * fadingBetween(rate, t, end, fade, this.end_fade[period]!);
    rows[row + TALLY.sound]! += weight * fadingBetween(hazard, t, end, survival, this.end_survival[period]!);
    for (let later = period + 1; later < periods; later++) {
      rows[at + later * TALLY_WIDTH + TALLY.relapse]! += weight * this.period_fade[later]!;
      rows[at + later * TALLY_WIDTH + TALLY.sound]! += weight * this.period_survival[later]!;
    }
    this.addSeep(rows, at, t, 0.25 * share, 0.25 * weight * grown, 0.25 * weight * survival, tools);
  }

  /** Whether the horizon is one period, at rates that `finishRepairs` can take. */
  get inOne(): boolean {
    const { fade, hazard } = this.horizon;
    return this.periods === 1 && fade > FADES_LITTLE && hazard > FADES_LITTLE;
  }

  /**
   * Makes a row of repairs, of `weight` together, from sums over them: as yet `sound` holds that of e^{−hazard·t}, and
   * the columns of top-offs those of what each of the four rates of seep leads to, with `cans` for what survives.
   */
  finishRepairs(rows: Float64Array, row: number, weight: number): void {
    const { fade, hazard } = this.horizon;
    const survived = rows[row + TALLY.sound]!;
    const visits = 0.25 * rows[row + TALLY.visits]!;
    const heel = 0.25 * rows[row + TALLY.cans]! * this.seep_heel_g;
    rows[row + TALLY.relapse] = (rows[row + TALLY.fix]! - weight * this.end_fade[0]!) / fade;
    rows[row + TALLY.sound] = (survived - weight * this.end_survival[0]!) / hazard;
    rows[row + TALLY.release]! += REPAIR_RELEASE_SHARE * this.nameplate_g * survived + heel;
    rows[row + TALLY.visits] = visits;
    rows[row + TALLY.lows]! += visits;
    rows[row + TALLY.cans] = this.diy ? visits * this.seep_units : 0;
    rows[row + TALLY.refrigerant]! *= 0.25 * this.seep_units;
    rows[row + TALLY.tools]! *= 0.25;
  }

  /**
   * Adds the top-offs for seep alone after a repair at `t`, and the tools for the first of them where they are bought.
   * The other numbers are those of one of the four rates at `t`.
   */
  private addSeep(
    rows: Float64Array,
    at: number,
    t: number,
    faded: number,
    grown: number,
    survived: number,
    tools: boolean,
  ): void {
    const { seep_after, seep_fade, seep_grown, seep_survival, seep_tools, periods } = this;
    let before = 0;
    for (let period = this.periodOf(t); period < periods && before < seep_after.length; period++) {
      const end = this.periodEnd(period);
      let until = before;
      if (periods === 1) until = this.seep_within[Math.floor(12 * (end - t))]!;
      while (until < seep_after.length && t + seep_after[until]! < end) until++;
      if (until === before) continue;
      const row = at + period * TALLY_WIDTH;
      const visits = faded * (seep_fade[until]! - seep_fade[before]!);
      rows[row + TALLY.visits]! += visits;
      rows[row + TALLY.lows]! += visits;
      rows[row + TALLY.refrigerant]! += grown * (seep_grown[until]! - seep_grown[before]!) * this.seep_units;
      if (tools) rows[row + TALLY.tools]! += faded * (seep_tools[until]! - seep_tools[before]!);
      if (this.diy) {
        rows[row + TALLY.cans]! += visits * this.seep_units;
        rows[row + TALLY.release]! += survived * (seep_survival[until]! - seep_survival[before]!) * this.seep_heel_g;
      }
      before = until;
    }
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

/** Adds `weight` times `count` values of `rows`, from index `first` on, to `tallies` from `at` on. */
export function addRows(
  tallies: Float64Array,
  at: number,
  weight: number,
  rows: Float64Array,
  first = 0,
  count = rows.length,
): void {
  for (let c = 0; c < count; c++) tallies[at + c]! += weight * rows[first + c]!;
}

/** Sums of `f` over the first i points, for i from 0 to all of them. */
function runningSums(points: Float64Array, f: (t: number) => number): Float64Array {
  const sums = new Float64Array(points.length + 1);
  for (let i = 0; i < points.length; i++) sums[i + 1] = sums[i]! + f(points[i]!);
  return sums;
}

/** How many of the points, ascending, are a little below j months, by j up to `years`. */
function countsByMonth(points: Float64Array, years: number): Int32Array {
  const counts = new Int32Array(Math.floor(12 * years) + 1);
  for (let j = 0, i = 0; j < counts.length; j++) {
    while (i < points.length && points[i]! < j / 12 - 1e-9) i++;
    counts[j] = i;
  }
  return counts;
}
