import { fills, grid, LEAK_NOISE, looks, NO_PRESSURE, prior as priorOf } from "../../../data/model-constants.ts";
import { expNegative, normalCdfFast } from "../maths/normal.ts";
import { type Cooling, LOCATION_IDS, type LocationId } from "../question/contract.ts";
import type { LeakPrior, Question } from "../question/question.ts";
import { chargeTouched, type Fill, type LowLook, type Visit } from "./charge-log.ts";
import { addRow, addWithErrorRow, moveRow, rectifyRow } from "./charge-rows.ts";
import type { Clocks } from "./clocks.ts";
import { type Foresight, gatherScouts, LEFT_OUT, SCOUTS } from "./foresight.ts";
import { G_COUNT, gridWeights, jointWeights, LN_X, NODES, X, X_COUNT } from "./leak-grid.ts";
import { mergeStates, mixNodes } from "./mixed-nodes.ts";
import { type AmountErrors, amountErrors, type NodeStates, partOf, STATE_VALUES } from "./node-states.ts";
import { lineOf, takeLevel, takeLook, takeRecovered } from "./observations.ts";
import { SNAPSHOT_VALUES, type Snapshot } from "./snapshot.ts";
import { ALL_NODES, endsAreLight, type Stretch, stretchOf, trimmed } from "./stretch.ts";
import { startInService, supposeCharge } from "./unlogged-charge.ts";

/**
 * The filter of the leak-rate posterior (MODEL §3): at every node of the grid the charge m and the weak-cooling charge
 * b, in grams, are jointly normal and carried through the log. Every step is one loop over the nodes.
 */

/** A weight whose log part is this far below the largest counts as 0, whatever its linear part. */
const LOG_NOTHING = -1400;
/** A branch's node that has less than this share of the whole run's weight is left out. */
const NEXT_TO_NOTHING = 1e-9;
/** Middle of the grid of ln x. */
const LN_X_MIDDLE = (grid.ln_x_first + grid.ln_x_last) / 2;

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

/** The state of all nodes and the steps that move it. Grams throughout. */
export class ChargeFilter implements NodeStates {
  private k: Float64Array;
  readonly all = new Float64Array(STATE_VALUES);
  readonly mean_m = partOf(this.all, "mean_m");
  readonly mean_b = partOf(this.all, "mean_b");
  readonly var_m = partOf(this.all, "var_m");
  readonly cov_mb = partOf(this.all, "cov_mb");
  readonly var_b = partOf(this.all, "var_b");
  readonly linear = partOf(this.all, "linear");
  readonly log = partOf(this.all, "log");
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
  /** ln of the most by which looks and readings of this regime can have multiplied a weight. */
  private most = 0;
  /** ln of the factors by which the weights were divided whenever they were normalized. */
  private log_evidence = 0;
  private readonly prior: Float64Array;
  private readonly question: Question;
  private readonly clocks: Clocks;
  private readonly ln_x_prior: LeakPrior;
  /** Of the amount that a visit adds; used within that visit only. */
  private errors: AmountErrors | null = null;

  /** A run at its beginning, or a copy of one where it is now: `from`, of the same nameplate charge and clocks. */
  constructor(question: Question, clocks: Clocks, ln_x_prior: LeakPrior, from: ChargeFilter | null = null) {
    const { nameplate_g, assumptions } = question;
    this.question = question;
    this.clocks = clocks;
    this.ln_x_prior = ln_x_prior;
    this.prior = priorWeights(ln_x_prior);
    if (from !== null) {
      this.k = from.k;
      this.all.set(from.all);
      return;
    }
    this.k = new Float64Array(X_COUNT);
    for (let i = 0; i < X_COUNT; i++) this.k[i] = X[i]! * nameplate_g;
    this.linear.set(this.prior);
    this.mean_m.fill(priorOf.charge_mean * nameplate_g);
    this.var_m.fill((priorOf.charge_sd * nameplate_g) ** 2);
    this.mean_b.fill(assumptions.low_fraction * nameplate_g);
    this.var_b.fill((assumptions.low_sd * nameplate_g) ** 2);
  }

  /** A copy of the state that goes on under another question, whose log and assumptions are the same up to here. */
  copy(question: Question): ChargeFilter {
    const copy = new ChargeFilter(question, this.clocks, this.ln_x_prior, this);
    copy.held = this.held;
    copy.log_evidence = this.log_evidence;
    copy.regime = this.regime;
    copy.most = this.most;
    copy.counted = [...this.counted];
    return copy;
  }

  /** A copy of the state that goes on with the same question and within the same nodes. */
  branch(): ChargeFilter {
    const branch = this.copy(this.question);
    branch.stretch = this.stretch;
    branch.within = this.within;
    branch.enough = this.enough;
    return branch;
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
    this.most = 0;
    this.stretch = this.within?.[this.regime] ?? ALL_NODES;
  }

