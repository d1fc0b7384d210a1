import { dayNumber } from "../quantities/dates.ts";
import type { Cooling, LogEntry } from "../question/contract.ts";
import { isLowLook } from "./charge-log.ts";

/** A look that says well, so soon after one that said poorly with nothing done in between, is asked about. */
const CONTRADICTS_WITHIN_DAYS = 14;

/** Whether an entry says how it cooled and nothing else. */
export function isLookOnly(entry: LogEntry): boolean {
  const { recovered_g, added_g, finish, repair } = entry;
  return recovered_g == null && added_g == null && finish == null && repair == null;
}

/**
 * The recent look that a look of `cooling` on the day `as_of` contradicts, or null: it was low within two weeks,
 * nothing was added or repaired since, and now it would cool well. Charge only falls by itself, so one of the two must
 * be wrong, or low charge is not the trouble. `log` is in date order; looks of the day itself are replaced, not
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
