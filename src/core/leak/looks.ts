import { dayNumber } from "../quantities/dates.ts";
import type { Cooling, LogEntry } from "../question/contract.ts";
import { isLowLook } from "./charge-log.ts";

/** Within this many days of a low look, a look that finds it cooling well is asked about. */
const CONTRADICTS_WITHIN_DAYS = 14;

/** Whether an entry says how it cooled and nothing else. */
export function isLookOnly(entry: LogEntry): boolean {
  const { recovered_g, added_g, finish, repair } = entry;
  return recovered_g == null && added_g == null && finish == null && repair == null;
}

/**
 * The earlier entry that a look of `cooling` on the day `as_of` contradicts, or null: it said low at most two weeks
 * before, nothing was done since, and now the vehicle cools well. Charge does not rise by itself, so one of the two is
 * wrong, or low charge is not the trouble. `log` is in date order. A look of the same day is replaced, not
 * contradicted.
 */
export function contradictedLook<E extends LogEntry>(log: readonly E[], cooling: Cooling, as_of: string): E | null {
  if (cooling !== "ok") return null;
  const before = log.filter(({ date }) => date < as_of);
  const last = before.at(-1);
  if (log.some((entry) => entry.date === as_of && !isLookOnly(entry))) return null;
  if (last === undefined || !isLookOnly(last) || !isLowLook(last.cooling ?? null)) return null;
  return dayNumber(as_of) - dayNumber(last.date) <= CONTRADICTS_WITHIN_DAYS ? last : null;
}
