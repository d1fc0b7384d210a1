import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { logsOfVagueDates } from "../../../src/core/question/vague-dates.ts";

const known = { date: "2025-08-01", cooling: "weak", added_g: 300 } as const;
const vague = { date: "2024-07-16", cooling: "weak", added_g: 340 } as const;
const summer = { earliest: "2024-06-01", latest: "2024-08-31" };

describe("logsOfVagueDates", () => {
  it("is the log itself where every date is known, or known to a month", () => {
    const when = { earliest: "2024-07-01", latest: "2024-07-31" };
    expect(
      logsOfVagueDates([
        { entry: known, when: null },
        { entry: vague, when },
      ]),
    ).toEqual([{ weight: 1, log: [known, vague] }]);
  });

  it("puts a season at the middle of each of its thirds, and lets two vague dates differ from log to log", () => {
    const logs = logsOfVagueDates([
      { entry: vague, when: summer },
      { entry: vague, when: summer },
    ]);
    expect(logs.map(({ weight }) => weight)).toEqual([1 / 3, 1 / 3, 1 / 3]);
    // 91 days from 1 June 2024: a sixth, a half and five sixths on are 15, 46 and 76 days.
    expect(logs.map(({ log }) => log.map(({ date }) => date))).toEqual([
      ["2024-06-16", "2024-07-17"],
      ["2024-07-17", "2024-08-16"],
      ["2024-08-16", "2024-06-16"],
    ]);
  });

  it("tells logs apart that the model answers differently: a year is no day", () => {
    const year = { earliest: "2025-01-01", latest: "2025-12-31" };
    const leaks = logsOfVagueDates([{ entry: vague, when: year }]).map(
      ({ log }) =>
        assess(
          {
            as_of: "2026-05-01",
            vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
            log: [...log, { date: "2026-05-01", cooling: "weak" }],
          },
          { sensitivity: false },
        ).leak.g_per_year.median,
    );
    expect(leaks[2]! / leaks[0]!).toBeGreaterThan(1.2);
  });
});
