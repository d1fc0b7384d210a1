import { hindsight } from "../../../data/hindsight.ts";
import { NOTICED_WITHIN_YEARS, recovery } from "../../../data/model-constants.ts";
import { isLowLook, standingLookOf, type Visit, visitsOf } from "../leak/charge-log.ts";
import { DAYS_PER_YEAR } from "../leak/leak-clock.ts";
import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { LogEntry } from "../question/contract.ts";
import type { Question } from "../question/question.ts";
import { isVague } from "../question/vague-dates.ts";

/**
 * How a spell after a charge ended. `seen`: an entry says that it was low; `charged`: it was charged again, and nothing
 * says how it cooled, which is taken as low. The others say only that it lasted that long: it was charged, recovered or
 * checked while `not-low`; `repaired`; or it is `open` to this day.
 */
export type SpellEnd = (typeof SPELL_ENDS)[number];

export const SPELL_ENDS = ["seen", "charged", "not-low", "repaired", "open"] as const;

/** From a charge to the day on which it was found low again, or as far as it is known how it went on; ISO 8601. */
export interface Spell {
  from: string;
  until: string;
  ended: SpellEnd;
  /**
   * About when it became low, which nobody logs: halfway from the last day on which it still cooled to `until`. That
   * day is the charge, a look since, or a quarter of a year before, within which poor cooling is noticed (MODEL §3).
   * Null where it is not known to have been low.
   */
  low_on: string | null;
  /** Whether a repair was made with the charge. */
  repaired_at_start: boolean;
}

/** Whether the spell is known to have ended low. */
export function cameLow(ended: SpellEnd): boolean {
  return ended === "seen" || ended === "charged";
}

/**
 * The spells of a log, oldest first, each from a charge. What the log says of one day is taken together. Left out are
 * spells from or to a day that nobody knows to a month, and those after which it was still low on the day itself.
 * A silence to the end counts as not found low: up to the day of the question, or as far as the log is known to have
 * every charge.
 */
export function spellsOf(question: Question): Spell[] {
  const days = daysOf(question);
  return days.flatMap((day, i) => {
    if (!day.charged || day.vague || day.left_low) return [];
    const end = endOf(question, day.date, days.slice(i + 1));
    return end === null ? [] : [{ from: day.date, ...end, repaired_at_start: day.repaired }];
  });
}

/** All that the log says of one day. */
interface LoggedDay {
  date: string;
  vague: boolean;
  charged: boolean;
  repaired: boolean;
  /** Whether it was low when all was done. */
  left_low: boolean;
  /** How it came in, where something happened that ends a spell; null: it was looked at and cooled, no more. */
  ended: Exclude<SpellEnd, "open"> | null;
}

function daysOf(question: Question): LoggedDay[] {
  const { log, as_of_day, nameplate_g, assumptions } = question;
  const visits = visitsOf(log, as_of_day, nameplate_g, assumptions.heel);
  const by_day = Map.groupBy(log.keys(), (entry) => log[entry]!.date);
  return Array.from(by_day, ([date, entries]) => {
    const of_day = entries.map((entry) => ({ entry: log[entry]!, visit: visits[entry]! }));
    return {
      date,
      vague: of_day.some(({ entry }) => isVague(entry)),
      charged: of_day.some(({ entry, visit }) => visit.fill !== null && entry.added_g !== 0),
      repaired: of_day.some(({ visit }) => visit.repair !== null),
      left_low: standingLookOf(of_day.map(({ visit }) => visit)) !== null,
      ended: endOn(of_day, nameplate_g),
    };
  });
}

interface Looked {
  entry: LogEntry;
  visit: Visit;
}

/** How the entries of a day end a spell: the first that does, and a look before it says how it came in. */
function endOn(of_day: readonly Looked[], nameplate_g: number): LoggedDay["ended"] {
  const cooled = of_day.find(({ visit }) => visit.cooling !== null)?.visit.cooling === "ok";
  const first = of_day.findIndex((one) => endWith(one, nameplate_g) !== null);
  if (first < 0) return null;
  const ended = endWith(of_day[first]!, nameplate_g);
  const before = of_day.slice(0, first).some(({ visit }) => visit.cooling !== null);
  return before && cooled ? "not-low" : ended;
}

/** How an entry ends a spell; null: it does not. */
function endWith({ entry, visit }: Looked, nameplate_g: number): LoggedDay["ended"] {
  if (isLowLook(visit.cooling)) return "seen";
  if (visit.repair !== null) return visit.cooling === "ok" ? "not-low" : "repaired";
  if (visit.fill === null && visit.recovered === null) return null;
  if (visit.cooling === "ok" || entry.added_g === 0) return "not-low";
  if (visit.recovered !== null) {
    const was_in_g = visit.recovered.reading_g / recovery.share;
    return was_in_g >= hindsight.not_low_share * nameplate_g || visit.fill === null ? "not-low" : "charged";
  }
  const trimmed = visit.fill?.kind === "amount" && (entry.added_g ?? 0) < hindsight.trim_share * nameplate_g;
  return trimmed ? "not-low" : "charged";
}

/** How the spell from a day on ended, by the days after it; null where the day on which it did is vague. */
function endOf(question: Question, from: string, days: readonly LoggedDay[]): SpellFound | null {
  const at = days.findIndex(({ ended }) => ended !== null);
  const cooled = days.slice(0, at < 0 ? days.length : at).findLast(({ vague }) => !vague)?.date ?? from;
  const { date, ended = null, vague } = days[at] ?? {};
  if (date === undefined || ended === null) {
    const { logged, as_of_day } = question;
    const known = Math.min(as_of_day, logged?.until_day ?? as_of_day);
    return { until: isoFromDay(Math.max(known, dayNumber(cooled))), ended: "open", low_on: null };
  }
  if (vague) return null;
  return { until: date, ended, low_on: cameLow(ended) ? halfway(cooled, date) : null };
}

type SpellFound = Pick<Spell, "until" | "ended" | "low_on">;

const NOTICED_WITHIN_DAYS = NOTICED_WITHIN_YEARS * DAYS_PER_YEAR;

function halfway(cooled: string, found: string): string {
  const until = dayNumber(found);
  const from = Math.max(dayNumber(cooled), until - NOTICED_WITHIN_DAYS);
  return isoFromDay(Math.floor((from + until) / 2));
}
