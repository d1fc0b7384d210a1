/** Whether `name` is a time zone that this runtime knows (IANA). */
export function isTimeZone(name: string): boolean {
  if (name === "") return false;
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** Every time zone to choose from, with `chosen` among them. */
export function timeZones(chosen: string): string[] {
  return [...new Set(["UTC", ...Intl.supportedValuesOf("timeZone"), chosen])];
}
