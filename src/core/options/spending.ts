import { REPAIR_RELEASE_SHARE, SEEP_LN_SD, SEEP_POINTS } from "../../../data/model-constants.ts";
import type { Horizon } from "../leak/month-table.ts";
import type { Question } from "../question/question.ts";
import { TALLY, TALLY_WIDTH } from "./tally.ts";

/** ∫ from a to b of e^{−rate·t} dt. */
export function fadingIntegral(rate: number, a: number, b: number): number {
  if (Math.abs(rate) < 1e-12) return b - a;
  return (Math.exp(-rate * a) * -Math.expm1(-rate * (b - a))) / rate;
}

/** How a question's top-offs and repairs count on a tally. */
export class Spending {
  readonly horizon: Horizon;
  readonly nameplate_g: number;
  private readonly diy: boolean;
  private readonly pierced: boolean;
  private readonly heel: number;
  private readonly can_net_g: number;
  /** Top-offs of a sound system, `after` years from its repair, ascending; each a quarter of one. */
  readonly seep_after: Float64Array;
  private readonly seep_fade: Float64Array;
  private readonly seep_grown: Float64Array;
  private readonly seep_survival: Float64Array;
  /** First top-off after a repair, by quarter, years. */
  readonly seep_first: readonly number[];
  private readonly seep_amount: number;
  private readonly seep_heel_g: number;
  private readonly seep_first_fade: readonly number[];
  private readonly repaired = new Float64Array(TALLY_WIDTH);

  constructor(question: Question) {
    const { plan, prices, assumptions, nameplate_g } = question;
    this.horizon = {
      years: plan.keep_years,
      fade: assumptions.discount + plan.hazard,
      hazard: plan.hazard,
      growth: assumptions.refrigerant_growth,
    };
    this.nameplate_g = nameplate_g;
    this.diy = plan.service === "diy";
    this.pierced = prices.can_seal === "pierced";
    this.heel = assumptions.heel;
    this.can_net_g = prices.can_net_g;
    const low_share = 1 - assumptions.low_fraction;
    const after: number[] = [];
    this.seep_first = SEEP_POINTS.map((z) => low_share / (assumptions.seep_fraction * Math.exp(SEEP_LN_SD * z)));
    for (const spell of this.seep_first) {
      for (let t = spell; t < plan.keep_years; t += spell) after.push(t);
    }
    this.seep_after = Float64Array.from(after).sort();
    this.seep_first_fade = this.seep_first.map((first) => Math.exp(-this.horizon.fade * first));
    this.seep_amount = this.refrigerantUnits(low_share * nameplate_g);
    this.seep_heel_g = this.heelRelease(low_share * nameplate_g);
    this.seep_fade = runningSum(this.seep_after, (t) => Math.exp(-this.horizon.fade * t));
    this.seep_grown = runningSum(this.seep_after, (t) => Math.exp((this.horizon.growth - this.horizon.fade) * t));
    this.seep_survival = runningSum(this.seep_after, (t) => Math.exp(-this.horizon.hazard * t));
  }

  /** Cans for `grams` into the system at home, the grams themselves at a shop. */
  refrigerantUnits(grams: number): number {
    if (!this.diy) return grams;
    const cans = grams / (1 - this.heel) / this.can_net_g;
    return this.pierced ? Math.ceil(cans - 1e-9) : cans;
  }

  /** Grams left in hose and cans that get out, for `grams` into the system. */
  heelRelease(grams: number): number {
    return this.diy ? (grams * this.heel) / (1 - this.heel) : 0;
  }

  /** Adds a repair at `t`, and the sound years after it, to a tally. `fade` is D(t). */
  addRepair(tally: Float64Array, at: number, t: number, fade: number): void {
    addRepaired(tally, at, this.repairAt(t, fade));
  }

