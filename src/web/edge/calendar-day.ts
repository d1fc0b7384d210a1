import { TZDate } from "@date-fns/tz";
import { formatISO } from "date-fns";

const MINUTE_MS = 60_000;
/** Time zones whose day is remembered; there are some 600 names. */
const REMEMBERED = 1000;

/** A day begins on a full minute everywhere, so within a minute it stays the same. */
const days = new Map<string, { minute: number; day: string }>();

/** The calendar day, `YYYY-MM-DD`, that `instant` falls on in an IANA time zone ("America/Chicago", "UTC"). */
export function calendarDay(instant: Date, time_zone: string): string {
  const minute = Math.floor(instant.getTime() / MINUTE_MS);
  const known = days.get(time_zone);
  if (known?.minute === minute) return known.day;
  const day = formatISO(new TZDate(instant, time_zone), { representation: "date" });
  if (days.size >= REMEMBERED) days.clear();
  days.set(time_zone, { minute, day });
  return day;
}
