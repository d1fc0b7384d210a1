import { describe, expect, test } from "vitest";
import { chargeNowOf, leakFractionOf } from "../../../src/core/leak/leak.ts";
import { GROWTH, X, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { nodesOf } from "../../../src/core/leak/nodes.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import type { AssessRequest, LoggedSpan } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { normalRandom, seededRandom } from "../../support/random.ts";
import { AS_OF, carRequest, daysAgo } from "../samples.ts";

const FILLED: AssessRequest = carRequest([{ date: daysAgo(1500), finish: "weighed" }]);
const told = (logged: LoggedSpan | null, request = FILLED) => posteriorOf(questionOf({ ...request, logged }));
const median = (logged: LoggedSpan | null, request = FILLED) => leakFractionOf(told(logged, request)).median;

describe("silence of a log that every charge is in", () => {
  test("weighs every node by the chance that nothing was logged, as lives under the same assumptions have it", () => {
    const missed = 0.3;
    const without = told(null);
    const found = told({ until: AS_OF, missed });
    const ratio = (n: number) => found.weight[n]! / without.weight[n]!;
    // A leak so slow that it is not low by now: nothing was to be logged.
    const nothing = ratio(G_ZERO * X_COUNT);
    for (let i = 20; i < X_COUNT; i += 8) {
      const lives = shareOfSilence(X[i]!, missed);
      expect(Math.abs(ratio(G_ZERO * X_COUNT + i) / nothing - lives)).toBeLessThan(0.05);
    }
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
    expect(median({ until: AS_OF, missed: 0 }, low)).toBe(median(null, low));
    expect(median({ until: daysAgo(1600) })).toBe(median(null));
  });
});

describe("silence between two charges", () => {
  const spell = [daysAgo(1500), daysAgo(400)].map((date) => ({ date, finish: "weighed" as const }));
  const charged = carRequest([
    spell[0]!,
    { ...spell[1]!, finish: "gauges", cooling: "weak", added_g: 260, added_by: "scale" },
  ]);

  test("leaves open that one was missed: it may leak faster than the log alone says", () => {
    const by_missed = [0, 0.1, 0.3].map((missed) => leakFractionOf(told({ until: AS_OF, missed }, charged)));
    const medians = by_missed.map((leak) => leak.median);
    expect(medians).toEqual(medians.toSorted((a, b) => a - b));
    // By hand: 260 g of 650 in 1100 days.
    const once = 260 / 650 / (1100 / 365.25);
    expect(by_missed[2]!.p95).toBeGreaterThan(1.1 * by_missed[0]!.p95);
    expect(by_missed[0]!.median / once).toBeGreaterThan(0.8);
    expect(by_missed[0]!.median / once).toBeLessThan(1.25);
  });

  test("says that it was not found low, whatever the next entry says", () => {
    const serviced = carRequest(spell);
    expect(median({ until: daysAgo(400), missed: 0 }, serviced)).toBeLessThan(median(null, serviced));
    const looked_at = carRequest([spell[0]!, { date: daysAgo(1), cooling: "ok" }]);
    // Cooling today says less of the leak where a charge may have been missed.
    expect(median({ until: AS_OF, missed: 0.3 }, looked_at)).toBeGreaterThan(median(null, looked_at));
  });

  test("is as long as the records: before them a charge may have been missed or not, and nothing is said", () => {
    const later = { from: daysAgo(1400), until: daysAgo(380), missed: 0.3 };
    expect(median(later, charged)).toBe(median(null, charged));
  });

  test("shows the charge before an entry as of all that may have happened", () => {
    const arriving = ({ missed }: { missed: number }) => {
      const { snapshots, weight } = told({ until: AS_OF, missed }, charged);
      const arrived = snapshots.find(({ entry, moment }) => entry === 1 && moment === "before")!;
      return weight.reduce((sum, w, n) => sum + w * arrived.mean_m[n]!, 0);
    };
    for (const missed of [0, 0.3]) {
      // It was weak: about the line, 390 g.
      expect(arriving({ missed })).toBeGreaterThan(250);
      expect(arriving({ missed })).toBeLessThan(450);
    }
  });
});

/** Index of the growth 0. */
const G_ZERO = GROWTH.indexOf(0);

/**
 * Expected likelihood of the silence after `FILLED` for a steady leak, by lives: it is noticed low any time within a
 * quarter, charged to nameplate by gauges, and each charge is missed with the chance `missed`.
 */
function shareOfSilence(x: number, missed: number): number {
  const random = seededRandom(3);
  const normal = normalRandom(random);
  const step = 0.05;
  const lives = 1000;
  let sum = 0;
  for (let life = 0; life < lives; life++) {
    let charge = 1 + (15 / 650) * normal();
    const line = 0.6 + 0.1 * normal();
    let chance = 1;
    let noticed_in: number | null = null;
    for (let t = -1500 / 365.25; t < 0 && chance > 1e-4; t += step) {
      charge = Math.max(0, charge - x * (step + 0.15 * Math.sqrt(step) * normal()));
      if (charge >= line && noticed_in === null) continue;
      noticed_in = (noticed_in ?? 0.25 * random()) - step;
      if (noticed_in > 0) continue;
      noticed_in = null;
      chance *= missed;
      charge = 1 + 0.07 * normal();
    }
    sum += chance;
  }
  return sum / lives;
}

function chargeOf(logged: LoggedSpan | null) {
  const question = questionOf({ ...FILLED, logged });
  const posterior = posteriorOf(question);
  return chargeNowOf(posterior, nodesOf(posterior, question.nameplate_g), question.nameplate_g);
}
