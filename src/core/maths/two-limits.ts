import { type Item, type Packing, pack, relax } from "./knapsack.ts";

/**
 * The multiple-choice knapsack under two limits, money and work: one option of every class, the least total value.
 *
 * The limit on work is priced (Lagrangian relaxation; Fisher, Manag. Sci. 27 (1981)): for each price the problem with
 * one limit is solved, the best price gives the bound. What lies between it and the best plan found is closed by a
 * search over partial plans that no other beats in money, work and value, pruned by reduced costs. It ends at the
 * optimum, or after a fixed amount of work with a proven gap.
 */

/** An option that also takes `work` of a second limit, at least 0. */
export interface WorkChoice extends Item {
  work: number;
}

export interface TwoLimits {
  weight: number;
  work: number;
}

const ROUNDS = 30;
/** Partial plans examined in all: about a second. */
const MAX_WORK = 1_500_000;
const MAX_STATES = 15_000;
const ROUNDING = 1e-12;

interface Found {
  chosen: Int32Array;
  value: number;
  weight: number;
  work: number;
}

/** The best choices within both limits; null when none keeps both. Throws RangeError as `relax` does. */
export function packWithin(classes: readonly (readonly WorkChoice[])[], limits: TwoLimits): Packing | null {
  const alone = pack(relax(classes), limits.weight);
  if (alone === null) return null;
  const work_limit = limits.work + ROUNDING * Math.max(1, limits.work);
  if (sums(classes, alone.chosen).work <= work_limit) return alone;

  let best: Found | null = null;
  let bound = alone.bound;
  let prices = { money: alone.multiplier, work: 0 };
  const tried = (price: number): number | null => {
    const priced = classes.map((options) =>
      options.map(({ value, weight, work }) => ({ value: value + price * work, weight })),
    );
    const packing = pack(relax(priced), limits.weight);
    if (packing === null) return null;
    const found = sums(classes, packing.chosen);
    const under = packing.bound - price * limits.work;
    if (under > bound) {
      bound = under;
      prices = { money: packing.multiplier, work: price };
    }
    if (found.work <= work_limit && (best === null || found.value < best.value)) best = found;
    return found.work;
  };
  const least_work = classes.reduce((sum, options) => sum + Math.min(...options.map(({ work }) => work)), 0);
  if (least_work > work_limit) return null;
  // The price from which work is saved wherever it can be.
  let low = 0;
  let high = 1;
  for (let round = 0; round < ROUNDS && (tried(high) ?? 0) > work_limit; round++) {
    low = high;
    high *= 8;
  }
  for (let round = 0; round < ROUNDS && high - low > 1e-6 * high; round++) {
    const price = (low + high) / 2;
    if ((tried(price) ?? 0) > work_limit) low = price;
    else high = price;
  }
  return closed(classes, limits, prices, bound, best === null ? null : filledUp(classes, best, limits));
}

/** What a choice comes to. */
function sums(classes: readonly (readonly WorkChoice[])[], chosen: Int32Array): Found {
  let value = 0;
  let weight = 0;
  let work = 0;
  classes.forEach((options, c) => {
    const option = options[chosen[c]!]!;
    value += option.value;
    weight += option.weight;
    work += option.work;
  });
  return { chosen, value, weight, work };
}

/** A plan with whatever better choices still fit. */
function filledUp(classes: readonly (readonly WorkChoice[])[], from: Found, limits: TwoLimits): Found {
  const chosen = Int32Array.from(from.chosen);
  let { value, weight, work } = from;
  for (let changed = true; changed; ) {
    changed = false;
    classes.forEach((options, c) => {
      options.forEach((then, o) => {
        const now = options[chosen[c]!]!;
        const fits = weight - now.weight + then.weight <= limits.weight && work - now.work + then.work <= limits.work;
        if (!(then.value < now.value && fits)) return;
        chosen[c] = o;
        value += then.value - now.value;
        weight += then.weight - now.weight;
        work += then.work - now.work;
        changed = true;
      });
    });
  }
  return { chosen, value, weight, work };
}

