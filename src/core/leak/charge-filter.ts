import {
  fills,
  grid,
  LEAK_NOISE,
  looks,
  NO_PRESSURE,
  prior as priorOf,
  recovery,
} from "../../../data/model-constants.ts";
import { expNegative, normalCdfFast, rectifyAt, softSteps } from "../maths/normal.ts";
import { type Cooling, LOCATION_IDS } from "../question/contract.ts";
import type { LeakPrior, Question } from "../question/question.ts";
import { chargeTouched, type Fill, type LowLook, type Visit } from "./charge-log.ts";
import type { Clocks } from "./clocks.ts";
import { G_COUNT, gridWeights, jointWeights, LN_X, NODES, X, X_COUNT } from "./leak-grid.ts";
import { ALL_NODES, endsAreLight, type Stretch, stretchOf } from "./stretch.ts";

/**
 * The filter of the leak-rate posterior (MODEL §3): at every node of the grid the charge m and the weak-cooling charge
 * b, in grams, are jointly normal and carried through the log. Every step is one loop over the nodes.
 */

/** Outside these bounds the linear part of a weight moves into its log part, well before it leaves the float range. */
const FLUSH_BELOW = 1e-150;
const FLUSH_ABOVE = 1e150;

/** A weight whose log part is this far below the largest counts as 0, whatever its linear part. */
const LOG_NOTHING = -1400;
/** Middle of the grid of ln x. */
const LN_X_MIDDLE = (grid.ln_x_first + grid.ln_x_last) / 2;

/** The charge at a point of the log, not rectified. Arrays hold a value for each node of the grid. */
export interface Snapshot {
  /** Years from the assessment date, 0 or negative. */
  t: number;
  /** Position of the entry in the sorted log. */
  entry: number;
  /** Whether this is just before the entry or just after it. */
  moment: "before" | "after";
  /** Mean charge, grams. */
  mean_m: Float64Array;
  /** Variance of the charge, g². */
  var_m: Float64Array;
}

/** The filter at the assessment date: charge m (rectified) and weak-cooling charge b. A value for each node. */
export interface FilterState {
  /** Weight of the node, adding to 1. */
  weight: Float64Array;
  /** Mean of m, grams. */
  mean_m: Float64Array;
  /** Mean of b, grams. */
  mean_b: Float64Array;
  /** Variance of m, g². */
  var_m: Float64Array;
  /** Covariance of m and b, g². */
  cov_mb: Float64Array;
  /** Variance of b, g². */
  var_b: Float64Array;
  /** Share of the node's weight in which the last repair held, 0–1; null without a repair. */
  held: Float64Array | null;
  /** What of the nodes counted at each repair, and at the end; of a run that was kept within some nodes, nothing. */
  stretches: readonly Stretch[];
}

/** The arrays that a node's state consists of between visits. */
const STATE = ["mean_m", "mean_b", "var_m", "cov_mb", "var_b", "linear", "log"] as const;

/** Stands in for the arrays of the amount's error until a visit needs them. */
const NO_NODES = new Float64Array(0);

/** The state of all nodes and the steps that move it. Grams throughout. */
export class ChargeFilter {
  private readonly k: Float64Array;
  private readonly mean_m = new Float64Array(NODES);
  private readonly mean_b = new Float64Array(NODES);
  private readonly var_m = new Float64Array(NODES);
  private readonly cov_mb = new Float64Array(NODES);
  private readonly var_b = new Float64Array(NODES);
  /** Weight of a node = linear · e^{log}: looks multiply the linear part, readings add to the log part. */
  private readonly linear: Float64Array;
  private readonly log = new Float64Array(NODES);
  private held: Float64Array | null = null;
  /** The nodes that steps go through; the others weigh 0. */
  private stretch = ALL_NODES;
  /** Number of repairs so far. */
  private regime = 0;
  /** Of each regime, from repair to repair: the nodes that go through it; null: all. */
  private within: readonly Stretch[] | null = null;
  /** What of the nodes counted at the end of each regime so far. */
  private counted: Stretch[] = [];
  private enough = true;
  /** ln of the factors by which the weights were divided whenever they were normalized. */
  private log_evidence = 0;
  private readonly prior: Float64Array;
  private readonly question: Question;
  private readonly clocks: Clocks;
  private readonly ln_x_prior: LeakPrior;
  // v, the error of the amount that a visit adds, as a third variable; used within that visit only.
  private mean_v = NO_NODES;
  private var_v = NO_NODES;
  private cov_mv = NO_NODES;
  private cov_bv = NO_NODES;

