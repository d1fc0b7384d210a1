import { ABNORMAL_WITHIN_DAYS } from "../../../data/rules.ts";
import { isLowLook } from "../leak/charge-log.ts";
import { dayNumber } from "../quantities/dates.ts";
import type { Finish, LogEntry } from "../question/contract.ts";

/** Fills after which the system was full, or nearly so. */
const FULL: ReadonlySet<Finish> = new Set(["weighed", "gauges", "low-side"]);

/**
 * Whether the log shows a leak that rules call abnormal: low again within `ABNORMAL_WITHIN_DAYS` of being filled up,
 * with neither a repair nor a longer-lasting charge since. `log` is in date order.
 */
export function leakIsAbnormal(log: readonly LogEntry[]): boolean {
  let last: { day: number; full: boolean } | null = null;
  let abnormal = false;
  for (const { date, cooling, repair, finish, added_g } of log) {
    const day = dayNumber(date);
    if (last !== null && cooling != null) {
      const low = isLowLook(cooling);
      if (day - last.day > ABNORMAL_WITHIN_DAYS) abnormal = false;
      else if (low && last.full) abnormal = true;
      if (low) last = null;
    }
    if (repair != null) abnormal = false;
    if (finish != null || (added_g ?? 0) > 0) last = { day, full: finish != null && FULL.has(finish) };
  }
  return abnormal;
}
