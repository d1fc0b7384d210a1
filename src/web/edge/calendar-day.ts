import { TZDate } from "@date-fns/tz";
import { formatISO } from "date-fns";

/** The calendar day, `YYYY-MM-DD`, that `instant` falls on in an IANA time zone ("America/Chicago", "UTC"). */
export function calendarDay(instant: Date, time_zone: string): string {
  return formatISO(new TZDate(instant, time_zone), { representation: "date" });
}