  /** Lets every node leak from `from` to `to`, years from the assessment date. */
  move(from: number, to: number): void {
    if (from === to) return;
    const before = this.clocks.at(from);
    const after = this.clocks.at(to);
    for (const row of this.stretch) moveRow(this.all, this.k, before, after, row);
  }

  /** Replaces m by max(0, m), as a normal of the same mean, variance and covariance with b. */
  rectify(): void {
    for (const row of this.stretch) rectifyRow(this, row);
  }

  /**
   * Takes in one visit up to its repair; the filter must have moved to its time. `mistaken`, if given, replaces the
   * usual chance that its look was a mistake.
   */
  visit(visit: Visit, mistaken: number | null = null): void {
    const { recovered, fill, cooling } = visit;
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
      if (!error_v) this.look("fill-unknown");
    } else if (fill !== null && fill.kind !== "amount") {
      this.setCharge(fill.mean_g, fill.sd_g * fill.sd_g);
    }
  }

  /**
   * Takes in a look: the charge m lies on one side of a line (b, or a fixed share of the nameplate charge), which is
   * soft, and the look is wrong with chance `mistaken`. `with_error` updates the amount's error v along with m and b.
   */
  look(kind: Cooling | "fill-unknown", with_error = false, mistaken: number = looks[kind].mistaken): void {
    this.most += Math.log(1 - mistaken);
    takeLook(this, this.stretch, { kind, mistaken }, this.question.nameplate_g, with_error ? this.errors : null);
  }

  /**
   * Chance of a low look at `to`, years, when nothing happens after `from`, where the filter is: how well the log
   * foresees it.
   */
  chanceOfLow(kind: LowLook, from: number, to: number): number {
    const { mean_m, mean_b, var_m, cov_mb, var_b, k, clocks } = this;
    const { mistaken } = looks[kind];
    const { own, fixed, soft2 } = lineOf(kind, this.question.nameplate_g);
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

  /** Takes in what a recovery machine weighed. */
  private readRecovered(reading_g: number, sd_g: number): void {
    this.most += Math.log(this.question.nameplate_g / sd_g);
    takeRecovered(this, this.stretch, { reading_g, sd_g }, this.question.nameplate_g);
  }

  /** Takes in the level judged after an amount went in. */
  private readLevel(fill: Extract<Fill, { kind: "amount" }>): void {
    if (fill.reading === null) return;
    this.most += Math.log(this.question.nameplate_g / Math.hypot(fill.sd_g, fill.reading.sd_g));
    this.errors ??= amountErrors();
    takeLevel(this, this.stretch, fill, this.question.nameplate_g, this.errors);
  }

  /** Adds an amount to the charge, error included; a system takes no more than a certain charge. */
  private add({ into_g, sd_g, reading }: Extract<Fill, { kind: "amount" }>): void {
    const errors = reading === null ? null : this.errors;
    const most_g = fills.most_after_amount * this.question.nameplate_g;
    for (const row of this.stretch) {
      if (errors === null) addRow(this.all, into_g, sd_g * sd_g, most_g, row);
      else addWithErrorRow(this.all, into_g, errors, most_g, row);
    }
  }

  /** Sets the charge of every node, grams and g². It was set, not observed, so it tells nothing about b. */
  private setCharge(mean_g: number, variance: number): void {
    this.mean_m.fill(mean_g);
    this.var_m.fill(variance);
    this.cov_mb.fill(0);
  }

  /** Mixes the leak after a repair at `location` (MODEL §5): a sound system's seep, the old leak, or a new one. */
  repair(location: LocationId): void {
    const { question, prior } = this;
    this.rectify();
    this.log_evidence = this.logEvidence();
    const weight = this.weights();
    this.endRegime(weight);
    mixNodes(this, weight);
    const holds = question.prices.holds[LOCATION_IDS.indexOf(location)]!;
    const sound = soundWeights(question.assumptions.seep_fraction);
    const held = new Float64Array(NODES);
    const { linear } = this;
    for (let n = 0; n < NODES; n++) {
      const kept = holds * sound[n]!;
      const total = kept + (1 - holds) * (0.5 * weight[n]! + 0.5 * prior[n]!);
      held[n] = total > 0 ? kept / total : 0;
      linear[n] = total;
    }
    this.log.fill(0);
    this.held = held;
  }

  /**
   * Becomes the mixture of itself and other branches of one run: a node's weight is the sum of theirs, its charge and
   * line have the mean and covariance of the mixture.
   */
  mergeIn(others: readonly ChargeFilter[]): void {
    for (const other of others) mergeStates(this, other, other.stretch);
  }

  /**
   * Leaves out, at both ends of each row, the nodes that count for nothing beside `total`, ln of the evidence for the
   * run that this branch belongs to.
   */
  keepBeside(total: number): void {
    this.relativeWeights(scratch);
    const least = NEXT_TO_NOTHING * Math.exp(total - this.log_evidence - this.largestLog());
    this.stretch = trimmed(this.stretch, (n) => scratch[n]! < least);
  }

  /** A copy of the state that goes on at a few nodes alone. */
  scouts(): ChargeFilter {
    const scouts = this.branch();
    scouts.stretch = SCOUTS;
    scouts.k = this.k.slice();
    gatherScouts(scouts.k);
    gatherScouts(scouts.all);
    return scouts;
  }

  /** ln of the most by which the weight of any node was multiplied since the last repair. */
  mostSoFar(): number {
    return this.most;
  }

  /** Leaves out, at both ends of each row, the nodes that will count for nothing at the end of the regime. */
  leaveOut({ least_end, most }: Foresight): void {
    const { linear, log } = this;
    const least = Math.log(LEFT_OUT) + least_end - this.log_evidence - (most - this.most);
    this.stretch = trimmed(this.stretch, (n) => {
      const light = linear[n]! <= Math.exp(least - log[n]!);
      if (light) {
        linear[n] = 0;
        log[n] = -Infinity;
      }
      return light;
    });
  }

  /**
   * Starts where the records of a vehicle in service begin, at `from`, years: it was full some time before, and has
   * leaked since.
   */
  startInService(from: number): void {
    const to = Math.min(0, from + 1);
    if (from < to)
      startInService(this, { k: this.k, pace: this.pace(from, to), nameplate_g: this.question.nameplate_g });
  }

  /** By growth: how fast a leak runs on average between two times, years, in shares of k. */
  private pace(from: number, to: number): Float64Array {
    const before = this.clocks.at(from);
    return this.clocks.at(to).growth.map((reading, j) => (reading - before.growth[j]!) / (to - from));
  }

  /** Supposes, with chance `chance`, a charge that nobody logged between `from` and `to`, years, where it is now. */
  chargeUnlogged(from: number, to: number, chance: number): void {
    const { nameplate_g } = this.question;
    supposeCharge(this, this.stretch, { k: this.k, pace: this.pace(from, to), chance, nameplate_g });
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
    for (const { from, to } of this.stretch) {
      const first = Math.floor(from / X_COUNT) * X_COUNT;
      for (let n = from; n < to; n++) by_x[n - first]! += scratch[n]!;
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

  /**
   * The charge as it is now, copied, under the given time and entry; `into` is room for `SNAPSHOT_VALUES`, which
   * belongs to it from then on.
   */
  snapshot(t: number, entry: number, moment: "before" | "after", into: Float64Array): Snapshot {
    into.set(this.mean_m);
    into.set(this.var_m, NODES);
    return { t, entry, moment, mean_m: into.subarray(0, NODES), var_m: into.subarray(NODES, SNAPSHOT_VALUES) };
  }

  /** The present state; its arrays are the filter's own, which must not be used after it. */
  state(): FilterState {
    const { mean_m, mean_b, var_m, cov_mb, var_b, held, counted } = this;
    const weight = this.weights();
    this.endRegime(weight);
    return { weight, mean_m, mean_b, var_m, cov_mb, var_b, held, stretches: counted };
  }
}

const KNOWN_PRIORS = new WeakMap<LeakPrior, Float64Array>();

/** Prior weights of the nodes; kept, as every run of a question begins with the same. */
function priorWeights(prior: LeakPrior): Float64Array {
  let weights = KNOWN_PRIORS.get(prior);
  if (weights === undefined) {
    weights = jointWeights(gridWeights(LN_X, prior.ln_x_mean, prior.ln_x_sd));
    KNOWN_PRIORS.set(prior, weights);
  }
  return weights;
}

const KNOWN_SOUND = new Map<number, Float64Array>();
/** Most seeps whose weights are kept. */
const SEEPS_KEPT = 32;

/** Weights of the nodes for what a sound system seeps; kept, as a question's runs ask for the same few. */
function soundWeights(seep_fraction: number): Float64Array {
  let weights = KNOWN_SOUND.get(seep_fraction);
  if (weights === undefined) {
    if (KNOWN_SOUND.size === SEEPS_KEPT) KNOWN_SOUND.clear();
    weights = jointWeights(gridWeights(LN_X, Math.log(seep_fraction), priorOf.after_repair_ln_x_sd));
    KNOWN_SOUND.set(seep_fraction, weights);
  }
  return weights;
}

// Work space of a single step, shared by all filters: nothing is kept in it from one step to the next.
const scratch = new Float64Array(NODES);
const by_x = new Float64Array(X_COUNT);
