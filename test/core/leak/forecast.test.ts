import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { forecastOf } from "../../../src/core/leak/forecast.ts";
import { nodesOf } from "../../../src/core/leak/nodes.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { normalCdf } from "../../../src/core/maths/normal.ts";
import { dayNumber, isoFromDay } from "../../../src/core/quantities/dates.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { validRequests } from "../../support/requests.ts";
import { AS_OF, carRequest, daysAgo, SEASONS, toppedOffEvery } from "../samples.ts";

function forecast(request: AssessRequest) {
  const question = questionOf(request);
  const posterior = posteriorOf(question);
  return { question, posterior, ...forecastOf(question, posterior, nodesOf(posterior, question.nameplate_g)) };
}

/** The dates as the model's text has them: all 241 months, a running maximum, linear between. */
function nextLow(request: AssessRequest, shares: readonly number[]): (string | null)[] {
  const question = questionOf(request);
  if (isLowAsSeen(request)) return shares.map(() => question.as_of);
  const posterior = posteriorOf(question);
  const nodes = nodesOf(posterior, question.nameplate_g);
  const chance: number[] = [];
  for (let month = 0; month <= 240; month++) {
    const t = month / 12;
    let sum = 0;
    for (let n = 0; n < nodes.count; n++) {
      const j = nodes.growth_index[n]!;
      const k = nodes.k[n]!;
      const variance =
        nodes.var_m[n]! -
        2 * nodes.cov_mb[n]! +
        nodes.var_b[n]! +
        (0.15 * k) ** 2 * posterior.clocks.growth_twice[j]!(t) +
        (0.04 * question.nameplate_g) ** 2;
      const apart = nodes.mean_b[n]! - nodes.mean_m[n]! + k * posterior.clocks.growth[j]!(t);
      sum += nodes.weight[n]! * normalCdf(apart / Math.sqrt(variance));
    }
    chance.push(Math.max(sum, chance.at(-1) ?? 0));
  }
  return shares.map((p) => {
    const reached = chance.findIndex((one) => one >= p);
    if (reached < 0) return null;
    if (reached === 0) return question.as_of;
    const from = chance[reached - 1]!;
    const t = (reached - 1 + (p - from) / (chance[reached]! - from)) / 12;
    return isoFromDay(question.as_of_day + Math.floor(365.25 * t + 0.5));
  });
}

/** Whether a low look stands: one that no later `ok`, and no fill, recovery or repair with it or later, has ended. */
function isLowAsSeen({ log }: AssessRequest): boolean {
  let stands = false;
  for (const entry of (log ?? []).toSorted((a, b) => dayNumber(a.date) - dayNumber(b.date))) {
    if (entry.cooling != null) stands = entry.cooling !== "ok";
    const filled = entry.finish != null || (entry.added_g ?? 0) > 0;
    if (filled || entry.recovered_g != null || entry.repair != null) stands = false;
  }
  return stands;
}

describe("next_low", () => {
  it("is where a running maximum over all months puts it", () => {
    fc.assert(
      fc.property(validRequests({ max_entries: 6 }), (request) => {
        const { next_low } = forecast(request);
        expect([next_low.p10, next_low.p50, next_low.p90]).toEqual(nextLow(request, [0.1, 0.5, 0.9]));
      }),
      { numRuns: 40 },
    );
  });

  it("is today where it is low already, and not within 20 years for a tight system", () => {
    const weak = forecast(
      carRequest([
        { date: daysAgo(200), finish: "weighed" },
        { date: AS_OF, cooling: "empty" },
      ]),
    );
    expect(weak.next_low).toEqual({ p10: AS_OF, p50: AS_OF, p90: AS_OF });
    const tight = forecast(
      carRequest([
        { date: daysAgo(14_000), finish: "weighed" },
        { date: AS_OF, cooling: "ok", added_g: 0, finish: "gauges" },
      ]),
    );
    expect(tight.next_low.p90).toBeNull();
  });

  it("of a yearly recharge, filled today, is about a year away", () => {
    const log = toppedOffEvery(365, 3);
    const filled = forecast(carRequest([...log.slice(0, 3), { ...log[3]!, added_g: 289, finish: "gauges" }]));
    const days = dayNumber(filled.next_low.p50!) - dayNumber(AS_OF);
    expect(days).toBeGreaterThan(365 * 0.75);
    expect(days).toBeLessThan(365 * 1.25);
  });
});

describe("the charge curve", () => {
  const log = toppedOffEvery(365, 3);
  const { curve, posterior } = forecast(
    carRequest(log, { vehicle: { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c: SEASONS } }),
  );

  it("has two points an entry, one today, eight ahead by quarters", () => {
    expect(curve.map(({ date }) => date)).toEqual([
      ...log.flatMap(({ date }) => [date, date]),
      AS_OF,
      // 91, 183, 274, 365, 457, 548, 639 and 731 days ahead: quarters of 91.3125 days, to the nearest day.
      "2026-07-31",
      "2026-10-31",
      "2027-01-30",
      "2027-05-01",
      "2027-08-01",
      "2027-10-31",
      "2028-01-30",
      "2028-05-01",
    ]);
  });

  it("rises at fills, falls between them, and ends where the forecast begins", () => {
    for (let entry = 0; entry < 3; entry++) {
      expect(curve[2 * entry + 1]!.mean_g).toBeGreaterThan(curve[2 * entry]!.mean_g);
      expect(curve[2 * entry + 2]!.mean_g).toBeLessThan(curve[2 * entry + 1]!.mean_g);
    }
    const mean = posterior.weight.reduce((sum, w, n) => sum + w * posterior.mean_m[n]!, 0);
    expect(curve[8]!.mean_g).toBeCloseTo(mean, 9);
    expect(curve[8]!.mean_g).toBeCloseTo(curve[7]!.mean_g, 9);
    for (let i = 9; i < curve.length; i++) expect(curve[i]!.mean_g).toBeLessThan(curve[i - 1]!.mean_g);
  });

  it("starts at what is believed before any entry", () => {
    // N(0.6, 0.25) of 650 g, rectified: hardly different (Φ(−2.4) = 0.008; Abramowitz and Stegun, table 26.1).
    expect(curve[0]!.mean_g).toBeCloseTo(390, -1);
  });
});
