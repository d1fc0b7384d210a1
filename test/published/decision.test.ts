import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  bestAction,
  expectedValues,
  expectedValueWithSample,
  signalMeanings,
  valueOfPerfectInformation,
  valueOfSampleInformation,
} from "../../src/core/maths/decision.ts";

/** Textbook decisions. Figures are exact to the digits printed; where they end in a rounded digit, half of it is allowed. */

describe("oil wildcatter (Raiffa, Decision Analysis, 1968; Shenoy 1992)", () => {
  // Drill for 70 and find 0, 120 or 270; or do not drill. States: dry, wet, soaking.
  const prior = [0.5, 0.3, 0.2];
  const payoffs = [
    [-70, 50, 200],
    [0, 0, 0],
  ];
  // Seismic test for 10: no structure, open, closed.
  const likelihoods = [
    [0.6, 0.3, 0.1],
    [0.3, 0.4, 0.4],
    [0.1, 0.3, 0.5],
  ];

  it("drilling is worth 20, perfect information 35", () => {
    expect(expectedValues(payoffs, prior)[0]).toBeCloseTo(20, 12);
    expect(bestAction(payoffs, prior).action).toBe(0);
    expect(valueOfPerfectInformation(payoffs, prior)).toBeCloseTo(35, 12);
  });

  it.each([
    { signal: 0, probability: 0.41, posterior: [0.7317, 0.2195, 0.0488], drill: -30.49, best: 0 },
    { signal: 1, probability: 0.35, posterior: [0.4286, 0.3429, 0.2286], drill: 32.86, best: 32.86 },
    { signal: 2, probability: 0.24, posterior: [0.2083, 0.375, 0.4167], drill: 87.5, best: 87.5 },
  ])("signal $signal has probability $probability", ({ signal, probability, posterior, drill, best }) => {
    const meaning = signalMeanings(prior, likelihoods)[signal]!;
    expect(meaning.probability).toBeCloseTo(probability, 12);
    for (const [state, p] of posterior.entries()) expect(meaning.posterior![state]!).toBeCloseTo(p, 4);
    expect(expectedValues(payoffs, meaning.posterior!)[0]).toBeCloseTo(drill, 2);
    expect(bestAction(payoffs, meaning.posterior!).expected_value).toBeCloseTo(best, 2);
  });

  it("the test is worth 12.5, and 22.5 is left after its price", () => {
    expect(expectedValueWithSample(payoffs, prior, likelihoods)).toBeCloseTo(32.5, 12);
    expect(valueOfSampleInformation(payoffs, prior, likelihoods)).toBeCloseTo(12.5, 12);
    expect(expectedValueWithSample(payoffs, prior, likelihoods) - 10).toBeCloseTo(22.5, 12);
  });

  it("with an uncertain drilling cost the deposit is worth 155 000 to know (a statistics package's decision-tree example)", () => {
    // Thousands: finds 0, 700, 1200; drilling costs 150, 300, 500 with chances 0.2, 0.6, 0.2. The test costs 60.
    const drilling = 0.2 * 150 + 0.6 * 300 + 0.2 * 500;
    const deposit = [
      [0 - drilling, 700 - drilling, 1200 - drilling],
      [0, 0, 0],
    ];
    expect(bestAction(deposit, prior).expected_value).toBeCloseTo(140, 10);
    expect(valueOfPerfectInformation(deposit, prior)).toBeCloseTo(155, 10);
    expect(valueOfSampleInformation(deposit, prior, likelihoods)).toBeCloseTo(40.1, 10);
    expect(valueOfSampleInformation(deposit, prior, likelihoods)).toBeLessThan(60);
  });
});

describe("oil or sell (Hillier and Lieberman, Introduction to Operations Research)", () => {
  // Drill for 100 and find 800 or nothing; or sell for 90. States: oil, dry. Survey for 30: favorable, unfavorable.
  const prior = [0.25, 0.75];
  const payoffs = [
    [700, -100],
    [90, 90],
  ];
  const likelihoods = [
    [0.6, 0.2],
    [0.4, 0.8],
  ];

  it("drilling is worth 100, perfect information 142.5, the survey 53", () => {
    expect(bestAction(payoffs, prior)).toEqual({ action: 0, expected_value: 100 });
    expect(valueOfPerfectInformation(payoffs, prior)).toBeCloseTo(142.5, 12);
    expect(valueOfSampleInformation(payoffs, prior, likelihoods)).toBeCloseTo(53, 12);
    expect(expectedValueWithSample(payoffs, prior, likelihoods) - 30).toBeCloseTo(123, 12);
  });

  it("a favorable survey has probability 0.3 and leaves oil at 1/2; an unfavorable one leaves 1/7", () => {
    const [favorable, unfavorable] = signalMeanings(prior, likelihoods);
    expect(favorable!.probability).toBeCloseTo(0.3, 12);
    expect(favorable!.posterior![0]).toBeCloseTo(1 / 2, 12);
    expect(unfavorable!.posterior![0]).toBeCloseTo(1 / 7, 12);
  });
});

