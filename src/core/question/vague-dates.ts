import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { LogEntry } from "./contract.ts";

/**
 * Dates known only as a span of days. A log with such dates is read as three logs. In each, a vague date stands in the
 * middle of one third of its span: over the three logs it takes every third once, and neighboring vague dates take
 * different thirds (Latin hypercube sampling: McKay, Beckman and Conover 1979). The posterior is the mixture of the
 * three, so that the answer is as uncertain as the dates are.
 */

/** Spans up to this many days count as the one day on record: a few weeks change the leak rate little. */
const DAYS_AS_ONE = 45;
const THIRDS = 3;

/** Whether a date is too vague for one day to stand for it: a season is, a month is not. */
export function isVague({ date_within_days }: Pick<LogEntry, "date_within_days">): boolean {
  return 2 * (date_within_days ?? 0) > DAYS_AS_ONE;
}

/**
 * The logs to mix over, each in date order: the log itself where no date is vague, else three of equal prior weight.
 * A look that follows an entry of the same vague date (how it cooled after the work) moves with that entry. No date
 * comes after the day number `as_of_day`. `log` must be in date order.
 */
export function logsOfVagueDates(log: readonly LogEntry[], as_of_day: number): readonly (readonly LogEntry[])[] {
  const moves = movesOf(log);
  if (moves.size === 0) return [log];
  return Array.from({ length: THIRDS }, (_, part) =>
    log
      .map((entry) => {
        const move = moves.get(entry);
        return move === undefined ? entry : { ...entry, date: inThird(entry, (part + move) % THIRDS, as_of_day) };
      })
      .toSorted((a, b) => dayNumber(a.date) - dayNumber(b.date)),
  );
}

/** For each vague entry, how many others were moved before it: it shifts the third that the entry takes. */
function movesOf(log: readonly LogEntry[]): ReadonlyMap<LogEntry, number> {
  const moves = new Map<LogEntry, number>();
  let moved = -1;
  log.forEach((entry, i) => {
    if (!isVague(entry)) return;
    if (!isLookAfter(entry, log[i - 1])) moved++;
    moves.set(entry, moved);
  });
  return moves;
}

function isLookAfter(entry: LogEntry, before: LogEntry | undefined): boolean {
  const { recovered_g, added_g, finish, repair } = entry;
  return (
    [recovered_g, added_g, finish, repair].every((deed) => deed == null) &&
    entry.date === before?.date &&
    entry.date_within_days === before.date_within_days
  );
}

function inThird({ date, date_within_days }: LogEntry, third: number, as_of_day: number): string {
  const first = dayNumber(date) - (date_within_days ?? 0);
  const last = Math.min(dayNumber(date) + (date_within_days ?? 0), as_of_day);
  return isoFromDay(first + Math.round(((third + 0.5) * (last - first)) / THIRDS));
}
