/**
 * The multiple-choice knapsack: one option of every class, the least total value, total weight within a capacity.
 *
 * The linear relaxation is solved by dominance, convex hulls and a greedy run (Sinha and Zoltners, Oper. Res. 27
 * (1979)); its multiplier λ bounds every plan from below. What lies between that bound and the best plan is closed by a
 * search over the classes whose choice is not settled by reduced costs, in the manner of the expanding core (Pisinger,
 * Eur. J. Oper. Res. 83 (1995)). The search ends at the optimum, or after a fixed number of states with a proven gap.
 */

/** An option of a class: its value, to be minimized, and its weight, at least 0. */
export interface Item {
  value: number;
  weight: number;
}

export interface Packing {
  /** Index of the chosen option of each class. */
  chosen: Int32Array;
  value: number;
  weight: number;
  /** Lower bound: no choice within the capacity has a smaller value. */
  bound: number;
  /** Value that the relaxation would save with one unit more of capacity. */
  multiplier: number;
  /** Whether `value` is proven to be the least (then it equals `bound`). */
  exact: boolean;
}

/** One step along the lower convex hull of a class: the better option in place of the one before. */
interface Step {
  class_index: number;
  option: number;
  /** Value saved and weight added, and their quotient. */
  saved: number;
  added: number;
  efficiency: number;
}

/** States kept at a class; beyond this only the most promising. */
const MAX_STATES = 20_000;
/** States examined in all: half a second of work. */
const MAX_WORK = 4_000_000;
const ROUNDING = 1e-12;

/** The classes as the algorithm sees them, made once for many capacities. */
export interface Relaxed {
  classes: readonly (readonly Item[])[];
  /** Options that no other option of their class beats in both value and weight, by ascending weight. */
  undominated: readonly (readonly number[])[];
  /** Every class at its least weight. */
  least: { chosen: Int32Array; value: number; weight: number };
  /** Steps of all classes, the most efficient first. */
  steps: readonly Step[];
}

/** Prepares classes for `pack`. Throws RangeError for a class without options, a NaN, or a weight below 0. */
export function relax(classes: readonly (readonly Item[])[]): Relaxed {
  const chosen = new Int32Array(classes.length);
  const steps: Step[] = [];
  let value = 0;
  let weight = 0;
  const undominated = classes.map((options, class_index) => {
    const kept = undominatedOf(options);
    const [first] = kept;
    if (first === undefined) throw new RangeError(`Class ${class_index} has no options`);
    chosen[class_index] = first;
    value += options[first]!.value;
    weight += options[first]!.weight;
    steps.push(...hullSteps(options, kept, class_index));
    return kept;
  });
  // Within a class the efficiency falls along the hull, and sort is stable: no step comes before its predecessor.
  steps.sort((a, b) => b.efficiency - a.efficiency);
  return { classes, undominated, least: { chosen, value, weight }, steps };
}

function undominatedOf(options: readonly Item[]): number[] {
  for (const { value, weight } of options) {
    if (!Number.isFinite(value) || !(weight >= 0 && weight < Infinity))
      throw new RangeError("Not a value and a weight");
  }
  const order = Array.from(options.keys()).sort(
    (a, b) => options[a]!.weight - options[b]!.weight || options[a]!.value - options[b]!.value,
  );
  const kept: number[] = [];
  let least = Infinity;
  for (const o of order) {
    if (options[o]!.value < least) {
      kept.push(o);
      least = options[o]!.value;
    }
  }
  return kept;
}

function hullSteps(options: readonly Item[], kept: readonly number[], class_index: number): Step[] {
  const steps: Step[] = [];
  let from = kept[0]!;
  for (const option of kept.slice(1)) {
    let step = stepBetween(options, from, option, class_index);
    // A step more efficient than the one before it makes the option between the two pointless.
    while (steps.length > 0 && step.efficiency >= steps.at(-1)!.efficiency) {
      steps.pop();
      from = steps.at(-1)?.option ?? kept[0]!;
      step = stepBetween(options, from, option, class_index);
    }
    steps.push(step);
    from = option;
  }
  return steps;
}

function stepBetween(options: readonly Item[], from: number, option: number, class_index: number): Step {
  const saved = options[from]!.value - options[option]!.value;
  const added = options[option]!.weight - options[from]!.weight;
  return { class_index, option, saved, added, efficiency: saved / added };
}

/** Least value at each capacity where the relaxation takes no option in part, and so is exact; capacities ascend. */
export function frontier({ least, steps }: Relaxed): { weight: number; value: number }[] {
  let { weight, value } = least;
  const points = [{ weight, value }];
  for (const step of steps) {
    weight += step.added;
    value -= step.saved;
    points.push({ weight, value });
  }
  return points;
}

