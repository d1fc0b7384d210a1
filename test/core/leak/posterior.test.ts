import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { ChargeFilter } from "../../../src/core/leak/charge-filter.ts";
import { CLOCK_YEARS_AHEAD, clocksOf } from "../../../src/core/leak/clocks.ts";
import { GROWTH, LN_X, NODES, X, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { normalCdf } from "../../../src/core/maths/normal.ts";
import type { LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { rectified } from "../maths/rectified.ts";
import { AS_OF, carRequest, daysAgo, SEASONS, toppedOffEvery } from "../samples.ts";

const M0 = 650;
const LN_X_MEAN = Math.log(0.15);

/** A filter at the assessment date that has seen nothing. */
function freshFilter(log: LogEntry[] = []) {
  const question = questionOf(carRequest(log));
  return new ChargeFilter(question, clocksOf(question, -10, CLOCK_YEARS_AHEAD), { ln_x_mean: LN_X_MEAN, ln_x_sd: 1.1 });
}

/** Mean and covariance of charge and weak-cooling charge at node `n`. */
function stateAt(filter: ChargeFilter, n = 0) {
  const { mean_m, mean_b, var_m, cov_mb, var_b } = filter.state();
  return { m: mean_m[n]!, b: mean_b[n]!, mm: var_m[n]!, mb: cov_mb[n]!, bb: var_b[n]! };
}

type State = ReturnType<typeof stateAt>;

/** Moments of a normal times a likelihood of (m, b), by a grid over eight sd either way. */
function integrated(prior: State, likelihood: (m: number, b: number) => number): State & { evidence: number } {
  const steps = 200;
  const determinant = prior.mm * prior.bb - prior.mb ** 2;
  const sum = { one: 0, m: 0, b: 0, mm: 0, mb: 0, bb: 0 };
  let whole = 0;
  for (let i = 0; i <= steps; i++) {
    const m = prior.m + Math.sqrt(prior.mm) * (-8 + (16 * i) / steps);
    for (let j = 0; j <= steps; j++) {
      const b = prior.b + Math.sqrt(prior.bb) * (-8 + (16 * j) / steps);
      const [dm, db] = [m - prior.m, b - prior.b];
      const square = (prior.bb * dm * dm - 2 * prior.mb * dm * db + prior.mm * db * db) / determinant;
      const density = Math.exp(-0.5 * square);
      const weight = density * likelihood(m, b);
      whole += density;
      sum.one += weight;
      sum.m += weight * m;
      sum.b += weight * b;
      sum.mm += weight * m * m;
      sum.mb += weight * m * b;
      sum.bb += weight * b * b;
    }
  }
  const [m, b] = [sum.m / sum.one, sum.b / sum.one];
  return {
    m,
    b,
    mm: sum.mm / sum.one - m * m,
    mb: sum.mb / sum.one - m * b,
    bb: sum.bb / sum.one - b * b,
    evidence: sum.one / whole,
  };
}

function expectState(here: State, expected: State) {
  expect(here.m / M0).toBeCloseTo(expected.m / M0, 7);
  expect(here.b / M0).toBeCloseTo(expected.b / M0, 7);
  expect(here.mm / M0 ** 2).toBeCloseTo(expected.mm / M0 ** 2, 7);
  expect(here.mb / M0 ** 2).toBeCloseTo(expected.mb / M0 ** 2, 7);
  expect(here.bb / M0 ** 2).toBeCloseTo(expected.bb / M0 ** 2, 7);
}

/** Largest distance of `values` from what is expected of each. */
function furthest(values: Float64Array, expected: (n: number) => number): number {
  return values.reduce((most, value, n) => Math.max(most, Math.abs(value - expected(n))), 0);
}

const START: State = { m: 0.6 * M0, b: 0.6 * M0, mm: (0.25 * M0) ** 2, mb: 0, bb: (0.1 * M0) ** 2 };

describe("before any entry", () => {
  it("every node holds 60 ± 25 % of nameplate and cools weakly below 60 ± 10 %", () => {
    for (const n of [0, 600, NODES - 1]) expectState(stateAt(freshFilter(), n), START);
  });

  it("the posterior of an empty log is the prior: normal in ln x and in g, on the grid", () => {
    const { weight } = posteriorOf(questionOf(carRequest()));
    const density = (n: number) =>
      Math.exp(
        -0.5 * ((LN_X[n % X_COUNT]! - LN_X_MEAN) / 1.1) ** 2 -
          0.5 * ((GROWTH[Math.floor(n / X_COUNT)]! - 0.05) / 0.15) ** 2,
      );
    let total = 0;
    for (let n = 0; n < NODES; n++) total += density(n);
    expect(furthest(weight, (n) => density(n) / total)).toBeLessThan(1e-14);
  });

  it("its quantiles are those of a log-normal around 15 % a year, to a hundredth", () => {
    const { fraction_per_year } = assess(carRequest(), { sensitivity: false }).leak;
    // z = 1.644854 and 0.674490 (Abramowitz and Stegun, table 26.5; from memory). The grid's ends cut little.
    expect(fraction_per_year.median / 0.15).toBeCloseTo(1, 2);
    expect(fraction_per_year.p25 / (0.15 * Math.exp(-0.67449 * 1.1))).toBeCloseTo(1, 2);
    expect(fraction_per_year.p75 / (0.15 * Math.exp(0.67449 * 1.1))).toBeCloseTo(1, 2);
    expect(fraction_per_year.p05 / (0.15 * Math.exp(-1.644854 * 1.1))).toBeCloseTo(1, 1);
    expect(fraction_per_year.p95 / (0.15 * Math.exp(1.644854 * 1.1))).toBeCloseTo(1, 1);
  });
});

describe("a look, against integration over charge and weak-cooling charge", () => {
  const below = (line: number, softness: number, mistaken: number) => (m: number) =>
    mistaken + (1 - 2 * mistaken) * normalCdf((line - m) / softness);

  it.each([
    { look: "weak", of: (m: number, b: number) => below(b, 0.04 * M0, 0.005)(m) },
    { look: "ok", of: (m: number, b: number) => 0.005 + 0.99 * normalCdf((m - b) / (0.04 * M0)) },
    { look: "short-cycling", of: below(0.5 * M0, 0.1 * M0, 0.005) },
    { look: "empty", of: below(0.1 * M0, 0.04 * M0, 0.00001) },
    { look: "fill-unknown", of: below(1.1 * M0, 0.05 * M0, 0.005) },
  ] as const)("$look", ({ look, of }) => {
    const filter = freshFilter();
    const before = filter.weights()[40]!;
    filter.look(look);
    const expected = integrated(START, of);
    expectState(stateAt(filter), expected);
    // The same at every node, so weights stay; the evidence itself shows where nodes differ, below.
    expect(filter.weights()[40]).toBeCloseTo(before, 14);
    // And once more, now that m and b hang together.
    filter.look("ok");
    expectState(
      stateAt(filter),
      integrated(expected, (m, b) => 0.005 + 0.99 * normalCdf((m - b) / (0.04 * M0))),
    );
  });

  it("weighs nodes by its evidence: ok after two years speaks against fast leaks", () => {
    const filter = freshFilter();
    filter.visit({
      t: -2,
      cooling: null,
      recovered: null,
      repair: null,
      fill: { kind: "weighed", mean_g: M0, sd_g: 15 },
    });
    filter.move(-2, 0);
    const before = filter.weights();
    const states = [20, 55, 62, 70].map((i) => {
      const n = 3 * X_COUNT + i;
      return { n, ...integrated(stateAt(filter, n), (m, b) => 0.005 + 0.99 * normalCdf((m - b) / (0.04 * M0))) };
    });
    filter.look("ok");
    const after = filter.weights();
    const reference = states[0]!;
    for (const { n, evidence } of states) {
      const ratio = after[n]! / before[n]! / (after[reference.n]! / before[reference.n]!);
      expect(ratio).toBeCloseTo(evidence / reference.evidence, 6);
    }
  });
});

describe("moving in time", () => {
  it("takes k·clock from the mean and adds (0.15·k)²·clock(2g) to the variance", () => {
    const filter = freshFilter();
    filter.move(-3, -1);
    for (const n of [5, 3 * X_COUNT + 40, 12 * X_COUNT + 60]) {
      const g = GROWTH[Math.floor(n / X_COUNT)]!;
      const k = X[n % X_COUNT]! * M0;
      const span = (rate: number) => (Math.abs(rate) < 1e-9 ? 2 : (Math.exp(-rate) - Math.exp(-3 * rate)) / rate);
      const { m, mm } = stateAt(filter, n);
      expect(m).toBeCloseTo(0.6 * M0 - k * span(g), 8);
      expect(mm / ((0.25 * M0) ** 2 + (0.15 * k) ** 2 * span(2 * g))).toBeCloseTo(1, 12);
    }
  });
});

/**
 * A joint normal, conditioned on a linear reading y = h·v + noise: the textbook formula, for any number of variables.
 */
function conditioned(mean: number[], covariance: number[][], h: number[], y: number, noise: number) {
  const cov_y = covariance.map((row) => row.reduce((sum, c, j) => sum + c * h[j]!, 0));
  const s = cov_y.reduce((sum, c, i) => sum + c * h[i]!, noise);
  const off = y - mean.reduce((sum, m, i) => sum + m * h[i]!, 0);
  return {
    mean: mean.map((m, i) => m + (cov_y[i]! * off) / s),
    covariance: covariance.map((row, i) => row.map((c, j) => c - (cov_y[i]! * cov_y[j]!) / s)),
    ln_density: -0.5 * (Math.log(2 * Math.PI * s) + (off * off) / s),
  };
}

describe("readings, against a conditioned normal of charge, weak-cooling charge and the amount's error", () => {
  /** Half full, and looked at: m and b hang together, and m is too far above zero to be rectified. */
  function looked() {
    const filter = freshFilter();
    filter.visit({
      t: 0,
      cooling: null,
      recovered: null,
      repair: null,
      fill: { kind: "level", mean_g: 500, sd_g: 60 },
    });
    filter.look("weak");
    filter.look("ok");
    return filter;
  }

  it("gauges after 300 g from cans, and a look on the way", () => {
    const filter = looked();
    const { m, b, mm, mb, bb } = stateAt(filter);
    // ν: 15 g + 5 % of what left the cans. Gauges read nameplate ± 7 %.
    const v2 = (15 + 0.05 * 300) ** 2;
    const prior = {
      mean: [m, b, 0],
      covariance: [
        [mm, mb, 0],
        [mb, bb, 0],
        [0, 0, v2],
      ],
    };
    const read = conditioned(prior.mean, prior.covariance, [1, 0, 1], M0 - 270, (0.07 * M0) ** 2);
    filter.visit({
      t: 0,
      cooling: null,
      recovered: null,
      repair: null,
      fill: { kind: "amount", into_g: 270, sd_g: 30, reading: { mean_g: M0, sd_g: 0.07 * M0 } },
    });
    const [c, mean] = [read.covariance, read.mean];
    expectState(stateAt(filter), {
      m: mean[0]! + 270 + mean[2]!,
      b: mean[1]!,
      mm: c[0]![0]! + 2 * c[0]![2]! + c[2]![2]!,
      mb: c[0]![1]! + c[1]![2]!,
      bb: c[1]![1]!,
    });
  });

  it("a recovery machine that pulled out 300 g reads 95 % of the charge and empties the system", () => {
    const filter = looked();
    const { m, b, mm, mb, bb } = stateAt(filter);
    const read = conditioned(
      [m, b],
      [
        [mm, mb],
        [mb, bb],
      ],
      [0.95, 0],
      300,
      19.5 ** 2,
    );
    filter.visit({ t: 0, cooling: null, recovered: { reading_g: 300, sd_g: 19.5 }, repair: null, fill: null });
    expectState(stateAt(filter), { m: 0, b: read.mean[1]!, mm: 0, mb: 0, bb: read.covariance[1]![1]! });
  });

  it("weighed by hand: full by weight, two years, then 400 g recovered", () => {
    const years = 731 / 365.25;
    const log: LogEntry[] = [
      { date: daysAgo(731), finish: "weighed" },
      { date: AS_OF, recovered_g: 400 },
    ];
    const posterior = posteriorOf(questionOf(carRequest(log)));
    const ln = Array.from({ length: NODES }, (_, n) => {
      const g = GROWTH[Math.floor(n / X_COUNT)]!;
      const k = X[n % X_COUNT]! * M0;
      const span = (rate: number) => (Math.abs(rate) < 1e-9 ? years : -Math.expm1(-rate * years) / rate);
      const [m, mm] = rectified(M0 - k * span(g), 15 ** 2 + (0.15 * k) ** 2 * span(2 * g));
      const s2 = 0.95 ** 2 * mm + 19.5 ** 2;
      const prior = -0.5 * ((LN_X[n % X_COUNT]! - LN_X_MEAN) / 1.1) ** 2 - 0.5 * ((g - 0.05) / 0.15) ** 2;
      return prior - 0.5 * ((400 - 0.95 * m) ** 2 / s2 + Math.log(s2));
    });
    const most = Math.max(...ln);
    const total = ln.reduce((sum, one) => sum + Math.exp(one - most), 0);
    expect(furthest(posterior.weight, (n) => Math.exp(ln[n]! - most) / total)).toBeLessThan(1e-11);
    expect(furthest(posterior.mean_m, () => 0)).toBe(0);
  });

  it("the mean after a known amount is at most 1.3 nameplates, before the look at an unknown finish", () => {
    const filter = freshFilter();
    const visit = { t: 0, cooling: null, recovered: null, repair: null };
    filter.visit({ ...visit, fill: { kind: "weighed", mean_g: M0, sd_g: 15 } });
    filter.visit({ ...visit, fill: { kind: "amount", into_g: 3 * M0, sd_g: 10, reading: null } });
    const capped = { ...START, m: 1.3 * M0, mm: 15 ** 2 + 10 ** 2 };
    expectState(
      stateAt(filter),
      integrated(capped, (m) => 0.005 + 0.99 * normalCdf((1.1 * M0 - m) / (0.05 * M0))),
    );
  });
});

describe("a repair", () => {
  const REPAIRED: LogEntry[] = [
    { date: daysAgo(730), finish: "weighed" },
    { date: AS_OF, cooling: "weak", finish: "weighed", repair: "condenser" },
  ];

  it("held with the chance that such repairs hold, as long as nothing was seen since", () => {
    expect(assess(carRequest(REPAIRED), { sensitivity: false }).leak.repair_held).toBeCloseTo(0.95, 12);
  });

  it("leaves a seep around 6.5 % a year where it held, and half the old belief, half none, where not", () => {
    const before = posteriorOf(questionOf(carRequest([REPAIRED[0]!, { date: AS_OF, cooling: "weak" }])));
    const after = posteriorOf(questionOf(carRequest(REPAIRED)));
    const gauss = (mean: number, sd: number) => {
      const parts = Array.from(LN_X, (ln_x) => Math.exp(-0.5 * ((ln_x - mean) / sd) ** 2));
      const total = parts.reduce((sum, one) => sum + one, 0);
      return parts.map((one) => one / total);
    };
    const [sound, unknown] = [gauss(Math.log(0.065), 0.5), gauss(LN_X_MEAN, 1.1)];
    for (let i = 0; i < X_COUNT; i++) {
      let [old, now] = [0, 0];
      for (let j = 0; j < GROWTH.length; j++) {
        old += before.weight[j * X_COUNT + i]!;
        now += after.weight[j * X_COUNT + i]!;
      }
      expect(now).toBeCloseTo(0.95 * sound[i]! + 0.05 * (0.5 * old + 0.5 * unknown[i]!), 12);
    }
  });

  it("gives every node the mean and covariance of the mixture", () => {
    const log: LogEntry[] = [{ date: daysAgo(730), finish: "weighed" }];
    const before = posteriorOf(questionOf(carRequest([...log, { date: AS_OF, cooling: "weak" }])));
    const after = posteriorOf(questionOf(carRequest([...log, { date: AS_OF, cooling: "weak", repair: "hose" }])));
    const mean = (of: (n: number) => number) => before.weight.reduce((sum, w, n) => sum + w * of(n), 0);
    const m = mean((n) => before.mean_m[n]!);
    const b = mean((n) => before.mean_b[n]!);
    const cov = mean((n) => before.cov_mb[n]! + (before.mean_m[n]! - m) * (before.mean_b[n]! - b));
    const var_b = mean((n) => before.var_b[n]! + (before.mean_b[n]! - b) ** 2);
    for (const n of [0, 700]) {
      expect(after.mean_b[n]).toBeCloseTo(b, 8);
      expect(after.var_b[n]! / var_b).toBeCloseTo(1, 10);
      expect(after.cov_mb[n]! / cov).toBeCloseTo(1, 2); // what is reported is rectified once more
    }
  });

  it("is surer with every ok look after it, and less with a weak one", () => {
    const held = (looks: LogEntry[]) => {
      const log: LogEntry[] = [
        { date: daysAgo(1500), finish: "weighed" },
        { date: daysAgo(800), cooling: "weak", finish: "weighed", repair: "evaporator" },
        ...looks,
      ];
      return assess(carRequest(log), { sensitivity: false }).leak.repair_held!;
    };
    const ok = (days: number): LogEntry => ({ date: daysAgo(days), cooling: "ok" });
    expect(held([ok(400)])).toBeGreaterThan(held([]));
    expect(held([ok(400), ok(0)])).toBeGreaterThan(held([ok(400)]));
    expect(held([{ date: daysAgo(400), cooling: "weak" }])).toBeLessThan(held([]));
  });
});

describe("a log", () => {
  const ENTRY = fc.record(
    {
      cooling: fc.constantFrom("ok", "weak", "short-cycling", "empty"),
      recovered_g: fc.integer({ min: 0, max: 650 }),
      added_g: fc.integer({ min: 0, max: 700 }),
      added_by: fc.constantFrom("cans", "scale"),
      finish: fc.constantFrom("weighed", "gauges", "low-side", "unknown"),
      repair: fc.constantFrom("joint", "condenser"),
    } as const,
    { requiredKeys: [] },
  );
  const LOGS = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 3000 }), ENTRY), { minLength: 1, maxLength: 8 })
    .map((rows) => rows.map(([days, entry]): LogEntry => ({ date: daysAgo(days), ...entry })))
    .map((log) => log.toSorted((a, b) => a.date.localeCompare(b.date)));
  const climate = { refrigerant: "R-134a", nameplate_g: M0, monthly_mean_c: SEASONS } as const;
  const answerTo = (log: LogEntry[]) => assess(carRequest(log, { vehicle: climate }), { sensitivity: false });

  it("is not changed by an entry that says nothing", () => {
    fc.assert(
      fc.property(LOGS, fc.integer({ min: 0, max: 3000 }), (log, days) => {
        const date = daysAgo(days);
        // Before the first entry nothing leaks yet; and in the quarter before a weak look any entry, even an empty one,
        // stands in the way of the look "it was still cooling".
        fc.pre(date >= log[0]!.date);
        fc.pre(
          !log.some((entry) => entry.cooling === "weak" && entry.date >= date && entry.date <= daysAgo(days - 92)),
        );
        const at = log.findIndex((entry) => entry.date > date);
        const split = log.toSpliced(at < 0 ? log.length : at, 0, { date });
        const [one, other] = [answerTo(log), answerTo(split)];
        const numbers = (answer: typeof one) =>
          [answer.leak.g_per_year, answer.leak.charge_now_g, answer.leak.class].flatMap((part) => Object.values(part));
        for (const [i, value] of numbers(one).entries()) {
          const here = numbers(other)[i]!;
          expect(Math.abs(here - value)).toBeLessThanOrEqual(1e-9 * Math.abs(value) + 1e-9);
        }
        expect(other.verdict.option).toBe(one.verdict.option);
        expect(other.forecast.next_low).toEqual(one.forecast.next_low);
      }),
      { numRuns: 30 },
    );
  });

  it("gives the same answer in any order of its lines, days apart", () => {
    const shuffled = LOGS.filter((log) => new Set(log.map(({ date }) => date)).size === log.length).chain((log) =>
      fc.tuple(fc.constant(log), fc.shuffledSubarray(log, { minLength: log.length })),
    );
    fc.assert(
      fc.property(shuffled, ([log, other]) => {
        expect(answerTo(other)).toEqual(answerTo(log));
      }),
      { numRuns: 20 },
    );
  });

  it.each([
    { look: "ok", slower: true },
    { look: "short-cycling", slower: false },
    { look: "empty", slower: false },
  ] as const)("read $look a second time says more of the same, and does not contradict itself", ({ look, slower }) => {
    for (const days of [100, 400, 1200]) {
      const fill: LogEntry = { date: daysAgo(days), finish: "weighed" };
      const seen: LogEntry = { date: AS_OF, cooling: look };
      const [unseen, once, twice] = [[fill], [fill, seen], [fill, seen, seen]].map(
        (log) => answerTo(log).leak.g_per_year.median,
      ) as [number, number, number];
      for (const step of [once - unseen, twice - once]) expect(slower ? -step : step).toBeGreaterThanOrEqual(-1e-9);
    }
  });

  it("read weak a second time makes the leak no slower", () => {
    // The first weak look after a fill also says that it cooled until lately, which speaks against fast leaks.
    for (const days of [100, 400, 1200]) {
      const log: LogEntry[] = [
        { date: daysAgo(days), finish: "weighed" },
        { date: AS_OF, cooling: "weak" },
      ];
      const [once, twice] = [log, [...log, log[1]!]].map((one) => answerTo(one).leak.g_per_year.median);
      expect(twice).toBeGreaterThanOrEqual(once! - 1e-9);
    }
  });

  it("of 200 visits with two readings each still weighs its nodes", () => {
    const visit: LogEntry = { date: daysAgo(30), recovered_g: 600, added_g: 600, added_by: "scale", finish: "gauges" };
    const many = answerTo(Array.from({ length: 200 }, () => visit)).leak.g_per_year;
    const few = answerTo(Array.from({ length: 2 }, () => visit)).leak.g_per_year;
    // All on one day: from the second on they tell nothing more of the leak.
    expect(many.median / few.median).toBeCloseTo(1, 9);
  });

  it("that contradicts itself 200 times still weighs its nodes", () => {
    const log = Array.from(
      { length: 200 },
      (_, i): LogEntry => ({ date: daysAgo(200 - i), cooling: i % 2 ? "ok" : "empty" }),
    );
    const { weight } = posteriorOf(questionOf(carRequest(log)));
    expect(weight.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 12);
  });

  it("scales with the vehicle where its errors do: no amounts, and scales that read by share", () => {
    // From 750 g on a weighed fill is known to 2 %, a recovery to 3 % of nameplate: below, to 15 g.
    const log = (nameplate_g: number): LogEntry[] => [
      { date: daysAgo(1800), finish: "weighed" },
      { date: daysAgo(1100), cooling: "weak", finish: "gauges" },
      { date: daysAgo(700), cooling: "weak", recovered_g: 0.55 * nameplate_g, finish: "weighed" },
      { date: daysAgo(300), cooling: "short-cycling", finish: "low-side" },
      { date: AS_OF, cooling: "ok" },
    ];
    const of = (nameplate_g: number) =>
      assess(
        { as_of: AS_OF, vehicle: { refrigerant: "R-12", nameplate_g, monthly_mean_c: SEASONS }, log: log(nameplate_g) },
        { sensitivity: false },
      );
    const [car, bus] = [of(800), of(9600)];
    expect(bus.leak.fraction_per_year.median / car.leak.fraction_per_year.median).toBeCloseTo(1, 9);
    expect(bus.leak.g_per_year.p95 / car.leak.g_per_year.p95).toBeCloseTo(12, 8);
    expect(bus.leak.charge_now_g.p05 / car.leak.charge_now_g.p05).toBeCloseTo(12, 6);
    expect(bus.leak.low_below_g / car.leak.low_below_g).toBeCloseTo(12, 9);
    expect(bus.leak.class.slow).toBeCloseTo(car.leak.class.slow, 10);
    expect(bus.forecast.next_low).toEqual(car.forecast.next_low);
    for (const [i, point] of car.forecast.curve.entries()) {
      expect(bus.forecast.curve[i]!.mean_g).toBeCloseTo(12 * point.mean_g, 7);
    }
  });

  it("`learned` adds up to what it took off the sd of ln x", () => {
    const log = toppedOffEvery(365, 3);
    const { learned } = posteriorOf(questionOf(carRequest(log)));
    const filter = (entries: LogEntry[]) => {
      const { weight } = posteriorOf(questionOf(carRequest(entries)));
      const mean = (of: (ln_x: number) => number) => weight.reduce((sum, w, n) => sum + w * of(LN_X[n % X_COUNT]!), 0);
      return Math.sqrt(mean((ln_x) => ln_x ** 2) - mean((ln_x) => ln_x) ** 2);
    };
    expect(learned).toHaveLength(4);
    expect(learned.reduce((sum, one) => sum + one, 0)).toBeCloseTo(filter([]) - filter(log), 9);
    // The first fill alone tells nothing of the leak; the way from the second to the third does.
    expect(learned[0]).toBeCloseTo(0, 12);
    expect(learned[1]).toBeGreaterThan(0.1);
  });
});

