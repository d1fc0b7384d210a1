import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";

/** An event of whole days, as `calendarText` writes it. */
export interface CalendarEvent {
  /** Stable, so that a calendar moves the event instead of adding it twice. */
  uid: string;
  /** First and last day, `YYYY-MM-DD`. */
  first_day: string;
  last_day: string;
  summary: string;
  description: string;
  url: string;
  /** Days before the first at which the calendar reminds, in the morning; null: not at all. */
  alarm_days_before: number | null;
}

interface Calendar {
  name: string;
  /** When it was written: an instant in UTC. */
  written_at: Date;
  events: readonly CalendarEvent[];
}

/** The hour of the local morning at which a calendar reminds. */
const ALARM_HOUR = 9;

/**
 * A calendar as RFC 5545 has it (name and refreshing after RFC 7986): CRLF after every line, lines folded at 75 octets,
 * all-day events that leave the days free, an alarm in the morning.
 */
export function calendarText({ name, written_at, events }: Calendar): string {
  const stamp = `${written_at.toISOString().slice(0, 19).replace(/[-:]/g, "")}Z`;
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//Seepwise//Reminders//EN",
    "CALSCALE:GREGORIAN",
    "METHOD:PUBLISH",
    `NAME:${escaped(name)}`,
    "REFRESH-INTERVAL;VALUE=DURATION:PT12H",
    ...(events.length === 0 ? NOTHING : events.flatMap((event) => eventLines(event, stamp))),
    "END:VCALENDAR",
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join("");
}

/** A calendar must contain a component (RFC 5545, 3.6); this one shows nothing. */
const NOTHING = [
  "BEGIN:VTIMEZONE",
  "TZID:UTC",
  "BEGIN:STANDARD",
  "DTSTART:19700101T000000",
  "TZOFFSETFROM:+0000",
  "TZOFFSETTO:+0000",
  "END:STANDARD",
  "END:VTIMEZONE",
];

function eventLines(event: CalendarEvent, stamp: string): string[] {
  const { uid, first_day, last_day, summary, description, url, alarm_days_before } = event;
  return [
    "BEGIN:VEVENT",
    `UID:${escaped(uid)}`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${basicDate(first_day)}`,
    // The end is the first day after it (RFC 5545, 3.6.1).
    `DTEND;VALUE=DATE:${basicDate(isoFromDay(dayNumber(last_day) + 1))}`,
    `SUMMARY:${escaped(summary)}`,
    `DESCRIPTION:${escaped(description)}`,
    `URL:${url}`,
    "TRANSP:TRANSPARENT",
    ...(alarm_days_before === null ? [] : alarmLines(summary, alarm_days_before)),
    "END:VEVENT",
  ];
}

/** The trigger counts from the midnight that begins the first day. */
function alarmLines(summary: string, days_before: number): string[] {
  const trigger = days_before === 0 ? `PT${ALARM_HOUR}H` : `-P${days_before - 1}DT${24 - ALARM_HOUR}H`;
  return ["BEGIN:VALARM", "ACTION:DISPLAY", `DESCRIPTION:${escaped(summary)}`, `TRIGGER:${trigger}`, "END:VALARM"];
}

function basicDate(iso: string): string {
  return iso.replaceAll("-", "");
}

/** Text as a value (RFC 5545, 3.3.11); control characters but the line break are not allowed in it. */
function escaped(text: string): string {
  return text
    .toWellFormed()
    .replace(/\r\n?/g, "\n")
    .replace(/[^\P{Cc}\n]/gu, "")
    .replace(/[\\;,]/g, "\\$&")
    .replaceAll("\n", "\\n");
}

const MAX_OCTETS = 75;
/** Of a UTF-16 unit. */
const MOST_OCTETS_OF_ONE = 3;

/** Octets of a character in UTF-8 (RFC 3629, section 3). */
function octetsOf(code_point: number): number {
  if (code_point < 0x80) return 1;
  if (code_point < 0x800) return 2;
  return code_point < 0x10000 ? 3 : 4;
}

/** A long line broken after at most 75 octets, never inside a character; each further line begins with a space. */
function folded(line: string): string {
  // A calendar has tens of thousands of lines, nearly all of them short.
  if (line.length * MOST_OCTETS_OF_ONE <= MAX_OCTETS) return line;
  let result = "";
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character.codePointAt(0) ?? 0);
    if (octets + size > MAX_OCTETS) {
      result += "\r\n ";
      octets = 1;
    }
    result += character;
    octets += size;
  }
  return result;
}
