import { describe, expect, test } from "vitest";
import { parseComingDay } from "../../../src/core/quantities/parse-coming-day.ts";

/** A Monday, by the calendar. */
const MONDAY = "2026-05-04";
const read = (text: string, order: "day-first" | "month-first" | null = null) =>
  parseComingDay(text, { today: MONDAY, order });

describe("a day to come, counted by hand from Monday, 4 May 2026", () => {
  test.each([
    ["today", "2026-05-04"],
    ["tomorrow", "2026-05-05"],
    ["Friday", "2026-05-08"],
    ["fri", "2026-05-08"],
    ["Sunday", "2026-05-10"],
    // Monday on a Monday is the next one.
    ["monday", "2026-05-11"],
    ["in 3 days", "2026-05-07"],
    ["2 weeks", "2026-05-18"],
    ["14 Aug", "2026-08-14"],
    ["aug 14th", "2026-08-14"],
    // Past this year, so the next.
    ["3 Feb", "2027-02-03"],
    ["29 Feb 2028", "2028-02-29"],
    ["14 Aug 2026", "2026-08-14"],
    ["2026-08-14", "2026-08-14"],
    ["14.8.2026", "2026-08-14"],
  ])("%s is %s", (text, iso) => {
    expect(read(text)).toEqual({ ok: true, iso });
  });

  test("figures go by the place", () => {
    expect(read("6/8/26", "month-first")).toEqual({ ok: true, iso: "2026-06-08" });
    expect(read("6/8/26", "day-first")).toEqual({ ok: true, iso: "2026-08-06" });
    expect(read("6/8/2026")).toMatchObject({
      ok: false,
      message: expect.stringContaining("Write the month as a word"),
    });
  });

  test.each([
    ["yesterday", "That day is past. Enter 4 May 2026 or later"],
    ["3 weeks ago", "That day is past. Enter 4 May 2026 or later"],
    ["1 May 2026", "That day is past. Enter 4 May 2026 or later"],
    ["August 2026", "Enter a day, like tomorrow, Friday or 11 May 2026"],
    ["soon", "Enter a day, like tomorrow, Friday or 11 May 2026"],
    ["14 Aug 2031", "That is too far ahead. Enter 4 May 2028 or earlier"],
    ["31 June 2026", "There is no such day. Enter a date, like 14 Aug 2025"],
    ["x".repeat(2_000_000), "Enter a day, like tomorrow, Friday or 11 May 2026"],
  ])("%.20s is refused", (text, message) => {
    expect(read(text)).toEqual({ ok: false, message });
  });
});
