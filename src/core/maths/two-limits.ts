import { type Choice, type Packing, pack, relax } from "./knapsack.ts";

/**
 * The multiple-choice knapsack under two limits, money and work: one option of every class, the least total value.
 *
 * The limit on work is priced (Lagrangian relaxation; Fisher, Manag. Sci. 27 (1981)): for each price the problem with
 * one limit is solved, the best price gives the bound. What lies between it and the best plan found is closed by a
 * search over partial plans that no other beats in money, work and value, pruned by reduced costs. It ends at the
 * optimum, or after a fixed amount of work with a proven gap.
 */

/** An option that also takes `work` of a second limit, at least 0. */
export interface WorkChoice extends Choice {
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

/** Closes the gap between `bound` and `best` (null: no plan is known) as far as the search reaches. */
function closed(
  classes: readonly (readonly WorkChoice[])[],
  limits: TwoLimits,
  prices: { money: number; work: number },
  bound: number,
  best: Found | null,
): Packing | null {
  const reducedOf = classes.map((options) => {
    const priced = options.map(({ value, weight, work }) => value + prices.money * weight + prices.work * work);
    const least = Math.min(...priced);
    return { least, at: priced.indexOf(least), over: priced.map((one) => one - least) };
  });
  const base = sums(
    classes,
    Int32Array.from(reducedOf, ({ at }) => at),
  );
  const floor =
    reducedOf.reduce((sum, { least }) => sum + least, 0) - prices.money * limits.weight - prices.work * limits.work;
  let gap = (best?.value ?? Infinity) - floor;
  const tolerance = ROUNDING * Math.max(1, Math.abs(best?.value ?? base.value));
  const most_weight = limits.weight + ROUNDING * Math.max(1, limits.weight);
  const most_work = limits.work + ROUNDING * Math.max(1, limits.work);
  const open = reducedOf
    .flatMap(({ at, over }, class_index) => {
      const otherwise = Math.min(...over.filter((_, o) => o !== at));
      return otherwise < gap - tolerance ? [{ class_index, at, over, otherwise }] : [];
    })
    .sort((a, b) => a.otherwise - b.otherwise || a.class_index - b.class_index);
  // What the classes from here on can still save of either.
  const saves = { weight: new Float64Array(open.length + 1), work: new Float64Array(open.length + 1) };
  for (let i = open.length - 1; i >= 0; i--) {
    const { class_index, at } = open[i]!;
    const options = classes[class_index]!;
    const least = (of: "weight" | "work") => Math.min(...options.map((one) => one[of])) - options[at]![of];
    saves.weight[i] = saves.weight[i + 1]! + least("weight");
    saves.work[i] = saves.work[i + 1]! + least("work");
  }
  let states: State[] = [{ ...base, reduced: 0, before: null, class_index: -1, option: -1 }];
  let winner: State | null = null;
  let dropped = Infinity;
  let work_done = 0;
  let i = 0;
  const tell = (state: State): void => {
    const over = state.value - floor;
    const fits = state.weight <= most_weight && state.work <= most_work;
    if (!fits || over >= gap - tolerance) return;
    gap = over;
    winner = state;
  };
  tell(states[0]!);
  for (; i < open.length && open[i]!.otherwise < gap - tolerance; i++) {
    const { class_index, at, over } = open[i]!;
    const options = classes[class_index]!;
    work_done += states.length * options.length;
    if (work_done > MAX_WORK) break;
    const next: State[] = [];
    for (const state of states) {
      options.forEach((one, option) => {
        const reduced = state.reduced + over[option]!;
        const weight = state.weight + one.weight - options[at]!.weight;
        const work = state.work + one.work - options[at]!.work;
        if (reduced >= gap - tolerance) return;
        if (weight + saves.weight[i + 1]! > most_weight) return;
        if (work + saves.work[i + 1]! > most_work) return;
        if (option === at) {
          next.push(state);
          return;
        }
        const value = state.value + one.value - options[at]!.value;
        const here: State = { value, weight, work, reduced, before: state, class_index, option };
        tell(here);
        next.push(here);
      });
    }
    states = unbeaten(next);
    if (states.length > MAX_STATES) {
      states.sort((a, b) => a.reduced - b.reduced);
      dropped = Math.min(dropped, states[MAX_STATES]!.reduced);
      states.length = MAX_STATES;
    }
  }
  if (i < open.length && open[i]!.otherwise < gap - tolerance && states.length > 0)
    dropped = Math.min(
      dropped,
      states.reduce((least, { reduced }) => Math.min(least, reduced), Infinity) + open[i]!.otherwise,
    );

  const result = winner === null ? best : followed(classes, reducedOf, winner);
  const exact = dropped >= gap - tolerance;
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

function followed(
  classes: readonly (readonly WorkChoice[])[],
  reducedOf: readonly { at: number }[],
  last: State,
): Found {
  const chosen = Int32Array.from(reducedOf, ({ at }) => at);
  for (let state: State | null = last; state !== null && state.class_index >= 0; state = state.before)
    chosen[state.class_index] = state.option;
  return sums(classes, chosen);
}