  constructor(question: Question, clocks: Clocks, ln_x_prior: LeakPrior) {
    const { nameplate_g, assumptions } = question;
    this.question = question;
    this.clocks = clocks;
    this.ln_x_prior = ln_x_prior;
    this.k = X.map((x) => x * nameplate_g);
    this.prior = jointWeights(gridWeights(LN_X, ln_x_prior.ln_x_mean, ln_x_prior.ln_x_sd));
    this.linear = this.prior.slice();
    this.mean_m.fill(priorOf.charge_mean * nameplate_g);
    this.var_m.fill((priorOf.charge_sd * nameplate_g) ** 2);
    this.mean_b.fill(assumptions.low_fraction * nameplate_g);
    this.var_b.fill((assumptions.low_sd * nameplate_g) ** 2);
  }

  /** A copy of the state that goes on under another question, whose log and assumptions are the same up to here. */
  copy(question: Question): ChargeFilter {
    const copy = new ChargeFilter(question, this.clocks, this.ln_x_prior);
    for (const name of STATE) copy[name].set(this[name]);
    copy.held = this.held;
    copy.log_evidence = this.log_evidence;
    copy.regime = this.regime;
    copy.counted = [...this.counted];
    return copy;
  }

  /**
   * Goes on within these nodes, by regime: `stretches` of a run of the same log under other assumptions. `wasEnough`
   * says at the end whether they were all that count.
   */
  keepWithin(stretches: readonly Stretch[] | null): void {
    this.within = stretches;
    this.stretch = stretches?.[this.regime] ?? ALL_NODES;
  }

  /** Whether nothing that counts was outside; after `state`. */
  wasEnough(): boolean {
    return this.enough;
  }

  /** Notes what counted since the last repair, and begins anew with the nodes that will. */
  private endRegime(weight: Float64Array): void {
    if (this.within === null) this.counted.push(stretchOf(weight));
    else if (!endsAreLight(this.stretch, weight)) this.enough = false;
    this.regime++;
    this.stretch = this.within?.[this.regime] ?? ALL_NODES;
  }

  /** Lets every node leak from `from` to `to`, years from the assessment date. */
  move(from: number, to: number): void {
    const { mean_m, var_m, k, clocks } = this;
    if (from === to) return;
    const before = clocks.at(from);
    const after = clocks.at(to);
    for (let j = 0; j < G_COUNT; j++) {
      const span = after.growth[j]! - before.growth[j]!;
      const noise = LEAK_NOISE * LEAK_NOISE * (after.growth_twice[j]! - before.growth_twice[j]!);
      const first = j * X_COUNT;
      const row = this.stretch[j]!;
      for (let n = row.from; n < row.to; n++) {
        const rate = k[n - first]!;
        mean_m[n]! -= rate * span;
        var_m[n]! += rate * rate * noise;
      }
    }
  }

