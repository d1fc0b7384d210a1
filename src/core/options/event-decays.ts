import { expNegative } from "../maths/normal.ts";

/**
 * What the events of nodes count for at a rate: worked out once for each rate, as the walks of all rules, years and
 * assumptions go through the same events with only a few rates between them.
 */

/** Events, as far as their decay goes. */
interface Timed {
  /** How many there are. */
  count: number;
  /** When, years ahead, ascending for a node. */
  t: Float64Array;
  /** What is known already, by rate. */
  decays: Map<number, Decay>;
}

/** e^{−rate·t} of the first `count` events. */
export interface Decay {
  /** Of how many events it is known. */
  count: number;
  /** Of each event. */
  each: Float64Array;
  /** Sums of it over the events up to each, for differences within one node. */
  sum: Float64Array;
}

const NO_EVENTS = new Float64Array(0);

/** The decay of all events at `rate`, per year, of either sign. */
export function decayOf(events: Timed, rate: number): Decay {
  let decay = events.decays.get(rate);
  if (decay === undefined) {
    decay = { count: 0, each: NO_EVENTS, sum: NO_EVENTS };
    events.decays.set(rate, decay);
  }
  if (decay.count < events.count) extend(decay, events, rate);
  return decay;
}

function extend(decay: Decay, { t: when, count }: Timed, rate: number): void {
  if (decay.each.length < count) {
    // One piece of memory for both.
    const room = new Float64Array(2 * count);
    decay.each = room.subarray(0, count);
    decay.sum = room.subarray(count);
    decay.count = 0;
  }
  const { each, sum } = decay;
  let before = decay.count > 0 ? when[decay.count - 1]! : 0;
  let so_far = decay.count > 0 ? sum[decay.count - 1]! : 0;
  for (let e = decay.count; e < count; e++) {
    const t = when[e]!;
    const value = rate >= 0 ? expNegative(rate * t) : 1 / expNegative(-rate * t);
    // Where time falls back another node begins: its sums begin anew, so that they keep their digits.
    so_far = t < before ? value : so_far + value;
    each[e] = value;
    sum[e] = so_far;
    before = t;
  }
  decay.count = count;
}

/** The decays that are known are of other events than there are now. */
export function forgetDecays({ decays }: Timed): void {
  for (const decay of decays.values()) decay.count = 0;
}
