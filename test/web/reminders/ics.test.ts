import fc from "fast-check";
import ICAL from "ical.js";
import { describe, expect, test } from "vitest";
import { type CalendarEvent, calendarText } from "../../../src/web/reminders/ics.ts";

/** What is written is read back by an independent parser, and checked against RFC 5545 line by line. */

const EVENT: CalendarEvent = {
  uid: "watch.abc@seepwise",
  first_day: "2027-08-14",
  last_day: "2027-08-14",
  summary: "Van 2: watch date",
  description: "Low again before today: repair it.",
  url: "https://garage.example/vehicles/abc",
  alarm_days_before: 0,
};

function calendar(events: readonly CalendarEvent[], name = "My vehicles") {
  return calendarText({ name, written_at: new Date("2026-05-01T12:00:00.123Z"), events });
}

/** The calendar as the other parser reads it; strict about what RFC 5545 requires. */
function parsed(text: string) {
  ICAL.design.strict = true;
  const component = new ICAL.Component(ICAL.parse(text));
  return { component, events: component.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event)) };
}

describe("calendarText", () => {
  test("is read back as it was given", () => {
    const { component, events } = parsed(calendar([EVENT]));
    expect(component.getFirstPropertyValue("version")).toBe("2.0");
    expect(component.getFirstPropertyValue("name")).toBe("My vehicles");
    expect(component.getFirstPropertyValue("prodid")).toMatch("Seepwise");
    const [event] = events;
    expect([event!.uid, event!.summary, event!.description]).toEqual([EVENT.uid, EVENT.summary, EVENT.description]);
    expect(event!.component.getFirstPropertyValue("url")).toBe(EVENT.url);
    expect(event!.component.getFirstPropertyValue("dtstamp")!.toString()).toBe("2026-05-01T12:00:00Z");
  });

  test("days are whole days without a time zone, and the end is the day after the last", () => {
    const { events } = parsed(calendar([{ ...EVENT, first_day: "2028-02-27", last_day: "2028-02-29" }]));
    const { startDate, endDate, duration } = events[0]!;
    expect([startDate.isDate, startDate.toString(), endDate.isDate, endDate.toString()]).toEqual([
      true,
      "2028-02-27",
      true,
      "2028-03-01",
    ]);
    expect(duration.toSeconds()).toBe(3 * 24 * 3600);
    expect(events[0]!.component.getFirstPropertyValue("transp")).toBe("TRANSPARENT");
  });

  test.each([
    [0, 9],
    [1, -15],
    [7, -159],
  ])("an alarm %d days before sounds %d hours from that midnight", (alarm_days_before, hours) => {
    const { events } = parsed(calendar([{ ...EVENT, alarm_days_before }]));
    const [alarm] = events[0]!.component.getAllSubcomponents("valarm");
    expect(alarm!.getFirstPropertyValue("action")).toBe("DISPLAY");
    expect(alarm!.getFirstPropertyValue("description")).toBe(EVENT.summary);
    const trigger = alarm!.getFirstPropertyValue("trigger") as ICAL.Duration;
    expect(trigger.toSeconds() / 3600).toBe(hours);
  });

  test("no alarm is written where none is wanted", () => {
    expect(calendar([{ ...EVENT, alarm_days_before: null }])).not.toContain("VALARM");
  });

  test("nothing to remind of is a calendar all the same", () => {
    const { component, events } = parsed(calendar([]));
    expect(events).toEqual([]);
    // RFC 5545, 3.6: at least one component.
    expect(component.getAllSubcomponents().length).toBeGreaterThan(0);
  });

  test("any text comes back, without what RFC 5545 does not allow in text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 300 }), (summary) => {
        const allowed = summary
          .toWellFormed()
          .replace(/\r\n?/g, "\n")
          // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is not allowed
          .replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g, "");
        const { events } = parsed(calendar([{ ...EVENT, summary }]));
        expect(events[0]!.summary).toBe(allowed);
      }),
    );
  });

  test.each([
    ["backslash, semicolon, comma, line break", "a\\b;c,d\r\ne", "a\\\\b\\;c\\,d\\ne"],
    ["right to left", "שלום, עולם", "שלום\\, עולם"],
  ])("%s is escaped as RFC 5545 3.3.11 has it", (_what, summary, written) => {
    expect(calendar([{ ...EVENT, summary }]).replaceAll("\r\n ", "")).toContain(`\r\nSUMMARY:${written}\r\n`);
  });

  test("nobody can add a line of their own to it", () => {
    const text = calendar([{ ...EVENT, summary: "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\nATTACH:evil" }], "a\r\nX-EVIL:1");
    expect(text.split("\r\n").filter((line) => /^(ATTACH|X-EVIL)/.test(line))).toEqual([]);
    expect(parsed(text).events).toHaveLength(1);
  });

  test("lines end in CRLF and have 75 octets at most, each of them whole characters", () => {
    const long = "👩🏽‍🔧 ".repeat(40) + "ä".repeat(200);
    const text = calendar([{ ...EVENT, summary: long, description: long }], long);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    for (const line of text.split("\r\n")) {
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
      expect(line.isWellFormed()).toBe(true);
    }
    expect(parsed(text).events[0]!.description).toBe(long);
  });
});
