import { DYE_WAIT_YEARS } from "../../data/model-constants.ts";
import type { PlaceId } from "../../data/rules.ts";
import { isLowLook } from "./leak/charge-log.ts";
import { DAYS_PER_YEAR } from "./leak/leak-clock.ts";
import { dayNumber, isoFromDay } from "./quantities/dates.ts";
import type { AssessAnswer, Finding, LocationId, LogEntry } from "./question/contract.ts";
import { comparedOption } from "./question/option-of.ts";
import { depositFor } from "./rules/rules.ts";

/** Days after which dye shows a slow leak, and a repaired place shows whether it still leaks: `DYE_WAIT_YEARS`. */
const LOOK_AGAIN_DAYS = Math.round(DYE_WAIT_YEARS * DAYS_PER_YEAR);

/** A line of the charge log, with what the model does not ask for: whether dye went in, and what is to be returned. */
export type RemindedEntry = LogEntry & {
  dye?: "added" | null;
  cans_opened?: number | null;
  /** Deposit paid in all, in the currency of that day, which is not on record. */
  deposit?: number | null;
  deposit_return_by?: string | null;
};

/** When to ask whether the repair of the day `repaired` held. */
export interface RepairCheck {
  repaired: string;
  on: string;
}

/** What a vehicle's reminders are made from: its record, and the model's answer about it. */
export interface ReminderCase {
  answer: AssessAnswer;
  /**
   * The answer as it stood on the day of the last entry, null without one: what is waited for from then on keeps its
   * day, where an answer of today would put it off from day to day.
   */
  at_entry: AssessAnswer | null;
  /** In date order, as the answer was made from it. */
  log: readonly RemindedEntry[];
  findings: readonly Finding[];
  /** Days that a quote's page names for asking whether the repair of a day held: they go before the model's. */
  checks: readonly RepairCheck[];
  /** Place whose rules on can deposits apply; null: not said. */
  place: PlaceId | null;
  can_net_g: number;
}

interface Dated {
  /** Stays the same while the date of the reminder may move; unique within the vehicle. */
  id: string;
  /** `YYYY-MM-DD`, the first day. */
  date: string;
}

/** Something to do or to look for on a day; `next-low` lasts until `until`, and without end where that is null. */
export type Reminder =
  /** Low with a chance of 10 % from `date` and 90 % by `until`; `likely` is the middle. */
  | (Dated & { kind: "next-low"; likely: string; until: string | null })
  /** Low before this date means repair, low after it another top-off. */
  | (Dated & { kind: "watch" })
  /** Dye went in, or was looked for and not seen yet, on `since`. */
  | (Dated & { kind: "dye-inspection"; since: string; because: "added" | "clean" })
  /** Dye was seen on `since`; wiped off, it comes back where it leaks. */
  | (Dated & { kind: "dye-inspection"; since: string; because: "leak"; location: LocationId })
  /**
   * The last day on which the deposit comes back; `deposit` in all, where it is known. `currency` is null where the log
   * has the amount: the workspace may have been in another one then.
   */
  | (Dated & {
      kind: "can-deposit";
      bought: string;
      cans: number | null;
      deposit: number | null;
      currency: string | null;
    })
  /** A first look at the repaired place. */
  | (Dated & { kind: "repair-look"; repaired: string; location: LocationId })
  /** Cooling well until then settles that the repair held. */
  | (Dated & { kind: "repair-held"; repaired: string; location: LocationId });

/**
 * The reminders of a vehicle, the earliest first: those still ahead on the day of the answer, and every look that was
 * due earlier and has not been recorded, which is overdue.
 */
export function remindersOf(given: ReminderCase): Reminder[] {
  const { as_of } = given.answer;
  return inOrder([
    ...[...nextLow(given), ...canDeposits(given)].filter((reminder) => lastDay(reminder, as_of) >= as_of),
    ...followUpsOf(given),
  ]);
}

/** What a follow-up is made from. */
export type FollowUpCase = Pick<ReminderCase, "at_entry" | "log" | "findings" | "checks">;

/**
 * Of the reminders, those that a shop asks its customers about, overdue ones too; the earliest first. A result that is
 * written down ends them.
 */
export function followUpsOf(given: FollowUpCase): Reminder[] {
  return inOrder([...watch(given), ...dyeInspection(given), ...repairs(given)]);
}

function inOrder(reminders: Reminder[]): Reminder[] {
  return reminders.toSorted((a, b) => byDate(a, b) || (a.id < b.id ? -1 : 1));
}

/**
 * What a follow-up is closed under: the same for the same thing, and another one when a new entry makes it due anew.
 */
export function followUpKey({ id, date }: Pick<Reminder, "id" | "date">): string {
  return `${id}.${date}`;
}

/** Reminders that stay, overdue, until somebody has looked. */
const STAYS: ReadonlySet<Reminder["kind"]> = new Set(["dye-inspection", "repair-look", "watch", "repair-held"]);

/** A look counts for one that is due up to this many days later. */
const EARLY_DAYS = 14;

function lastDay(reminder: Reminder, as_of: string): string {
  return reminder.kind === "next-low" ? (reminder.until ?? as_of) : reminder.date;
}

