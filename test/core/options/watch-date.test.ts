import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { LeakClock, seasonWeights } from "../../../src/core/leak/leak-clock.ts";
import type { Start } from "../../../src/core/options/node-events.ts";
import { watchDate } from "../../../src/core/options/watch-date.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import type { AssessRequest, LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest, optionOf, toppedOffEvery } from "../samples.ts";

/** A start of which only the fill matters. */
const start = (fill: Partial<Start>) => ({
  top_up_now: false,
  last_fill_season: null,
  last_fill_counts: true,
  ...fill,
});

function dateOf(as_of: string, climate: readonly number[] | null, fill: Partial<Start>, months: number): string | null {
  const clock = new LeakClock(seasonWeights("R-134a", climate), dayNumber(as_of), -10, 20);
  const clocks = { season_reaches: (due: number) => clock.seasonReaches(due) };
  return watchDate(questionOf({ ...carRequest(), as_of }), start(fill), clocks, months / 12);
}

describe("watchDate, by hand", () => {
  it.each([
    // 365.25 days a year, to the nearest day.
    { fill: { top_up_now: true }, months: 12, is: "2027-05-01", why: "365 days from now" },
    { fill: { top_up_now: true }, months: 6, is: "2026-10-31", why: "183 days from now" },
    { fill: { last_fill_season: -0.5 }, months: 12, is: "2026-10-31", why: "half a year is over" },
    { fill: { last_fill_season: -2 }, months: 12, is: "2025-05-01", why: "long past" },
    { fill: { top_up_now: true, last_fill_season: -2 }, months: 24, is: "2028-05-01", why: "the top-up now counts" },
    { fill: {}, months: 12, is: null, why: "no fill" },
    {
      fill: { last_fill_season: -0.5, last_fill_counts: false },
      months: 12,
      is: null,
      why: "a fill that left too little",
    },
    { fill: { top_up_now: true }, months: 0, is: null, why: "never repair" },
  ])("$why: $is", ({ fill, months, is }) => {
    expect(dateOf("2026-05-01", null, fill, months)).toBe(is);
  });

  it("counts only the season in which it leaks", () => {
    // Only June and July leak, 61 days: three quarters of that are over 45.75 days after 1 June.
    const cold = [-35, -35, -35, -35, -35, 20, 20, -35, -35, -35, -35, -35];
    expect(dateOf("2026-05-01", cold, { top_up_now: true }, 9)).toBe("2026-07-17");
  });

  it("is the day the clock stops where a winter without leaking reaches the rule exactly", () => {
    // Leaks from May to October only; asked in January, a year of season is full on the last day of October.
    const arctic = [-40, -40, -40, -40, 5, 12, 15, 12, 6, 2, -40, -40];
    expect(dateOf("2026-01-15", arctic, { top_up_now: true }, 12)).toBe("2026-11-01");
    expect(dateOf("2026-01-15", arctic, { top_up_now: true }, 24)).toBe("2027-11-01");
  });
});

describe("switch_months and watch_date of an answer", () => {
  const dear = { locations: { joint: { price: 100 } } };
  const months = (
    floor_months: number,
    log: LogEntry[] = toppedOffEvery(365, 3),
    changes: Partial<AssessRequest> = {},
  ) =>
    optionOf(
      assess(carRequest(log, { plan: { floor_months }, prices: dear, ...changes }), { sensitivity: false }),
      "top-off",
    );

  it("gives a floor of part months as it is: 0 alone means never repair", () => {
    // A repair so dear that the shortest rule is always the best.
    const never = { prices: { repair_service: 100_000 } };
    expect(months(7.5, undefined, never).switch_months).toBe(7.5);
    expect(months(0.4, undefined, never).switch_months).toBe(0.4);
    expect(months(0, undefined, never)).toMatchObject({ switch_months: 0, watch_date: null });
    expect(months(0.4, undefined, never).watch_date).toBe("2026-05-13");
  });

  it("has no watch date without a fill, now or in the log", () => {
    expect(months(6, [{ date: "2026-05-01", cooling: "ok" }]).watch_date).toBeNull();
  });
});
