import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { dayNumber } from "../../../src/core/quantities/dates.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { logsOfVagueDates } from "../../../src/core/question/vague-dates.ts";

const AS_OF = "2026-05-01";
const known: LogEntry = { date: "2025-08-01", cooling: "weak", added_g: 300 };
const vague: LogEntry = { date: "2024-07-16", cooling: "weak", added_g: 340 };
const summer: LogEntry = { ...vague, date_within_days: 45 };

const logsOf = (log: readonly LogEntry[]) => logsOfVagueDates(log, dayNumber(AS_OF));
const datesOf = (log: readonly LogEntry[]) => logsOf(log).map((one) => one.map(({ date }) => date));

describe("logsOfVagueDates", () => {
  it("is the log itself where every date is known, or known to a month", () => {
    const month = { ...vague, date_within_days: 16 };
    expect(logsOf([month, known])).toEqual([[month, known]]);
  });

  it("puts a season at the middle of each of its thirds, and lets two vague dates differ from log to log", () => {
    const other: LogEntry = { ...summer, added_g: 170 };
    // 90 days from 1 June 2024: a sixth, a half and five sixths on are 15, 45 and 75 days.
    expect(datesOf([summer, other])).toEqual([
      ["2024-06-16", "2024-07-16"],
      ["2024-07-16", "2024-08-15"],
      ["2024-06-16", "2024-08-15"],
    ]);
  });

  it("moves how it cooled afterwards with the entry that it is of", () => {
    expect(datesOf([summer, { date: summer.date, date_within_days: 45, cooling: "ok" }])).toEqual([
      ["2024-06-16", "2024-06-16"],
      ["2024-07-16", "2024-07-16"],
      ["2024-08-15", "2024-08-15"],
    ]);
  });

  it("says nothing of days to come", () => {
    expect(
      datesOf([{ date: "2026-04-01", date_within_days: 60, cooling: "ok" }])
        .flat()
        .toSorted()
        .at(-1),
    ).toBe("2026-04-16");
  });
});

describe("an answer from vague dates", () => {
  const answer = (...log: LogEntry[]) =>
    assess(
      {
        as_of: AS_OF,
        vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
        log: [...log, { date: AS_OF, cooling: "weak" }],
      },
      { sensitivity: false },
    );
  const year: LogEntry = { ...vague, date: "2025-07-01", date_within_days: 181 };

  it("lies between those of the days that they may mean, and is less sure than the best of them", () => {
    const alone = logsOf([year]).map((log) => answer(...log.map((one) => ({ ...one, date_within_days: null }))));
    const medians = alone.map(({ leak }) => leak.g_per_year.median);
    expect(Math.max(...medians) / Math.min(...medians)).toBeGreaterThan(1.2);
    const { leak } = answer(year);
    expect(leak.g_per_year.median).toBeGreaterThan(Math.min(...medians));
    expect(leak.g_per_year.median).toBeLessThan(Math.max(...medians));
    const widths = alone.map(({ leak: { g_per_year } }) => Math.log(g_per_year.p95 / g_per_year.p05));
    expect(Math.log(leak.g_per_year.p95 / leak.g_per_year.p05)).toBeGreaterThan(Math.min(...widths));
  });

  it("is that of the day where the date is known", () => {
    expect(answer({ ...vague, date_within_days: null })).toEqual(answer(vague));
  });

  it("holds after a repair of which the day is not known, too", () => {
    const { leak } = answer(known, { date: "2025-11-01", date_within_days: 40, finish: "weighed", repair: "hose" });
    expect(leak.repair_held).toBeGreaterThan(0);
    expect(leak.repair_held).toBeLessThan(1);
  });
});

describe("log_evidence", () => {
  const question = (...log: LogEntry[]) =>
    questionOf({ as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: 650 }, log });

  it.each([
    { before: [known] },
    { before: [vague, known] },
    { before: [{ ...vague, repair: "hose" } as const, known] },
  ])("grows with a look by the logarithm of its chance", ({ before }) => {
    const look: LogEntry = { date: AS_OF, cooling: "short-cycling" };
    const [without, having] = [posteriorOf(question(...before)), posteriorOf(question(...before, look))];
    expect(having.log_evidence - without.log_evidence).toBeCloseTo(Math.log(having.standing!.seen), 3);
  });
});