/** When it is likely low again; none for an empty log, or for a vehicle that is low already. */
function nextLow({ answer: { as_of, forecast }, log }: ReminderCase): Reminder[] {
  const { p10, p50, p90 } = forecast.next_low;
  if (log.length === 0 || p10 === null || p50 === null || p50 <= as_of) return [];
  return [{ kind: "next-low", id: "next-low", date: p10, likely: p50, until: p90 }];
}

/**
 * The watch date belongs to the answer to top off: it says when that answer changes. None for a system that was low the
 * last time, and has not been filled since.
 */
function watch({ at_entry, log }: FollowUpCase): Reminder[] {
  const last = log.at(-1);
  if (at_entry === null || last === undefined || at_entry.verdict.option !== "top-off") return [];
  const date = comparedOption(at_entry, "top-off").watch_date;
  if (date === null || lookedAt(log, date) || (isLowLook(last.cooling ?? null) && !isFill(last))) return [];
  return [{ kind: "watch", id: "watch", date }];
}

function isFill({ added_g, finish }: RemindedEntry): boolean {
  return added_g == null ? finish != null : added_g > 0;
}

/** Whether somebody has written down how it is, at the day or shortly before. */
function lookedAt(log: readonly RemindedEntry[], date: string): boolean {
  const from = isoFromDay(dayNumber(date) - EARLY_DAYS);
  return log.some((entry) => entry.date >= from);
}

/** After dye was put in, or looked for, since the last repair: one more look, unless there was one after the wait. */
function dyeInspection({ log, findings }: FollowUpCase): Reminder[] {
  const repaired = lastRepair(log)?.date ?? "";
  const looks = findings.filter(({ test, date }) => test === "dye" && date > repaired);
  const added = log.findLast(({ dye, date }) => dye === "added" && date >= repaired);
  const [first] = [...(added === undefined ? [] : [added]), ...looks].toSorted(byDate);
  if (first === undefined || looks.some(({ date }) => date >= later(first.date))) return [];
  const last = looks.toSorted(byDate).at(-1);
  const inspection = { kind: "dye-inspection", id: `dye-inspection-${first.date}` } as const;
  const seen = looks.find(({ result }) => result === "leak");
  if (seen !== undefined && seen.location !== "anywhere")
    return [{ ...inspection, date: later(seen.date), since: seen.date, because: "leak", location: seen.location }];
  if (last !== undefined) return [{ ...inspection, date: later(first.date), since: last.date, because: "clean" }];
  return [{ ...inspection, date: later(first.date), since: first.date, because: "added" }];
}

/**
 * Each lot of cans until the last day on which its deposit comes back: as it was written down, else by the place's
 * rules.
 */
function canDeposits({ log, place, can_net_g }: ReminderCase): Reminder[] {
  return log.flatMap((entry, i): Reminder[] => {
    const { date: bought, added_by, added_g, deposit = null, deposit_return_by: return_by = null } = entry;
    const filled = added_g == null ? null : Math.ceil(added_g / can_net_g - 1e-9);
    const cans = entry.cans_opened ?? (added_by === "cans" ? filled : null);
    const lot = log.slice(0, i).filter(({ date }) => date === bought).length;
    const about = { kind: "can-deposit", id: `can-deposit-${bought}-${lot}`, bought, cans } as const;
    if (return_by !== null) return [{ ...about, date: return_by, deposit, currency: null }];
    const rule = place === null || added_by !== "cans" || cans === 0 ? null : depositFor(place, bought);
    if (rule === null) return [];
    const in_all = cans === null ? null : cans * rule.per_can;
    return [{ ...about, date: rule.return_by, deposit: in_all, currency: rule.currency }];
  });
}

/** The last repair: a first look at it, and the day that settles whether it held. */
function repairs({ at_entry, log, findings, checks }: FollowUpCase): Reminder[] {
  const entry = lastRepair(log);
  if (entry === undefined) return [];
  const { date: repaired, repair: location } = entry;
  const about = { repaired, location };
  const look: Reminder = { kind: "repair-look", id: `repair-look-${repaired}`, date: later(repaired), ...about };
  const looked = log.some(({ date }) => date >= look.date) || findings.some(({ date }) => date >= look.date);
  const looks = looked ? [] : [look];
  const said = checks.find((check) => check.repaired === repaired);
  const sure = said?.on ?? at_entry?.leak.repair_sure_date ?? null;
  if (sure === null || sure <= log.at(-1)!.date || lookedAt(log, sure)) return looks;
  return [...looks, { kind: "repair-held", id: `repair-held-${repaired}`, date: sure, ...about }];
}

function lastRepair(log: readonly RemindedEntry[]): { date: string; repair: LocationId } | undefined {
  const entry = log.findLast(({ repair }) => repair != null);
  return entry === undefined ? undefined : { date: entry.date, repair: entry.repair! };
}

function later(date: string): string {
  return isoFromDay(dayNumber(date) + LOOK_AGAIN_DAYS);
}

function byDate(a: { date: string }, b: { date: string }): number {
  return a.date === b.date ? 0 : a.date < b.date ? -1 : 1;
}

/** Whether it was due before `today`, and nobody has written anything down yet. */
export function isOverdue({ kind, date }: Pick<Reminder, "kind" | "date">, today: string): boolean {
  return STAYS.has(kind) && date < today;
}
