import { describe, expect, test } from "vitest";
import { spellsOf } from "../../../src/core/hindsight/spells.ts";
import type { AssessRequest, LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";

function spells(log: LogEntry[], more: Partial<AssessRequest> = {}) {
  return spellsOf(
    questionOf({ as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 800 }, log, ...more }),
  );
}

/** The end of the spell after a weighed charge of 1 June 2024, by what the log has next. */
function endBy(next: Omit<LogEntry, "date"> & { date?: string }) {
  const [spell] = spells([
    { date: "2024-06-01", finish: "weighed" },
    { date: "2025-06-01", ...next },
  ]);
  return spell;
}

describe("a spell after a charge", () => {
  test("ends low where the log says so, or where it was charged and nothing speaks against it", () => {
    for (const cooling of ["weak", "short-cycling", "empty"] as const)
      expect(endBy({ cooling })).toMatchObject({ ended: "seen", until: "2025-06-01" });
    expect(endBy({ cooling: "weak", repair: "hose", finish: "weighed" })).toMatchObject({ ended: "seen" });
    expect(endBy({ added_g: 300 })).toMatchObject({ ended: "charged", until: "2025-06-01" });
    expect(endBy({ finish: "weighed" })).toMatchObject({ ended: "charged" });
    expect(endBy({ recovered_g: 380, finish: "weighed" })).toMatchObject({ ended: "charged" });
  });

  test("was only followed so far where it was charged while not low, serviced or repaired", () => {
    expect(endBy({ cooling: "ok", added_g: 300 })).toMatchObject({ ended: "not-low", low_on: null });
    expect(endBy({ added_g: 0, finish: "gauges" })).toMatchObject({ ended: "not-low" });
    expect(endBy({ added_g: 70 })).toMatchObject({ ended: "not-low" });
    expect(endBy({ recovered_g: 700, finish: "weighed" })).toMatchObject({ ended: "not-low" });
    expect(endBy({ recovered_g: 300 })).toMatchObject({ ended: "not-low" });
    expect(endBy({ repair: "hose", finish: "weighed" })).toMatchObject({ ended: "repaired", low_on: null });
  });

  test("became low halfway from the last day on which it cooled, at most a quarter of a year before it was found", () => {
    // Of 91 days (a quarter of 365.25 is 91.3) before 1 June 2025, half: 45 or 46 days.
    expect(endBy({ cooling: "weak" })!.low_on).toBe("2025-04-16");
    const looked = spells([
      { date: "2024-06-01", finish: "weighed" },
      { date: "2025-05-12", cooling: "ok" },
      { date: "2025-06-01", cooling: "weak" },
    ]);
    expect(looked[0]!.low_on).toBe("2025-05-22");
    expect(endBy({ date: "2024-06-11", cooling: "weak" })!.low_on).toBe("2024-06-06");
  });

  test("goes on to this day where nothing came, or as far as every charge is known to be in the log", () => {
    const log: LogEntry[] = [{ date: "2024-06-01", finish: "weighed" }];
    expect(spells(log)).toEqual([
      { from: "2024-06-01", until: "2026-05-01", ended: "open", low_on: null, repaired_at_start: false },
    ]);
    const logged = { from: null, until: "2025-12-31" };
    expect(spells(log, { logged })[0]!.until).toBe("2025-12-31");
    expect(spells([...log, { date: "2026-02-01", cooling: "ok" }], { logged })[0]!.until).toBe("2026-02-01");
    expect(spells(log, { logged: { from: null, until: "2023-01-01" } })[0]!.until).toBe("2024-06-01");
  });
});

describe("what a log says of one day", () => {
  test("is taken together, whether it came in as entries or as one", () => {
    const one: LogEntry[] = [
      { date: "2024-06-01", finish: "weighed" },
      { date: "2025-06-01", cooling: "weak" },
      { date: "2025-06-01", added_g: 300, finish: "gauges" },
      { date: "2025-06-01", cooling: "ok" },
    ];
    expect(spells(one).map(({ from, ended }) => [from, ended])).toEqual([
      ["2024-06-01", "seen"],
      ["2025-06-01", "open"],
    ]);
    const cooled = one.with(1, { date: "2025-06-01", cooling: "ok" });
    expect(spells(cooled)[0]).toMatchObject({ ended: "not-low" });
  });

  test("begins no spell where it was still low afterwards, or nobody knows the day to a month", () => {
    const still = [
      { date: "2024-06-01", added_g: 300 },
      { date: "2024-06-01", cooling: "weak" as const },
    ];
    expect(spells(still)).toEqual([]);
    const vague = { date: "2024-07-15", date_within_days: 46, added_g: 300 };
    expect(spells([vague])).toEqual([]);
    // Nor does one count that ended on such a day.
    expect(spells([{ date: "2023-06-01", finish: "weighed" }, vague])).toEqual([]);
    expect(spells([{ date: "2024-06-01", cooling: "ok" }])).toEqual([]);
  });
});
