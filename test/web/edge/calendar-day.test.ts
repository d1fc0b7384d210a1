import { describe, expect, test } from "vitest";
import { calendarDay } from "../../../src/web/edge/calendar-day.ts";

/**
 * Offsets from UTC as the zones are defined: Chicago −6 h in winter, −5 h in summer; Sydney +11 h in January;
 * Kiritimati +14 h.
 */
describe("calendarDay", () => {
  test.each([
    ["2026-01-01T05:59:59Z", "America/Chicago", "2025-12-31"],
    ["2026-01-01T06:00:00Z", "America/Chicago", "2026-01-01"],
    ["2026-07-01T04:59:59Z", "America/Chicago", "2026-06-30"],
    ["2026-07-01T05:00:00Z", "America/Chicago", "2026-07-01"],
    ["2024-02-28T13:00:00Z", "Australia/Sydney", "2024-02-29"],
    ["2026-12-31T10:00:00Z", "Pacific/Kiritimati", "2027-01-01"],
    ["2026-05-01T00:00:00Z", "UTC", "2026-05-01"],
  ])("%s in %s is %s", (instant, zone, day) => {
    expect(calendarDay(new Date(instant), zone)).toBe(day);
  });
});