  /** Replaces m by max(0, m), as a normal of the same mean, variance and covariance with b. */
  rectify(): void {
    const { mean_m, var_m, cov_mb } = this;
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) rectifyAt(mean_m, var_m, n, cov_mb);
    }
  }

  /**
   * Takes in one visit; the filter must have moved to its time. `mistaken`, if given, replaces the usual chance that
   * its look was a mistake.
   */
  visit(visit: Visit, mistaken: number | null = null): void {
    const { recovered, fill, cooling, repair } = visit;
    const amount = fill?.kind === "amount" ? fill : null;
    const error_v = amount !== null && amount.reading !== null;
    if (recovered !== null) {
      this.rectify();
      this.readRecovered(recovered.reading_g, recovered.sd_g);
    } else if (amount !== null) {
      this.rectify();
      if (error_v) this.readLevel(amount);
    }
    if (cooling !== null) this.look(cooling, error_v && recovered === null, mistaken ?? looks[cooling].mistaken);
    if (cooling === "empty" && !chargeTouched(visit)) {
      // Without pressure the charge is known, whatever the log led to.
      const { mean, sd } = NO_PRESSURE;
      this.setCharge(mean * this.question.nameplate_g, (sd * this.question.nameplate_g) ** 2);
    }
    if (recovered !== null) this.setCharge(0, 0);
    if (amount !== null) {
      if (recovered !== null && error_v) this.readLevel(amount);
      this.add(amount);
      this.cap(fills.most_after_amount * this.question.nameplate_g);
      if (!error_v) this.look("fill-unknown");
    } else if (fill !== null && fill.kind !== "amount") {
      this.setCharge(fill.mean_g, fill.sd_g * fill.sd_g);
    }
    if (repair !== null) this.repair(LOCATION_IDS.indexOf(repair));
  }

  /**
   * Takes in a look: the charge m lies on one side of a line (b, or a fixed share of the nameplate charge), which is
   * soft, and the look is wrong with chance `mistaken`. `with_error` updates the amount's error v along with m and b.
   */
  look(kind: Cooling | "fill-unknown", with_error = false, mistaken: number = looks[kind].mistaken): void {
    const { mean_m, mean_b, var_m, cov_mb, var_b } = this;
    const { line, softness } = looks[kind];
    const { nameplate_g } = this.question;
    const own = line === null ? 1 : 0;
    const fixed = line === null ? 0 : line * nameplate_g;
    const soft2 = (softness * nameplate_g) ** 2;
    const sign = kind === "ok" ? -1 : 1;
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) {
        const per_s = 1 / Math.sqrt(var_m[n]! - own * (2 * cov_mb[n]! - var_b[n]!) + soft2);
        per_sd[n] = per_s;
        apart[n] = sign * (own * mean_b[n]! + fixed - mean_m[n]!) * per_s;
      }
    }
    for (const { from, to } of this.stretch) softSteps(apart, mistaken, evidence, slope, from, to);
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) {
        this.multiply(n, evidence[n]!);
        const h = slope[n]!;
        // What was clear beforehand tells nothing new of the charge.
        if (h === 0) continue;
        const per_s = per_sd[n]!;
        const d_m = var_m[n]! - own * cov_mb[n]!;
        const d_b = cov_mb[n]! - own * var_b[n]!;
        const shift = sign * h * per_s;
        const shrink = h * (h + apart[n]!) * per_s * per_s;
        mean_m[n]! -= d_m * shift;
        mean_b[n]! -= d_b * shift;
        var_m[n]! -= d_m * d_m * shrink;
        cov_mb[n]! -= d_m * d_b * shrink;
        var_b[n]! -= d_b * d_b * shrink;
        if (with_error) {
          const d_v = this.cov_mv[n]! - own * this.cov_bv[n]!;
          this.mean_v[n]! -= d_v * shift;
          this.var_v[n]! -= d_v * d_v * shrink;
          this.cov_mv[n]! -= d_m * d_v * shrink;
          this.cov_bv[n]! -= d_b * d_v * shrink;
        }
      }
    }
  }

  /**
   * Chance of a low look at `to`, years, when nothing happens after `from`, where the filter is: how well the log
   * foresees it.
   */
  chanceOfLow(kind: LowLook, from: number, to: number): number {
    const { mean_m, mean_b, var_m, cov_mb, var_b, k, clocks } = this;
    const { line, softness, mistaken } = looks[kind];
    const { nameplate_g } = this.question;
    const own = line === null ? 1 : 0;
    const fixed = line === null ? 0 : line * nameplate_g;
    const soft2 = (softness * nameplate_g) ** 2;
    const weight = this.weights();
    const before = clocks.at(from);
    const after = clocks.at(to);
    let below = 0;
    for (let j = 0; j < G_COUNT; j++) {
      const span = after.growth[j]! - before.growth[j]!;
      const noise = LEAK_NOISE * LEAK_NOISE * (after.growth_twice[j]! - before.growth_twice[j]!);
      for (let i = 0; i < X_COUNT; i++) {
        const n = j * X_COUNT + i;
        if (weight[n] === 0) continue;
        const apart = own * mean_b[n]! + fixed - (mean_m[n]! - k[i]! * span);
        const s2 = var_m[n]! + k[i]! * k[i]! * noise - own * (2 * cov_mb[n]! - var_b[n]!) + soft2;
        below += weight[n]! * normalCdfFast(apart / Math.sqrt(s2));
      }
    }
    return mistaken + (1 - 2 * mistaken) * below;
  }

  /** Multiplies the weight of a node by the likelihood of a look or a reading, out of reach of under- and overflow. */
  private multiply(n: number, evidence: number): void {
    const product = this.linear[n]! * evidence;
    if ((product < FLUSH_BELOW && product > 0) || product > FLUSH_ABOVE) {
      this.log[n]! += Math.log(product);
      this.linear[n] = 1;
    } else {
      this.linear[n] = product;
    }
  }

  /** Takes in what a recovery machine weighed: reading = `recovery.share`·m + N(0, sd). */
  private readRecovered(reading_g: number, sd_g: number): void {
    const { mean_m, mean_b, var_m, cov_mb, var_b } = this;
    const c = recovery.share;
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) {
        const cov_my = c * var_m[n]!;
        const cov_by = c * cov_mb[n]!;
        const s2 = c * cov_my + sd_g * sd_g;
        const off = reading_g - c * mean_m[n]!;
        const per_s2 = 1 / s2;
        this.weigh(n, off, per_s2);
        const gain_m = cov_my * per_s2;
        const gain_b = cov_by * per_s2;
        mean_m[n]! += gain_m * off;
        mean_b[n]! += gain_b * off;
        var_m[n]! -= gain_m * cov_my;
        cov_mb[n]! -= gain_m * cov_by;
        var_b[n]! -= gain_b * cov_by;
      }
    }
  }

  /** Takes in the level judged after an amount went in: reading = m + into + v + N(0, sd), v the amount's error. */
  private readLevel({ into_g, sd_g, reading }: Extract<Fill, { kind: "amount" }>): void {
    if (reading === null) return;
    if (this.mean_v === NO_NODES) {
      this.mean_v = new Float64Array(NODES);
      this.var_v = new Float64Array(NODES);
      this.cov_mv = new Float64Array(NODES);
      this.cov_bv = new Float64Array(NODES);
    }
    const { mean_m, mean_b, var_m, cov_mb, var_b, mean_v, var_v, cov_mv, cov_bv } = this;
    const v2 = sd_g * sd_g;
    const r2 = reading.sd_g * reading.sd_g;
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) {
        const cov_my = var_m[n]!;
        const cov_by = cov_mb[n]!;
        const s2 = cov_my + v2 + r2;
        const off = reading.mean_g - into_g - mean_m[n]!;
        const per_s2 = 1 / s2;
        this.weigh(n, off, per_s2);
        const gain_m = cov_my * per_s2;
        const gain_b = cov_by * per_s2;
        const gain_v = v2 * per_s2;
        mean_m[n]! += gain_m * off;
        mean_b[n]! += gain_b * off;
        mean_v[n] = gain_v * off;
        var_m[n]! -= gain_m * cov_my;
        cov_mb[n]! -= gain_m * cov_by;
        var_b[n]! -= gain_b * cov_by;
        cov_mv[n] = -gain_m * v2;
        cov_bv[n] = -gain_b * v2;
        var_v[n] = v2 - gain_v * v2;
      }
    }
  }

  /** Weighs a node by the density of a reading `off` grams from its expected value; `per_s2`: 1/variance, g⁻². */
  private weigh(n: number, off: number, per_s2: number): void {
    this.log[n]! -= 0.5 * off * off * per_s2;
    this.multiply(n, this.question.nameplate_g * Math.sqrt(per_s2));
  }

  /** Adds an amount to the charge, error included. */
  private add({ into_g, sd_g, reading }: Extract<Fill, { kind: "amount" }>): void {
    const { mean_m, var_m, cov_mb, mean_v, var_v, cov_mv, cov_bv } = this;
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) {
        mean_m[n]! += into_g;
        if (reading === null) {
          var_m[n]! += sd_g * sd_g;
        } else {
          mean_m[n]! += mean_v[n]!;
          var_m[n]! += 2 * cov_mv[n]! + var_v[n]!;
          cov_mb[n]! += cov_bv[n]!;
        }
      }
    }
  }

  /** A system takes no more than `most_g`. */
  private cap(most_g: number): void {
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) this.mean_m[n] = Math.min(most_g, this.mean_m[n]!);
    }
  }

  /** Sets the charge of every node, grams and g². It was set, not observed, so it tells nothing about b. */
  private setCharge(mean_g: number, variance: number): void {
    this.mean_m.fill(mean_g);
    this.var_m.fill(variance);
    this.cov_mb.fill(0);
  }

  /** Mixes the leak after a repair at `location` (MODEL §5): a sound system's seep, the old leak, or a new one. */
  private repair(location: number): void {
    const { question, prior } = this;
    this.rectify();
    this.log_evidence = this.logEvidence();
    const weight = this.weights();
    this.endRegime(weight);
    this.mix(weight);
    const holds = question.prices.holds[location]!;
    const sound = jointWeights(
      gridWeights(LN_X, Math.log(question.assumptions.seep_fraction), priorOf.after_repair_ln_x_sd),
    );
    const held = new Float64Array(NODES);
    for (let n = 0; n < NODES; n++) {
      const kept = holds * sound[n]!;
      const total = kept + (1 - holds) * (0.5 * weight[n]! + 0.5 * prior[n]!);
      held[n] = total > 0 ? kept / total : 0;
      this.linear[n] = total;
      this.log[n] = 0;
    }
    this.held = held;
  }

  /** Gives every node the mean and covariance of the mixture over nodes. */
  private mix(weight: Float64Array): void {
    const { mean_m, mean_b, var_m, cov_mb, var_b } = this;
    let m = 0;
    let b = 0;
    for (let n = 0; n < NODES; n++) {
      m += weight[n]! * mean_m[n]!;
      b += weight[n]! * mean_b[n]!;
    }
    let mm = 0;
    let mb = 0;
    let bb = 0;
    for (let n = 0; n < NODES; n++) {
      const from_m = mean_m[n]! - m;
      const from_b = mean_b[n]! - b;
      mm += weight[n]! * (var_m[n]! + from_m * from_m);
      mb += weight[n]! * (cov_mb[n]! + from_m * from_b);
      bb += weight[n]! * (var_b[n]! + from_b * from_b);
    }
    mean_m.fill(m);
    mean_b.fill(b);
    var_m.fill(mm);
    cov_mb.fill(mb);
    var_b.fill(bb);
  }

  /** Weight of each node, adding to 1. */
  weights(): Float64Array {
    const weight = new Float64Array(NODES);
    const sum = this.relativeWeights(weight);
    for (let n = 0; n < NODES; n++) weight[n]! /= sum;
    return weight;
  }

  /** ln of the likelihood of the log so far, up to a term that depends on its visits but not on their days. */
  logEvidence(): number {
    return this.log_evidence + this.largestLog() + Math.log(this.relativeWeights(scratch));
  }

  private largestLog(): number {
    let largest = -Infinity;
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) if (this.log[n]! > largest) largest = this.log[n]!;
    }
    return largest;
  }

  /** Writes the weights, up to a common factor, to `into` and gives their sum. */
  private relativeWeights(into: Float64Array): number {
    const { linear, log } = this;
    const reference = this.largestLog();
    let sum = 0;
    into.fill(0);
    for (const { from, to } of this.stretch) {
      for (let n = from; n < to; n++) {
        const below = log[n]! - reference;
        const one = below === 0 ? linear[n]! : below < LOG_NOTHING ? 0 : linear[n]! * expNegative(-below);
        into[n] = one;
        sum += one;
      }
    }
    return sum;
  }

  /** Standard deviation of ln x under the present weights. */
  lnXSd(): number {
    const sum = this.relativeWeights(scratch);
    by_x.fill(0);
    for (let j = 0; j < G_COUNT; j++) {
      for (let i = 0; i < X_COUNT; i++) by_x[i]! += scratch[j * X_COUNT + i]!;
    }
    let first = 0;
    let second = 0;
    for (let i = 0; i < X_COUNT; i++) {
      // Measured from the middle of the grid, which keeps the digits of the squares.
      const away = LN_X[i]! - LN_X_MIDDLE;
      const part = by_x[i]! * away;
      first += part;
      second += part * away;
    }
    const mean = first / sum;
    return Math.sqrt(Math.max(0, second / sum - mean * mean));
  }

  /** Mean charge of each node, grams: a copy. */
  meanCharge(): Float64Array {
    return this.mean_m.slice();
  }

  /** The charge as it is now, copied, under the given time and entry. */
  snapshot(t: number, entry: number, moment: "before" | "after"): Snapshot {
    return { t, entry, moment, mean_m: this.mean_m.slice(), var_m: this.var_m.slice() };
  }

  /** The present state; its arrays are the filter's own, which must not be used after it. */
  state(): FilterState {
    const { mean_m, mean_b, var_m, cov_mb, var_b, held, counted } = this;
    const weight = this.weights();
    this.endRegime(weight);
    return { weight, mean_m, mean_b, var_m, cov_mb, var_b, held, stretches: counted };
  }
}

// Work space of a single step, shared by all filters: nothing is kept in it from one step to the next.
const scratch = new Float64Array(NODES);
const by_x = new Float64Array(X_COUNT);
const apart = new Float64Array(NODES);
const per_sd = new Float64Array(NODES);
const evidence = new Float64Array(NODES);
const slope = new Float64Array(NODES);
