import { dayNumber, isoFromDay } from "../quantities/dates.ts";
import type { When } from "../quantities/parse-when.ts";
import type { LogEntry } from "./contract.ts";

/**
 * What nobody knows to the day is not put to the model as a day. A log with vague dates becomes three logs that weigh
 * the same: each vague date stands once in the first, the middle and the last third of its span, at the middle of that
 * third, and another third each time from one vague date to the next (a Latin square of McKay, Beckman and Conover
 * 1979). So the answer mixes over when it may have been, and is no surer than that allows.
 */

/** A longer span than this is mixed over; within it the best day stands for all. A month moves a leak rate little. */
const DAYS_AS_ONE = 45;
const THIRDS = 3;

export interface DatedEntry {
  entry: LogEntry;
  /** When it was, as read; null where the entry's date is known. */
  when: Pick<When, "earliest" | "latest"> | null;
}

/** The logs to mix over, with weights that add up to 1: one where no date is vague, else three. */
export function logsOfVagueDates(entries: readonly DatedEntry[]): { weight: number; log: LogEntry[] }[] {
  const vague = entries.filter(isVague);
  if (vague.length === 0) return [{ weight: 1, log: entries.map(({ entry }) => entry) }];
  return Array.from({ length: THIRDS }, (_, part) => ({
    weight: 1 / THIRDS,
    log: entries.map((dated) => {
      if (!isVague(dated)) return dated.entry;
      return { ...dated.entry, date: inThird(dated.when, (part + vague.indexOf(dated)) % THIRDS) };
    }),
  }));
}

function isVague(dated: DatedEntry): dated is DatedEntry & { when: NonNullable<DatedEntry["when"]> } {
  return dated.when !== null && !passesForADay(dated.when);
}

/** Whether a span is so short that its best day stands for all of it: a month does, a season does not. */
export function passesForADay({ earliest, latest }: Pick<When, "earliest" | "latest">): boolean {
  return dayNumber(latest) - dayNumber(earliest) <= DAYS_AS_ONE;
}

function inThird({ earliest, latest }: { earliest: string; latest: string }, third: number): string {
  const first = dayNumber(earliest);
  const days = dayNumber(latest) - first;
  return isoFromDay(first + Math.round(((third + 0.5) * days) / THIRDS));
}
