import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  calendarFromDay,
  dayFromCalendar,
  dayNumber,
  daysInMonth,
  isIsoDate,
  isoFromDay,
} from "../../../src/core/quantities/dates.ts";

const FIRST_DAY = -719_528; // 0000-01-01
const LAST_DAY = 2_932_896; // 9999-12-31
const anyDay = fc.integer({ min: FIRST_DAY, max: LAST_DAY });

describe("dayNumber(iso) counts days from 1970-01-01", () => {
  // Unix time / 86 400, as any system's date command prints it.
  it.each([
    ["1970-01-01", 0],
    ["1970-01-02", 1],
    ["1969-12-31", -1],
    ["2000-02-29", 11_016],
    ["2000-03-01", 11_017],
    ["2026-05-01", 20_574],
    ["0000-01-01", FIRST_DAY],
    ["9999-12-31", LAST_DAY],
  ])("%s is %i", (iso, day) => {
    expect(dayNumber(iso)).toBe(day);
    expect(isoFromDay(day)).toBe(iso);
  });

  it("agrees with the platform's calendar on any day", () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        const iso = new Date(day * 86_400_000).toISOString().slice(0, 10);
        expect(isoFromDay(day)).toBe(iso);
        expect(dayNumber(iso)).toBe(day);
        expect(dayFromCalendar(calendarFromDay(day))).toBe(day);
      }),
      { numRuns: 2000 },
    );
  });

  it.each([
    "2025-02-29",
    "1900-02-29",
    "2025-13-01",
    "2025-00-10",
    "2025-04-31",
    "2025-1-1",
    "2025-01-01T00:00",
    "20250101",
    "-001-01-01",
    " 2025-01-01",
    "2025-01-01\n",
    "",
  ])("refuses %j", (text) => {
    expect(isIsoDate(text)).toBe(false);
    expect(() => dayNumber(text)).toThrow(RangeError);
  });

  it("throws RangeError, and nothing else, on any text", () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.stringMatching(/^\d{4}-\d{2}-\d{2}$/)), (text) => {
        if (isIsoDate(text)) expect(isoFromDay(dayNumber(text))).toBe(text);
        else expect(() => dayNumber(text)).toThrow(RangeError);
      }),
    );
  });

  it.each([FIRST_DAY - 1, LAST_DAY + 1, 0.5, Number.NaN, Number.POSITIVE_INFINITY])("no date has number %d", (day) => {
    expect(() => isoFromDay(day)).toThrow(RangeError);
  });
});

describe("daysInMonth(year, month)", () => {
  it.each([
    [2024, 29],
    [2025, 28],
    [2000, 29],
    [2100, 28],
  ])("February %i has %i", (year, days) => {
    expect(daysInMonth(year, 2)).toBe(days);
  });
});
