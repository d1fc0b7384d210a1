/** The calendar day, `YYYY-MM-DD`, that `instant` falls on in an IANA time zone ("America/Chicago", "UTC"). */
export function calendarDay(instant: Date, time_zone: string): string {
  const parts = new Intl.DateTimeFormat("en", {
    timeZone: time_zone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  })
    .formatToParts(instant)
    .map(({ type, value }) => [type, value]);
  const { year, month, day } = Object.fromEntries(parts);
  return `${year}-${month}-${day}`;
}
