import { READINGS_COUNT_DAYS } from "../../../data/readings-table.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { LogEntry } from "../question/contract.ts";

/** Something that happened on a day and was written down at an instant. */
interface Recorded {
  /** The day it is about. */
  date: string;
  /** The instant it was written down, UTC. */
  recorded_at: string;
}

/**
 * The latest readings that still tell how the system is on the day `as_of`, or null: at most `READINGS_COUNT_DAYS` old,
 * and taken after anything was last added, recovered or repaired. On the same day the order is that of writing down;
 * at the same instant, readings come first. `readings` and `log` are in date order.
 */
export function countingReadings<R extends Recorded>(
  readings: readonly R[],
  log: readonly (LogEntry & Recorded)[],
  as_of: string,
): R | null {
  const latest = readings.findLast(({ date }) => date <= as_of);
  if (latest === undefined || dayNumber(as_of) - dayNumber(latest.date) > READINGS_COUNT_DAYS) return null;
  const overtaken = log.some((entry) => entry.date <= as_of && changesCharge(entry) && isAfter(entry, latest));
  return overtaken ? null : latest;
}

function changesCharge({ recovered_g, added_g, finish, repair }: LogEntry): boolean {
  if (recovered_g != null || repair != null || finish === "weighed") return true;
  return added_g == null ? finish != null : added_g > 0;
}

function isAfter(entry: Recorded, { date, recorded_at }: Recorded): boolean {
  return entry.date === date ? entry.recorded_at >= recorded_at : entry.date > date;
}
