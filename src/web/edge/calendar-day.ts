const formats = new Map<string, Intl.DateTimeFormat>();

/** The calendar day, `YYYY-MM-DD`, that `instant` falls on in an IANA time zone ("America/Chicago", "UTC"). */
export function calendarDay(instant: Date, time_zone: string): string {
  const parts = formatIn(time_zone)
    .formatToParts(instant)
    .map(({ type, value }) => [type, value]);
  const { year, month, day } = Object.fromEntries(parts);
  return `${year}-${month}-${day}`;
}

/** Kept, because making one takes longer than everything else that a kept page needs. */
function formatIn(time_zone: string): Intl.DateTimeFormat {
  let format = formats.get(time_zone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat("en", { timeZone: time_zone, year: "numeric", month: "2-digit", day: "2-digit" });
    formats.set(time_zone, format);
  }
  return format;
}