describe("it was still cooling a quarter of a year before a weak look", () => {
  const weighed: LogEntry = { date: daysAgo(730), finish: "weighed" };
  const median = (log: LogEntry[]) => assess(carRequest(log), { sensitivity: false }).leak.g_per_year.median;

  it("so saying it aloud, 0.25 years before, changes nothing", () => {
    // 91 days are 0.2491 years: nearest whole day to a quarter.
    const said = median([weighed, { date: daysAgo(91), cooling: "ok" }, { date: AS_OF, cooling: "weak" }]);
    const silent = median([weighed, { date: AS_OF, cooling: "weak" }]);
    expect(said / silent).toBeCloseTo(1, 2);
  });

  it("right after a fill that is not a quarter of a year old", () => {
    const filled: LogEntry = { date: daysAgo(60), finish: "unknown" };
    const { weight } = posteriorOf(questionOf(carRequest([filled, { date: AS_OF, cooling: "weak" }])));
    const filter = freshFilter();
    const t = -60 / 365.25;
    filter.visit({ t, cooling: null, recovered: null, repair: null, fill: { kind: "level", mean_g: 585, sd_g: 130 } });
    filter.look("ok");
    filter.move(t, 0);
    filter.look("weak");
    const expected = filter.weights();
    expect(furthest(weight, (n) => expected[n]!)).toBeLessThan(1e-12);
  });

  it("unless something low was seen since the fill, or an entry lies within the quarter", () => {
    const weak_before: LogEntry = { date: daysAgo(200), cooling: "weak" };
    const once = median([weighed, weak_before]);
    const again = median([weighed, weak_before, { date: AS_OF, cooling: "weak" }]);
    // Weak then and weak now: no look `ok` in between, so the second weak look only adds a little.
    expect(again / once).toBeGreaterThan(0.9);
    const between = median([weighed, { date: daysAgo(30) }, { date: AS_OF, cooling: "weak" }]);
    const silent = median([weighed, { date: AS_OF, cooling: "weak" }]);
    // Without the look it may have been weak for long: the leak looks faster.
    expect(between).toBeGreaterThan(1.05 * silent);
  });
});