/** The best choices within `capacity`; null when even the lightest are too heavy. */
export function pack(relaxed: Relaxed, capacity: number): Packing | null {
  const { least, steps } = relaxed;
  const tolerance = ROUNDING * Math.max(1, least.weight, Math.abs(capacity));
  if (!(least.weight <= capacity + tolerance)) return null;

  const split = Int32Array.from(least.chosen);
  let { value, weight } = least;
  let taken = 0;
  for (; taken < steps.length; taken++) {
    const step = steps[taken]!;
    if (weight + step.added > capacity + tolerance) break;
    split[step.class_index] = step.option;
    weight += step.added;
    value -= step.saved;
  }
  const critical = steps[taken];
  if (critical === undefined) return { chosen: split, value, weight, bound: value, multiplier: 0, exact: true };

  const multiplier = critical.efficiency;
  const bound = value - multiplier * Math.max(0, capacity - weight);
  const filled = filledUp(relaxed, split, { value, weight }, taken, capacity + tolerance);
  return search(relaxed, split, { capacity: capacity + tolerance, multiplier, bound, value, weight }, filled);
}

/** The split solution with whatever later steps still fit. */
function filledUp(
  { classes, steps }: Relaxed,
  split: Int32Array,
  { value, weight }: { value: number; weight: number },
  taken: number,
  capacity: number,
): { chosen: Int32Array; value: number; weight: number } {
  const chosen = Int32Array.from(split);
  for (const { class_index, option } of steps.slice(taken)) {
    const now = classes[class_index]![chosen[class_index]!]!;
    const then = classes[class_index]![option]!;
    if (then.value < now.value && weight - now.weight + then.weight <= capacity) {
      chosen[class_index] = option;
      value += then.value - now.value;
      weight += then.weight - now.weight;
    }
  }
  return { chosen, value, weight };
}

/** A class whose choice is open: what each of its options changes, against the split solution. */
interface OpenClass {
  class_index: number;
  options: { option: number; weight: number; reduced: number }[];
  /** Least reduced cost of choosing otherwise than the split solution. */
  otherwise: number;
  /** Most weight that choosing otherwise can save, as a number of at most 0. */
  lightest: number;
}

/** Partial plans at one class, by ascending weight: what they change against the split solution. */
interface States {
  weight: number[];
  /** Reduced cost so far: never falls. */
  reduced: number[];
  /** Index into `trail`. */
  trail: number[];
}

/** How a partial plan came about: the one before it, and what was chosen otherwise where. */
interface Trail {
  before: number[];
  open: number[];
  option: number[];
}

/**
 * Looks for a better plan than `best` between it and the bound. Any complete choice has value
 * bound + (sum of reduced costs) + multiplier·(capacity left over), so a partial one whose reduced cost alone reaches
 * the gap is given up, and so is one that another beats in weight and value.
 */
function search(
  relaxed: Relaxed,
  split: Int32Array,
  from: { capacity: number; multiplier: number; bound: number; value: number; weight: number },
  best: { chosen: Int32Array; value: number; weight: number },
): Packing {
  const { multiplier, bound } = from;
  const slack = from.capacity - from.weight;
  const tolerance = ROUNDING * Math.max(1, Math.abs(best.value));
  let gap = best.value - bound;

  const open = openClasses(relaxed, split, multiplier, gap - tolerance);
  // What the classes from here on can still save in weight.
  const reach = new Float64Array(open.length + 1);
  for (let i = open.length - 1; i >= 0; i--) reach[i] = reach[i + 1]! + open[i]!.lightest;

  const trail: Trail = { before: [], open: [], option: [] };
  let states: States = { weight: [0], reduced: [0], trail: [-1] };
  let winner: number | null = null;
  let work = 0;
  /** Least reduced cost among states dropped because too many were kept. */
  let dropped = Infinity;

  let i = 0;
  for (; i < open.length && open[i]!.otherwise < gap - tolerance; i++) {
    work += states.weight.length * (1 + open[i]!.options.length);
    if (work > MAX_WORK) break;
    let next = states;
    for (const { option, weight, reduced } of open[i]!.options) {
      const shifted: States = { weight: [], reduced: [], trail: [] };
      for (let s = 0; s < states.weight.length; s++) {
        const sum = states.reduced[s]! + reduced;
        const total = states.weight[s]! + weight;
        if (sum >= gap - tolerance || total + reach[i + 1]! > slack) continue;
        const here = trail.before.push(states.trail[s]!) - 1;
        trail.open.push(i);
        trail.option.push(option);
        shifted.weight.push(total);
        shifted.reduced.push(sum);
        shifted.trail.push(here);
        const over_bound = sum + multiplier * (slack - total);
        if (total <= slack && over_bound < gap - tolerance) {
          gap = over_bound;
          winner = here;
        }
      }
      next = merged(next, shifted, multiplier);
    }
    const room = limited(next, gap - tolerance);
    states = room.states;
    dropped = Math.min(dropped, room.dropped);
  }
  // Classes never reached could only matter to states that are still below the gap.
  if (i < open.length && open[i]!.otherwise < gap - tolerance) {
    dropped = Math.min(dropped, Math.min(...states.reduced) + open[i]!.otherwise);
  }

  const exact = dropped >= gap - tolerance;
  const result = winner === null ? best : followed(relaxed.classes, split, open, trail, winner, from);
  return {
    ...result,
    bound: exact ? result.value : Math.min(result.value, bound + dropped),
    multiplier,
    exact,
  };
}