interface State {
  value: number;
  weight: number;
  work: number;
  reduced: number;
  /** How it came about: the state before, and what was chosen in which class. */
  before: State | null;
  class_index: number;
  option: number;
}

/** A class at its prices: its cheapest option, and what each of the others is dearer by. */
interface PricedClass {
  least: number;
  at: number;
  over: number[];
}

/** A class whose choice is not settled by reduced costs. */
interface OpenClass {
  class_index: number;
  at: number;
  over: number[];
  /** Least reduced cost of choosing otherwise. */
  otherwise: number;
}

/** The best complete plan that the search has met. */
class BestPlan {
  winner: State | null = null;
  /** What it lies above `floor`. */
  gap: number;
  readonly #floor: number;
  readonly #most: TwoLimits;
  readonly #tolerance: number;

  constructor(gap: number, floor: number, most: TwoLimits, tolerance: number) {
    this.gap = gap;
    this.#floor = floor;
    this.#most = most;
    this.#tolerance = tolerance;
  }

  /** Whether a plan that lies so much above the floor is still better. */
  isBeatenBy(over: number): boolean {
    return over < this.gap - this.#tolerance;
  }

  fits(weight: number, work: number): boolean {
    return weight <= this.#most.weight && work <= this.#most.work;
  }

  tell(state: State): void {
    const over = state.value - this.#floor;
    if (!this.fits(state.weight, state.work) || !this.isBeatenBy(over)) return;
    this.gap = over;
    this.winner = state;
  }
}

/** Closes the gap between `bound` and `best` (null: no plan is known) as far as the search reaches. */
function closed(
  classes: readonly (readonly WorkChoice[])[],
  limits: TwoLimits,
  prices: { money: number; work: number },
  bound: number,
  best: Found | null,
): Packing | null {
  const priced = classes.map((options) => pricedClass(options, prices));
  const base = sums(
    classes,
    Int32Array.from(priced, ({ at }) => at),
  );
  const floor =
    priced.reduce((sum, { least }) => sum + least, 0) - prices.money * limits.weight - prices.work * limits.work;
  const most = {
    weight: limits.weight + ROUNDING * Math.max(1, limits.weight),
    work: limits.work + ROUNDING * Math.max(1, limits.work),
  };
  const tolerance = ROUNDING * Math.max(1, Math.abs(best?.value ?? base.value));
  const plan = new BestPlan((best?.value ?? Infinity) - floor, floor, most, tolerance);
  const open = openClasses(priced, plan);
  const start: State = { ...base, reduced: 0, before: null, class_index: -1, option: -1 };
  plan.tell(start);
  const dropped = searched(classes, open, start, plan);
  const result = plan.winner === null ? best : followed(classes, priced, plan.winner);
  const exact = !plan.isBeatenBy(dropped);
  if (result === null) return null;
  return {
    chosen: result.chosen,
    value: result.value,
    weight: result.weight,
    bound: exact ? result.value : Math.min(result.value, Math.max(bound, floor + dropped)),
    multiplier: prices.money,
    exact,
  };
}

function pricedClass(options: readonly WorkChoice[], prices: { money: number; work: number }): PricedClass {
  const priced = options.map(({ value, weight, work }) => value + prices.money * weight + prices.work * work);
  const least = Math.min(...priced);
  return { least, at: priced.indexOf(least), over: priced.map((one) => one - least) };
}

/** The classes in which choosing otherwise could still pay, the likeliest first. */
function openClasses(priced: readonly PricedClass[], plan: BestPlan): OpenClass[] {
  return priced
    .flatMap(({ at, over }, class_index) => {
      const otherwise = Math.min(...over.filter((_, o) => o !== at));
      return plan.isBeatenBy(otherwise) ? [{ class_index, at, over, otherwise }] : [];
    })
    .sort((a, b) => a.otherwise - b.otherwise || a.class_index - b.class_index);
}

