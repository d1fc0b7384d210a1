import { describe, expect, test } from "vitest";
import { chargeNowOf, leakFractionOf } from "../../../src/core/leak/leak.ts";
import { NODES } from "../../../src/core/leak/leak-grid.ts";
import { nodesOf } from "../../../src/core/leak/nodes.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { normalCdf } from "../../../src/core/maths/normal.ts";
import type { AssessRequest, LoggedSpan } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { AS_OF, carRequest, daysAgo } from "../samples.ts";

const FILLED: AssessRequest = carRequest([{ date: daysAgo(1500), finish: "weighed" }]);
const told = (logged: LoggedSpan | null, request = FILLED) => posteriorOf(questionOf({ ...request, logged }));
const median = (logged: LoggedSpan | null, request = FILLED) => leakFractionOf(told(logged, request)).median;

describe("silence of a log that every charge is in", () => {
  // Each node's charge and threshold are normal: silence has the chance p + (1 − p)·P(not found low), by hand.
  test("weighs every node by the chance that nothing was logged", () => {
    const without = told(null);
    const missed = 0.1;
    const found = told({ until: AS_OF, missed });
    const expected = Array.from({ length: NODES }, (_, n) => {
      const softness = 0.04 * 650;
      const sd = Math.sqrt(without.var_m[n]! + without.var_b[n]! - 2 * without.cov_mb[n]! + softness ** 2);
      const fine = normalCdf((without.mean_m[n]! - without.mean_b[n]!) / sd);
      return without.weight[n]! * (missed + (1 - missed) * fine);
    });
    const total = expected.reduce((sum, one) => sum + one, 0);
    // Heavy nodes: in the others the charge is at its end, and not normal.
    for (let n = 0; n < NODES; n++) expect(Math.abs(found.weight[n]! - expected[n]! / total)).toBeLessThan(2e-4);
  });

  test("says that a vehicle filled long ago leaks slowly and has its charge", () => {
    // By hand: 40 % of the charge in 4.1 years, and it would be low.
    const low_by_now = 0.4 / (1500 / 365.25);
    expect(median(null)).toBeGreaterThan(low_by_now);
    expect(median({ until: AS_OF })).toBeLessThan(low_by_now);
    const { p05 } = chargeOf({ until: AS_OF });
    expect(p05).toBeGreaterThan(chargeOf(null).p05);
  });

  test("says less the more may be missing, and nothing when half may", () => {
    const by_missed = [0, 0.05, 0.1, 0.3].map((missed) => median({ until: AS_OF, missed }));
    expect(by_missed).toEqual(by_missed.toSorted((a, b) => a - b));
  });

  test("ends with the records: an older file says less", () => {
    expect(median({ until: daysAgo(1400) })).toBeGreaterThan(median({ until: daysAgo(700) }));
    expect(median({ until: daysAgo(700) })).toBeGreaterThan(median({ until: AS_OF }));
  });

  test("without any entry counts from the first day of the records", () => {
    const nothing = carRequest();
    const since = median({ from: daysAgo(2000), until: AS_OF }, nothing);
    expect(since).toBeLessThan(median(null, nothing) / 2);
    expect(median({ from: daysAgo(200), until: AS_OF }, nothing)).toBeGreaterThan(since);
    // No day to count from: no more is known.
    expect(median({ until: AS_OF }, nothing)).toBeCloseTo(median(null, nothing), 12);
  });

  test("is nothing while it stands as low, and before the last entry", () => {
    const low = carRequest([
      { date: daysAgo(900), finish: "weighed" },
      { date: daysAgo(30), cooling: "weak" },
    ]);
    expect(median({ until: AS_OF }, low)).toBe(median(null, low));
    expect(median({ until: daysAgo(1600) })).toBe(median(null));
  });
});

function chargeOf(logged: LoggedSpan | null) {
  const question = questionOf({ ...FILLED, logged });
  const posterior = posteriorOf(question);
  return chargeNowOf(posterior, nodesOf(posterior, question.nameplate_g), question.nameplate_g);
}
