import { TZDate } from "@date-fns/tz";
import { format } from "date-fns";

/** An instant (ISO 8601, UTC) as a clock and a calendar in `time_zone` show it: `3 May 2026 at 14:02`. */
export function localTime(instant: string, time_zone: string): string {
  return format(new TZDate(instant, time_zone), "d MMMM uuuu 'at' HH:mm");
}
