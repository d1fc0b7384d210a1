import { describe, expect, test } from "vitest";
import { hindsight } from "../../../data/hindsight.ts";
import { replayed } from "../../../src/core/hindsight/replay.ts";
import { lowAgainOf, nextLowOf } from "../../../src/core/leak/forecast.ts";
import { nodesOf } from "../../../src/core/leak/nodes.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";

const NAMEPLATE_G = 850;
const AS_OF = "2026-05-01";
const vehicle = { refrigerant: "R-134a", nameplate_g: NAMEPLATE_G } as const;
const charge = (date: string): LogEntry => ({
  date,
  cooling: "weak",
  added_g: 320,
  added_by: "scale",
  finish: "gauges",
});
const log: LogEntry[] = [
  { date: "2021-06-01", finish: "weighed" },
  charge("2022-07-01"),
  charge("2023-09-01"),
  charge("2025-01-15"),
];

describe("a past charge", () => {
  test("is predicted from what was on record then, and nothing later", () => {
    const predicted = replayed({ as_of: AS_OF, vehicle, log });
    expect(predicted.map(({ from, ended }) => [from, ended])).toEqual([
      ["2021-06-01", "seen"],
      ["2022-07-01", "seen"],
      ["2023-09-01", "seen"],
      ["2025-01-15", "open"],
    ]);
    // As the model said it on the day: the answer of 1 July 2022, asked then.
    const question = questionOf({ as_of: "2022-07-01", vehicle, log: log.slice(0, 2) });
    const posterior = posteriorOf(question);
    const said = nextLowOf(question, posterior, nodesOf(posterior, NAMEPLATE_G));
    expect(predicted[1]!.p50).toBe(said.p50);
    // What came later changes nothing of it but what came.
    const later = [...log.slice(0, 2), charge("2022-12-01")];
    const [, other] = replayed({ as_of: AS_OF, vehicle, log: later });
    expect(other).toMatchObject({ p05: predicted[1]!.p05, p50: said.p50, p95: predicted[1]!.p95 });
    expect(other!.chance).toBeLessThan(predicted[1]!.chance);
  });

  test("is held against its own middle and ends: chances and dates say the same", () => {
    const question = questionOf({ as_of: "2022-07-01", vehicle, log: log.slice(0, 2) });
    const posterior = posteriorOf(question);
    const { dateOf, chanceBy } = lowAgainOf(question, posterior, nodesOf(posterior, NAMEPLATE_G));
    for (const chance of [0.05, 0.3, 0.5, 0.9]) expect(chanceBy(dateOf(chance)!)).toBeCloseTo(chance, 2);
    for (const { chance, low_on, until, p05, p50, p95 } of replayed({ as_of: AS_OF, vehicle, log })) {
      const at = low_on ?? until;
      expect(chance >= hindsight.from_chance).toBe(at >= p05!);
      expect(chance <= hindsight.to_chance).toBe(p95 === null || at <= p95);
      if (at < p50!) expect(chance).toBeLessThanOrEqual(0.5);
    }
  });

  test("by the simple rule lasts as long as the last one did, from the third charge on and not after a repair", () => {
    const predicted = replayed({ as_of: AS_OF, vehicle, log });
    expect(predicted.map(({ by_rule }) => by_rule)).toEqual([
      null,
      // From 1 June 2021 to 16 May 2022, halfway into the quarter before it was found: 349 days.
      "2023-06-15",
      // From 1 July 2022 to 17 July 2023: 381 days.
      "2024-09-16",
      // From 1 September 2023 to 30 November 2024: 456 days.
      "2026-04-16",
    ]);
    const repaired = log.with(2, { ...charge("2023-09-01"), repair: "hose" });
    expect(replayed({ as_of: AS_OF, vehicle, log: repaired })[2]!.by_rule).toBeNull();
  });

  test("is one of the first few of the last ten years, so that no surprise drops out", () => {
    const yearly = Array.from({ length: 14 }, (_, year) => charge(`${2011 + year}-06-01`));
    const predicted = replayed({ as_of: AS_OF, vehicle, log: yearly });
    expect(predicted.map(({ from }) => from.slice(0, 4))).toEqual(yearly.slice(5).map(({ date }) => date.slice(0, 4)));
    // The first of them knows of the one before.
    expect(predicted[0]!.by_rule).not.toBeNull();
    const monthly = Array.from({ length: 20 }, (_, i) => charge(`${2018 + Math.floor(i / 4)}-0${1 + 2 * (i % 4)}-01`));
    const first = replayed({ as_of: AS_OF, vehicle, log: monthly });
    expect(first.map(({ from }) => from)).toEqual(monthly.slice(0, hindsight.most_a_vehicle).map(({ date }) => date));
    expect(replayed({ as_of: AS_OF, vehicle, log: [charge("2012-06-01")] })).toEqual([]);
  });
});