  /**
   * The tally of a repair at `t` and of the sound years after it, on a path that has bought no tools yet. `fade` is D(t).
   * The row is this object's own and holds until the next call.
   */
  repairAt(t: number, fade: number): Float64Array {
    const { years, fade: rate, hazard, growth } = this.horizon;
    const { repaired } = this;
    const grown = fade * Math.exp(growth * t);
    const survival = Math.exp(-hazard * t);
    repaired.fill(0);
    repaired[TALLY.fix] = fade;
    repaired[TALLY.fix_grown] = grown;
    repaired[TALLY.relapse] = fadingIntegral(rate, t, years);
    repaired[TALLY.release] = REPAIR_RELEASE_SHARE * this.nameplate_g * survival;
    repaired[TALLY.sound] = fadingIntegral(hazard, t, years);
    // Seep after the repair: top-offs at t + after < H, each a quarter.
    let count = 0;
    while (count < this.seep_after.length && t + this.seep_after[count]! < years) count++;
    if (count === 0) return repaired;
    const visits = 0.25 * fade * this.seep_fade[count - 1]!;
    repaired[TALLY.visits] = visits;
    repaired[TALLY.lows] = visits;
    if (this.diy) repaired[TALLY.cans] = visits * this.seep_amount;
    repaired[TALLY.refrigerant] = 0.25 * grown * this.seep_grown[count - 1]! * this.seep_amount;
    repaired[TALLY.release]! += 0.25 * survival * this.seep_survival[count - 1]! * this.seep_heel_g;
    repaired[TALLY.tools] = fade * this.seepTools(t);
    return repaired;
  }

  /** Tools for a path whose first top-offs come `after` its repair at `t`: share of D at each quarter's first. */
  private seepTools(t: number): number {
    let tools = 0;
    for (let quarter = 0; quarter < this.seep_first.length; quarter++) {
      if (t + this.seep_first[quarter]! < this.horizon.years) tools += 0.25 * this.seep_first_fade[quarter]!;
    }
    return tools;
  }

  /** Adds one sound system's top-off at `t`, a quarter of one, to a tally. */
  addSeep(tally: Float64Array, at: number, t: number): void {
    const { fade, hazard, growth } = this.horizon;
    const quarter = 0.25 * Math.exp(-fade * t);
    tally[at + TALLY.visits]! += quarter;
    tally[at + TALLY.lows]! += quarter;
    if (this.diy) tally[at + TALLY.cans]! += quarter * this.seep_amount;
    tally[at + TALLY.refrigerant]! += quarter * Math.exp(growth * t) * this.seep_amount;
    tally[at + TALLY.release]! += 0.25 * Math.exp(-hazard * t) * this.seep_heel_g;
  }

  /** Adds a top-off of `grams` at `t` to a tally; nothing for 0 g. Tools are for the path's first. */
  addTopOff(tally: Float64Array, at: number, t: number, fade: number, grams: number): void {
    if (!(grams > 0)) return;
    const units = this.refrigerantUnits(grams);
    if (tally[at + TALLY.tools] === 0) tally[at + TALLY.tools] = fade;
    tally[at + TALLY.visits]! += fade;
    if (this.diy) tally[at + TALLY.cans]! += fade * units;
    tally[at + TALLY.refrigerant]! += fade * Math.exp(this.horizon.growth * t) * units;
    if (this.diy) tally[at + TALLY.release]! += this.heelRelease(grams) * Math.exp(-this.horizon.hazard * t);
  }
}

/** Adds a repair's tally to a path; tools that the path has bought already are not bought again. */
export function addRepaired(tally: Float64Array, at: number, repaired: Float64Array): void {
  const tools = tally[at + TALLY.tools]!;
  for (let c = 0; c < TALLY_WIDTH; c++) tally[at + c]! += repaired[c]!;
  if (tools !== 0) tally[at + TALLY.tools] = tools;
}

function runningSum(points: Float64Array, f: (t: number) => number): Float64Array {
  let sum = 0;
  return points.map((t) => {
    sum += f(t);
    return sum;
  });
}
