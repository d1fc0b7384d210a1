import { describe, expect, test } from "vitest";
import { type Followed, kaplanMeier, shareEnding, wilsonInterval } from "../../../src/core/maths/kaplan-meier.ts";
import { seededRandom } from "../../support/random.ts";

/** Times as texts write them: a plus for one that was only followed so far. */
function followed(times: string): Followed[] {
  return times.split(" ").map((time) => ({ at: Number.parseFloat(time), ended: !time.endsWith("+") }));
}

describe("the estimate of Kaplan and Meier", () => {
  test("of the eight of the paper itself", () => {
    // Kaplan and Meier 1958, their example of eight (from memory): four deaths and four losses, in months.
    const steps = kaplanMeier(followed("0.8 1.0+ 2.7+ 3.1 5.4 7.0+ 9.2 12.1+"));
    expect(steps.map(({ at, at_risk }) => [at, at_risk])).toEqual([
      [0.8, 8],
      [3.1, 5],
      [5.4, 4],
      [9.2, 2],
    ]);
    [0.875, 0.7, 0.525, 0.2625].forEach((lasting, i) => void expect(steps[i]!.lasting).toBeCloseTo(lasting, 10));
  });

  test("of ties, some ended and some not, to the end", () => {
    // Bewick, Cheek and Ball 2004, Critical Care 8:389, table 2.
    const steps = kaplanMeier(followed("1 1 4 5 6+ 9 9+ 22"));
    expect(steps.map(({ at, at_risk, ended }) => [at, at_risk, ended])).toEqual([
      [1, 8, 2],
      [4, 6, 1],
      [5, 5, 1],
      [9, 3, 1],
      [22, 1, 1],
    ]);
    [0.75, 0.625, 0.5, 0.333, 0].forEach((lasting, i) => void expect(steps[i]!.lasting).toBeCloseTo(lasting, 3));
  });

  test("with its standard errors, of 21 remissions in weeks", () => {
    // Freireich et al. 1963, Blood 21, the group under 6-mercaptopurine. The table with Greenwood's standard errors is
    // that of the standard texts on survival (from memory).
    const steps = kaplanMeier(followed("6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"));
    const table = [
      [6, 0.857, 0.0764],
      [7, 0.807, 0.0869],
      [10, 0.753, 0.0963],
      [13, 0.69, 0.1068],
      [16, 0.627, 0.1141],
      [22, 0.538, 0.1282],
      [23, 0.448, 0.1346],
    ];
    expect(steps.map(({ at }) => at)).toEqual(table.map(([at]) => at));
    table.forEach(([, lasting, error], i) => {
      const step = steps[i]!;
      expect(step.lasting).toBeCloseTo(lasting!, 3);
      expect(step.lasting * Math.sqrt(step.relative_variance)).toBeCloseTo(error!, 3);
    });
  });
});

describe("the share that ends between two times", () => {
  test("is the plain share where all were followed to the end, with Wilson's interval", () => {
    const share = shareEnding(followed("1 2 3 4 5 6 7 8 9 10"), 2, 9);
    // Wilson 1927 for 8 of 10, as tables of the interval have it (from memory): 0.490 to 0.943.
    expect(share!.share).toBeCloseTo(0.8, 12);
    expect(share!.low).toBeCloseTo(0.49, 3);
    expect(share!.high).toBeCloseTo(0.943, 3);
    expect(wilsonInterval(1, 10).low).toBeCloseTo(0.7225, 3);
  });

  test("is not known where nobody was followed so far, and known where all had ended before", () => {
    expect(shareEnding(followed("1 2 3+"), 0, 5)).toBeNull();
    expect(shareEnding(followed("1+ 1+"), 0, 1)).toBeNull();
    expect(shareEnding(followed("1 2 3"), 0, 5)).toMatchObject({ share: 1, high: 1 });
    expect(shareEnding([], 0, 1)).toBeNull();
  });

  test("is found again where many are lost on the way, with an interval that holds it 95 times of 100", () => {
    const random = seededRandom(8);
    const trials = 400;
    let held = 0;
    let sum = 0;
    for (let trial = 0; trial < trials; trial++) {
      const some = Array.from({ length: 150 }, (): Followed => {
        const [ends, lost] = [random(), 2 * random()];
        return ends <= lost ? { at: ends, ended: true } : { at: lost, ended: false };
      });
      const { share, low, high } = shareEnding(some, 0.05, 0.95)!;
      sum += share;
      if (low <= 0.9 && high >= 0.9) held++;
    }
    // Binomial: 0.95 of 400 lies within 0.92 and 0.98 in 99 of 100 cases.
    expect(held / trials).toBeGreaterThan(0.92);
    expect(held / trials).toBeLessThanOrEqual(0.985);
    expect(sum / trials).toBeCloseTo(0.9, 2);
  });
});
