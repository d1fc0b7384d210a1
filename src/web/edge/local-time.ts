import { formatDate } from "../../core/quantities/format.ts";
import { calendarDay } from "./calendar-day.ts";

/** An instant (ISO 8601, UTC) as a clock and a calendar in `time_zone` show it: `3 May 2026 at 14:02`. */
export function localTime(instant: string, time_zone: string): string {
  const at = new Date(instant);
  const clock = new Intl.DateTimeFormat("en-GB", { timeZone: time_zone, hour: "2-digit", minute: "2-digit" }).format(
    at,
  );
  return `${formatDate(calendarDay(at, time_zone))} at ${clock}`;
}
