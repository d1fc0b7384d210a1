import { hindsight } from "../../../data/hindsight.ts";
import { DAYS_PER_YEAR } from "../leak/leak-clock.ts";
import { type KnownShare, shareEnding } from "../maths/kaplan-meier.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { Prediction } from "./replay.ts";
import { cameLow } from "./spells.ts";

/**
 * How well past predictions did. What each said is a distribution; put through it, the times at which they came true
 * are evenly spread from 0 to 1 if all of them were right (Dawid, J. R. Stat. Soc. A 147 (1984)). Those that have not
 * come, or were ended by something else, are known to lie beyond a value: with the estimate of Kaplan and Meier on that
 * scale they count for as much as they say. (Haider, Hoehn, Davis, Greiner, J. Mach. Learn. Res. 21 (2020), spread them
 * evenly over what is left, which makes any model look better than it is.)
 */
export interface TrackRecord {
  /** Charges that were predicted. */
  charges: number;
  /** Known to have been low again; of those, charged with nothing said of how it cooled. */
  came: number;
  charged: number;
  /** Not low again to this day, and of those: past the late end of the likely range. */
  open: number;
  overdue: number;
  /** Charged while not low, or repaired, before it was low again. */
  otherwise: number;
  /** Known to be inside the likely range or not. */
  known: number;
  /** The share inside the likely range; null where fewer than `share_least` are known. */
  inside: KnownShare | null;
  /** Shares that came before the range, and after it; null as before. */
  early: number | null;
  late: number | null;
  /** Of those that came: how far the middle date was off. */
  off: Off | null;
  /** The same charges as said by the rule "as long as last time". */
  compared: Comparison | null;
}

/** Months: mean and median of how far off, and by how much later than said on average. */
export interface Off {
  charges: number;
  mean: number;
  median: number;
  later: number;
}

export interface Comparison {
  charges: number;
  model: Off;
  rule: Off;
  /** In how many the model was nearer than the rule; of equals neither. */
  model_nearer: number;
  rule_nearer: number;
  /** Who was nearer by the mean; `open`: a difference like this may be chance; `few`: under `compare_least` charges. */
  better: "model" | "rule" | "open" | "few";
}

/** Whether what came lies inside the likely range; null: not known. `early` and `late` are outside. */
export type Held = "inside" | "early" | "late";

/**
 * Whether a charge ran low inside the predicted range, earlier or later; null where it did not run low and may yet be
 * in time.
 */
export function heldBy({ chance, ended }: Pick<Prediction, "chance" | "ended">): Held | null {
  if (chance > hindsight.to_chance) return "late";
  if (!cameLow(ended)) return null;
  return chance < hindsight.from_chance ? "early" : "inside";
}

const DAYS_A_MONTH = DAYS_PER_YEAR / 12;
/** Where the middle date is not within 20 years, it is taken as then. */
const FURTHEST_MONTHS = 240;

/** Months from the charge to `date`; null: not within 20 years, taken as then. */
export function monthsAfterCharge({ from }: Pick<Prediction, "from">, date: string | null): number {
  return date === null ? FURTHEST_MONTHS : (dayNumber(date) - dayNumber(from)) / DAYS_A_MONTH;
}

/** How well past predictions of some vehicles have held. */
export function trackRecord(predictions: readonly Prediction[]): TrackRecord {
  const { from_chance, to_chance, share_least } = hindsight;
  const count = (of: (one: Prediction) => boolean): number => predictions.filter(of).length;
  const followed = predictions.map(({ chance, ended }) => ({ at: chance, ended: cameLow(ended) }));
  const known = count((one) => heldBy(one) !== null);
  const enough = known >= share_least;
  const inside = enough ? shareEnding(followed, from_chance, to_chance) : null;
  const early = inside === null ? null : shareEarly(followed);
  const came = predictions.flatMap((one) => (one.low_on === null ? [] : [{ ...one, low_on: one.low_on }]));
  return {
    charges: predictions.length,
    came: came.length,
    charged: count(({ ended }) => ended === "charged"),
    open: count(({ ended }) => ended === "open"),
    overdue: count((one) => one.ended === "open" && heldBy(one) === "late"),
    otherwise: count(({ ended }) => ended === "not-low" || ended === "repaired"),
    known,
    inside,
    early,
    late: inside === null || early === null ? null : Math.max(0, 1 - early - inside.share),
    off: offBy(came.map((one) => monthsLater(one, one.p50))),
    compared: compare(came),
  };
}

function shareEarly(followed: Parameters<typeof shareEnding>[0]): number {
  return shareEnding(followed, 0, hindsight.from_chance - Number.EPSILON)?.share ?? 0;
}

/** By how many months what came was later than said. */
function monthsLater(one: Prediction & { low_on: string }, said: string | null): number {
  return monthsAfterCharge(one, one.low_on) - monthsAfterCharge(one, said);
}

function offBy(later: readonly number[]): Off | null {
  if (later.length === 0) return null;
  const off = later.map(Math.abs).sort((a, b) => a - b);
  const half = off.length / 2;
  return {
    charges: off.length,
    mean: meanOf(off),
    median: (off[Math.ceil(half) - 1]! + off[Math.floor(half)]!) / 2,
    later: meanOf(later),
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
}

/** A mean difference of pairs beyond this many of its standard errors is not put down to chance. */
const BEYOND_CHANCE = 1.96;

function compare(came: readonly (Prediction & { low_on: string })[]): Comparison | null {
  const both = came.filter(({ by_rule }) => by_rule !== null);
  const [by_model, by_rule] = [
    both.map((one) => monthsLater(one, one.p50)),
    both.map((one) => monthsLater(one, one.by_rule)),
  ];
  const [model, rule] = [offBy(by_model), offBy(by_rule)];
  if (model === null || rule === null) return null;
  const nearer = both.map((_, i) => Math.abs(by_rule[i]!) - Math.abs(by_model[i]!));
  const mean = meanOf(nearer);
  const error = Math.sqrt(meanOf(nearer.map((one) => (one - mean) ** 2)) / Math.max(1, both.length - 1));
  const sure = Math.abs(mean) > BEYOND_CHANCE * error;
  return {
    charges: both.length,
    model,
    rule,
    model_nearer: nearer.filter((one) => one > 0).length,
    rule_nearer: nearer.filter((one) => one < 0).length,
    better: both.length < hindsight.compare_least ? "few" : !sure ? "open" : mean > 0 ? "model" : "rule",
  };
}