describe("shale gas, test by sensitivity and specificity (worked example of an open decision-tree package)", () => {
  // Dig for 300 and gain 2500, or sell for 800; after a test for 50, sell for 600. States: gas, none.
  const prior = [0.7, 0.3];
  const now = [
    [2200, -300],
    [800, 800],
  ];
  const after_test = [
    [2200, -300],
    [600, 600],
  ];
  const sensitivity = 0.9;
  const specificity = 0.7;
  const likelihoods = [
    [sensitivity, 1 - specificity],
    [1 - sensitivity, specificity],
  ];

  it("digging now gives 1450, selling 800, testing first 1477", () => {
    const [dig, sell] = expectedValues(now, prior);
    expect(dig).toBeCloseTo(1450, 10);
    expect(sell).toBeCloseTo(800, 10);
    expect(expectedValueWithSample(after_test, prior, likelihoods) - 50).toBeCloseTo(1477, 10);
  });

  it("a positive test has probability 0.72 and leaves gas at 0.875; a negative one leaves 0.25", () => {
    const [positive, negative] = signalMeanings(prior, likelihoods);
    expect(positive!.probability).toBeCloseTo(0.72, 12);
    expect(positive!.posterior![0]).toBeCloseTo(0.875, 12);
    expect(negative!.posterior![0]).toBeCloseTo(0.25, 12);
  });
});

/** Laws that hold for every decision (Raiffa and Schlaifer, Applied Statistical Decision Theory, 1961). */
describe("value of information, any decision", () => {
  const shares = (length: number) =>
    fc
      .array(fc.integer({ min: 0, max: 1000 }), { minLength: length, maxLength: length })
      .filter((weights) => weights.some((w) => w > 0))
      .map((weights) => {
        const sum = weights.reduce((total, w) => total + w, 0);
        return weights.map((w) => w / sum);
      });
  const decision = fc
    .record({
      states: fc.integer({ min: 1, max: 5 }),
      actions: fc.integer({ min: 1, max: 4 }),
      signals: fc.integer({ min: 1, max: 4 }),
    })
    .chain(({ states, actions, signals }) =>
      fc.record({
        prior: shares(states),
        payoffs: fc.array(
          fc.array(fc.double({ min: -1000, max: 1000, noNaN: true }), { minLength: states, maxLength: states }),
          { minLength: actions, maxLength: actions },
        ),
        by_state: fc.array(shares(signals), { minLength: states, maxLength: states }),
      }),
    )
    .map(({ by_state, ...rest }) => ({
      ...rest,
      likelihoods: by_state[0]!.map((_, signal) => by_state.map((row) => row[signal]!)),
    }));
  const EPS = 1e-9;

  it("0 ≤ sample information ≤ perfect information", () => {
    fc.assert(
      fc.property(decision, ({ prior, payoffs, likelihoods }) => {
        const sample = valueOfSampleInformation(payoffs, prior, likelihoods);
        expect(sample).toBeGreaterThanOrEqual(-EPS);
        expect(sample).toBeLessThanOrEqual(valueOfPerfectInformation(payoffs, prior) + EPS);
      }),
    );
  });

  it("a test that says the same in every state is worth nothing", () => {
    fc.assert(
      fc.property(decision, shares(3), ({ prior, payoffs }, chances) => {
        const blind = chances.map((p) => prior.map(() => p));
        expect(Math.abs(valueOfSampleInformation(payoffs, prior, blind))).toBeLessThan(EPS);
      }),
    );
  });

  it("a test that names the state is perfect information", () => {
    fc.assert(
      fc.property(decision, ({ prior, payoffs }) => {
        const seeing = prior.map((_, signal) => prior.map((__, state) => (signal === state ? 1 : 0)));
        const difference = valueOfSampleInformation(payoffs, prior, seeing) - valueOfPerfectInformation(payoffs, prior);
        expect(Math.abs(difference)).toBeLessThan(EPS);
      }),
    );
  });

  it("the beliefs after the test average to the beliefs before it", () => {
    fc.assert(
      fc.property(decision, ({ prior, likelihoods }) => {
        const meanings = signalMeanings(prior, likelihoods);
        prior.forEach((p, state) => {
          const average = meanings.reduce(
            (sum, { probability, posterior }) => sum + (posterior === null ? 0 : probability * posterior[state]!),
            0,
          );
          expect(Math.abs(average - p)).toBeLessThan(EPS);
        });
      }),
    );
  });

  it("refuses tables that do not fit and probabilities that are none", () => {
    expect(() => expectedValues([[1, 2]], [0.5, 0.6])).toThrow(RangeError);
    expect(() => expectedValues([[1, 2, 3]], [0.5, 0.5])).toThrow(RangeError);
    expect(() => expectedValues([], [1])).toThrow(RangeError);
    expect(() => bestAction([[1, Number.NaN]], [0.5, 0.5])).toThrow(RangeError);
    expect(() => bestAction([[1, 2]], [1.5, -0.5])).toThrow(RangeError);
    expect(() => signalMeanings([0.5, 0.5], [[0.5, 0.5]])).toThrow(RangeError);
    expect(() => signalMeanings([0.5, 0.5], [[1], [0]])).toThrow(RangeError);
  });
});
