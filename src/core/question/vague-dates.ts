import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { LogEntry } from "./contract.ts";

/**
 * What nobody knows to the day is not put to the model as a day. A log with vague dates is three logs: each vague date
 * stands once in the first, the middle and the last third of its span, at the middle of that third, and another third
 * each time from one vague date to the next (a Latin square of McKay, Beckman and Conover 1979). The posterior is the
 * mixture over them, so the answer is no surer than not knowing the day allows.
 */

/** A longer span than this is mixed over; within it the best day stands for all. A month moves a leak rate little. */
const DAYS_AS_ONE = 45;
const THIRDS = 3;

/** Whether a date is so vague that no one day stands for it: a season is, a month is not. */
export function isVague({ date_within_days }: Pick<LogEntry, "date_within_days">): boolean {
  return 2 * (date_within_days ?? 0) > DAYS_AS_ONE;
}

/**
 * The logs to mix over, each by date: the log itself where no date is vague, else three that weigh the same at first.
 * A look at once after an entry of the same vague date (how it cooled when all was done) moves with that entry. No date
 * is after the day `as_of_day`. `log` by date.
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

/** Each vague entry, and how many moved before it. */
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