/** What the classes from each one on can still save of either limit, as numbers of at most 0. */
function savedFrom(classes: readonly (readonly WorkChoice[])[], open: readonly OpenClass[]) {
  const saves = { weight: new Float64Array(open.length + 1), work: new Float64Array(open.length + 1) };
  for (let i = open.length - 1; i >= 0; i--) {
    const { class_index, at } = open[i]!;
    const options = classes[class_index]!;
    const least = (of: "weight" | "work") => Math.min(...options.map((one) => one[of])) - options[at]![of];
    saves.weight[i] = saves.weight[i + 1]! + least("weight");
    saves.work[i] = saves.work[i + 1]! + least("work");
  }
  return saves;
}

/**
 * Goes through the open classes and tells `plan` of every complete plan. Returns the least reduced cost of the states
 * that were given up for want of room or time; Infinity where none was.
 */
function searched(
  classes: readonly (readonly WorkChoice[])[],
  open: readonly OpenClass[],
  start: State,
  plan: BestPlan,
): number {
  const saves = savedFrom(classes, open);
  let states = [start];
  let dropped = Infinity;
  let work_done = 0;
  let i = 0;
  for (; i < open.length && plan.isBeatenBy(open[i]!.otherwise); i++) {
    const options = classes[open[i]!.class_index]!;
    work_done += states.length * options.length;
    if (work_done > MAX_WORK) break;
    const later = { weight: saves.weight[i + 1]!, work: saves.work[i + 1]! };
    states = unbeaten(grown(states, options, open[i]!, later, plan));
    if (states.length > MAX_STATES) {
      states.sort((a, b) => a.reduced - b.reduced);
      dropped = Math.min(dropped, states[MAX_STATES]!.reduced);
      states.length = MAX_STATES;
    }
  }
  // Classes never reached could only matter to states that are still below the gap.
  if (i === open.length || states.length === 0 || !plan.isBeatenBy(open[i]!.otherwise)) return dropped;
  const least = states.reduce((so_far, { reduced }) => Math.min(so_far, reduced), Infinity);
  return Math.min(dropped, least + open[i]!.otherwise);
}

/**
 * Every state with every option of a class, without what can no longer be better, or fit with all that `later` classes
 * may save.
 */
function grown(
  states: readonly State[],
  options: readonly WorkChoice[],
  { class_index, at, over }: OpenClass,
  later: TwoLimits,
  plan: BestPlan,
): State[] {
  const next: State[] = [];
  for (const state of states) {
    options.forEach((one, option) => {
      const reduced = state.reduced + over[option]!;
      const weight = state.weight + one.weight - options[at]!.weight;
      const work = state.work + one.work - options[at]!.work;
      if (!plan.isBeatenBy(reduced) || !plan.fits(weight + later.weight, work + later.work)) return;
      if (option === at) {
        next.push(state);
        return;
      }
      const value = state.value + one.value - options[at]!.value;
      const here: State = { value, weight, work, reduced, before: state, class_index, option };
      plan.tell(here);
      next.push(here);
    });
  }
  return next;
}

/** States that no other beats, or equals, in weight, work and value. */
function unbeaten(states: State[]): State[] {
  states.sort((a, b) => a.weight - b.weight || a.work - b.work || a.value - b.value);
  const kept: State[] = [];
  /** By ascending work, with falling value: the front of those kept so far. */
  const front: { work: number; value: number }[] = [];
  for (const state of states) {
    let low = 0;
    let high = front.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (front[middle]!.work <= state.work) low = middle + 1;
      else high = middle;
    }
    if (low > 0 && front[low - 1]!.value <= state.value) continue;
    kept.push(state);
    let beaten = low;
    while (beaten < front.length && front[beaten]!.value >= state.value) beaten++;
    const same = low > 0 && front[low - 1]!.work === state.work ? 1 : 0;
    front.splice(low - same, beaten - low + same, { work: state.work, value: state.value });
  }
  return kept;
}

function followed(classes: readonly (readonly WorkChoice[])[], priced: readonly PricedClass[], last: State): Found {
  const chosen = Int32Array.from(priced, ({ at }) => at);
  for (let state: State | null = last; state !== null && state.class_index >= 0; state = state.before)
    chosen[state.class_index] = state.option;
  return sums(classes, chosen);
}