/** The classes in which choosing otherwise than the split solution costs less than `gap`, the cheapest first. */
function openClasses(
  { classes, undominated }: Relaxed,
  split: Int32Array,
  multiplier: number,
  gap: number,
): OpenClass[] {
  const open: OpenClass[] = [];
  classes.forEach((options, class_index) => {
    const kept = undominated[class_index]!;
    if (kept.length < 2) return;
    const at = options[split[class_index]!]!;
    const others = kept
      .filter((option) => option !== split[class_index])
      .map((option) => {
        const weight = options[option]!.weight - at.weight;
        return { option, weight, reduced: Math.max(0, options[option]!.value - at.value + multiplier * weight) };
      });
    const otherwise = Math.min(...others.map(({ reduced }) => reduced));
    const lightest = Math.min(0, ...others.map(({ weight }) => weight));
    if (otherwise < gap) open.push({ class_index, options: others, otherwise, lightest });
  });
  return open.sort((a, b) => a.otherwise - b.otherwise || a.class_index - b.class_index);
}

/** Merges two lists by weight and drops states that a lighter one beats in value (reduced cost less weight's price). */
function merged(a: States, b: States, multiplier: number): States {
  const out: States = { weight: [], reduced: [], trail: [] };
  let least = Infinity;
  let i = 0;
  let j = 0;
  while (i < a.weight.length || j < b.weight.length) {
    const from_a = j >= b.weight.length || (i < a.weight.length && a.weight[i]! <= b.weight[j]!);
    const [list, s] = from_a ? [a, i++] : [b, j++];
    const value = list.reduced[s]! - multiplier * list.weight[s]!;
    if (value >= least) continue;
    least = value;
    out.weight.push(list.weight[s]!);
    out.reduced.push(list.reduced[s]!);
    out.trail.push(list.trail[s]!);
  }
  return out;
}

/**
 * Drops states at or beyond the gap, and the worst if there are too many; `dropped` is the least reduced cost of those.
 */
function limited(states: States, gap: number): { states: States; dropped: number } {
  const in_reach = states.reduced.filter((reduced) => reduced < gap);
  const most = in_reach.length > MAX_STATES ? in_reach.sort((a, b) => a - b)[MAX_STATES]! : gap;
  const kept: States = { weight: [], reduced: [], trail: [] };
  let dropped = Infinity;
  states.reduced.forEach((reduced, s) => {
    if (reduced < most) {
      kept.weight.push(states.weight[s]!);
      kept.reduced.push(reduced);
      kept.trail.push(states.trail[s]!);
    } else if (reduced < gap) {
      dropped = Math.min(dropped, reduced);
    }
  });
  return { states: kept, dropped };
}

/** The plan at the end of a trail. */
function followed(
  classes: readonly (readonly Item[])[],
  split: Int32Array,
  open: readonly OpenClass[],
  trail: Trail,
  last: number,
  { value, weight }: { value: number; weight: number },
): { chosen: Int32Array; value: number; weight: number } {
  const chosen = Int32Array.from(split);
  for (let at = last; at >= 0; at = trail.before[at]!) {
    const { class_index } = open[trail.open[at]!]!;
    const before = classes[class_index]![chosen[class_index]!]!;
    const after = classes[class_index]![trail.option[at]!]!;
    chosen[class_index] = trail.option[at]!;
    value += after.value - before.value;
    weight += after.weight - before.weight;
  }
  return { chosen, value, weight };
}
