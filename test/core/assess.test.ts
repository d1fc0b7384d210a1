import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../src/core/assess.ts";
import { nodesOf } from "../../src/core/leak/nodes.ts";
import { posteriorOf } from "../../src/core/leak/posterior.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import {
  type AssessAnswer,
  type AssessRequest,
  LOCATION_IDS,
  type LogEntry,
} from "../../src/core/question/contract.ts";
import { questionOf } from "../../src/core/question/question.ts";
import { validRequests } from "../support/requests.ts";
import { AS_OF, carRequest, daysAgo, optionOf, SEASONS, toppedOffEvery } from "./samples.ts";

const total = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0);

/** Every number in an answer that is none, by its path. */
function notFinite(value: unknown, path = "answer"): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (value === undefined) return [`${path}: undefined`];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([name, one]) => notFinite(one, `${path}.${name}`));
}

function expectRising(values: readonly (number | string)[]) {
  for (let i = 1; i < values.length; i++) expect(values[i]! >= values[i - 1]!, values.join(" ≤ ")).toBe(true);
}

/** What holds for every answer. */
function expectSound(request: AssessRequest, answer: AssessAnswer) {
  expect(notFinite(answer)).toEqual([]);
  const { leak, forecast, locations, options, value_of } = answer;
  const { option, guard } = answer.verdict;

  // Probabilities.
  expect(total(Object.values(leak.class))).toBeCloseTo(1, 12);
  for (const share of Object.values(leak.class)) expect(share).toBeGreaterThanOrEqual(-1e-12);
  expect(locations.map(({ id }) => id)).toEqual([...LOCATION_IDS]);
  expect(total(locations.map(({ probability }) => probability))).toBeCloseTo(1, 12);
  const offered = options.filter((one) => one.offered);
  if (offered.length > 0) expect(total(offered.map((one) => one.probability_cheapest))).toBeCloseTo(1, 12);
  for (const one of options) {
    expect(one.offered).toBe(one.not_offered_because === null);
    expect(one.probability_cheapest).toBeGreaterThanOrEqual(0);
    expect(one.leads_to_repair ?? 0).toBeLessThanOrEqual(1 + 1e-12);
  }
  if (leak.repair_held !== null) {
    expect(leak.repair_held).toBeGreaterThanOrEqual(0);
    expect(leak.repair_held).toBeLessThanOrEqual(1 + 1e-12);
  }

  // Quantiles in order, charges not below zero.
  for (const of of [leak.g_per_year, leak.fraction_per_year]) {
    expectRising([0, of.p05, of.p25, of.median, of.p75, of.p95]);
  }
  expectRising([leak.growth_per_year.p05, leak.growth_per_year.p95]);
  expectRising([0, leak.charge_now_g.p05, leak.charge_now_g.p95]);
  expect(leak.charge_now_g.mean).toBeGreaterThanOrEqual(0);
  const { p05, median, p95 } = leak.full_charge_lasts_months;
  expectRising([0, p05, median, p95]);
  const { p10, p50, p90 } = forecast.next_low;
  expectRising([answer.as_of, p10 ?? "9999", p50 ?? "9999", p90 ?? "9999"]);
  const entries = request.log?.length ?? 0;
  expect(forecast.curve).toHaveLength(2 * entries + 9);
  expectRising(forecast.curve.map(({ date }) => date));
  for (const point of forecast.curve) expectRising([0, point.p05_g, point.mean_g, point.p95_g]);
  expect(leak.learned).toHaveLength(entries);

  // Costs and releases.
  for (const one of options) {
    const allowed = 1e-9 * Math.max(1, one.expected_cost, one.release_g);
    expect(Math.abs(total(one.cost_by_year) - one.expected_cost)).toBeLessThanOrEqual(allowed);
    expect(Math.abs(total(one.release_by_year_g) - one.release_g)).toBeLessThanOrEqual(allowed);
    for (const part of [...one.cost_by_year, ...one.release_by_year_g]) expect(part).toBeGreaterThanOrEqual(-allowed);
    expectRising([one.cost_p05, one.cost_p95]);
    expect(one.expected_cost_with_carbon).toBeGreaterThanOrEqual(one.expected_cost);
    expect(one.cost_by_year).toHaveLength(Math.ceil(request.plan?.keep_years ?? 5));
  }

  // Knowing more never harms, and a test tells no more than knowing the place.
  for (const value of [value_of.perfect_leak_rate, value_of.perfect_location]) {
    if (value !== null) expect(value).toBeGreaterThanOrEqual(0);
  }
  // Without pressure a test may lead to a repair that a rule bars: then it has nothing to be compared with.
  const repair_offered = options.some(({ id, offered: open }) => id === "repair" && open);
  if (value_of.perfect_location !== null && (guard !== "empty" || repair_offered)) {
    const room = value_of.perfect_location + 1e-7 * (1 + value_of.perfect_location);
    const price = request.prices?.electronic_price ?? 110;
    if (value_of.electronic_test_net !== null) expect(value_of.electronic_test_net + price).toBeLessThanOrEqual(room);
    if (value_of.look_over !== null) expect(value_of.look_over).toBeLessThanOrEqual(room);
  }

  // The verdict is among what is offered.
  if (guard === "readings" || guard === "surprise") expect(option).toBe("check-first");
  else if (offered.length > 0) expect(offered.map(({ id }) => id)).toContain(option);
  else expect(option).toBeNull();
}

describe("assess(request), for any request that the contract allows", () => {
  it("is sound: finite, adding up, in order", () => {
    fc.assert(
      fc.property(validRequests(), (request) => expectSound(request, assess(request))),
      { numRuns: 120 },
    );
  });

  it("is sound for long logs", () => {
    fc.assert(
      fc.property(validRequests({ max_entries: 200 }), (request) =>
        expectSound(request, assess(request, { sensitivity: false })),
      ),
      { numRuns: 15 },
    );
  });

  it("gives the same bytes twice, and leaves the request as it was", () => {
    fc.assert(
      fc.property(validRequests(), (request) => {
        const before = JSON.stringify(request);
        expect(JSON.stringify(assess(request))).toBe(JSON.stringify(assess(structuredClone(request))));
        expect(JSON.stringify(request)).toBe(before);
      }),
      { numRuns: 20 },
    );
  });

  it("takes null for absent", () => {
    fc.assert(
      fc.property(validRequests(), (request) => {
        const dense = (value: unknown): unknown => {
          if (Array.isArray(value)) return value.map(dense);
          if (typeof value !== "object" || value === null) return value;
          return Object.fromEntries(
            Object.entries(value).flatMap(([name, one]) => (one === null ? [] : [[name, dense(one)]])),
          );
        };
        expect(assess(dense(request) as AssessRequest, { sensitivity: false })).toEqual(
          assess(request, { sensitivity: false }),
        );
      }),
      { numRuns: 20 },
    );
  });

  it("weighs its nodes to one", () => {
    fc.assert(
      fc.property(validRequests(), (request) => {
        const question = questionOf(request);
        const posterior = posteriorOf(question);
        expect(total([...posterior.weight])).toBeCloseTo(1, 12);
        const nodes = nodesOf(posterior, question.nameplate_g);
        expect(total([...nodes.weight])).toBeCloseTo(1, 12);
        for (const of of [posterior.mean_m, posterior.var_m, posterior.var_b])
          expect(Math.min(...of)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 40 },
    );
  });
});

describe("what changes a question changes its answer in one way only", () => {
  it("dearer repairs never shrink the cost of repair minus that of top-off, with no chance of damage", () => {
    const factor = fc.integer({ min: 100, max: 500 }).map((hundredths) => hundredths / 100);
    fc.assert(
      fc.property(validRequests({ max_entries: 5 }), factor, (request, times) => {
        const { price } = questionOf(request).prices;
        const priced = (by: number): AssessRequest => ({
          ...request,
          assumptions: { ...request.assumptions, damage_chance: 0 },
          prices: {
            ...request.prices,
            locations: Object.fromEntries(
              LOCATION_IDS.map((id, l) => [id, { ...request.prices?.locations?.[id], price: price[l]! * by }]),
            ),
          },
        });
        const apart = (by: number) => {
          const { options } = assess(priced(by), { sensitivity: false });
          return options[0]!.expected_cost_with_carbon - options[3]!.expected_cost_with_carbon;
        };
        const before = apart(1);
        expect(apart(times)).toBeGreaterThanOrEqual(before - 1e-7 * (1 + Math.abs(before)));
      }),
      { numRuns: 40 },
    );
  });

  it("all money times seven is every cost times seven, and the same grams", () => {
    // The verdict may change: it weighs 15 and 25 units of money.
    fc.assert(
      fc.property(validRequests({ max_entries: 5 }), (request) => {
        const { prices, plan } = questionOf(request);
        const money = (times: number): AssessRequest => ({
          ...request,
          plan: {
            ...request.plan,
            carbon_price_per_t: plan.carbon_price_per_t * times,
            season_worth: plan.season_worth === null ? null : plan.season_worth * times,
          },
          prices: {
            ...request.prices,
            can_price: prices.can_price * times,
            can_deposit: prices.can_deposit * times,
            hour_worth: prices.hour_worth * times,
            tools_price: prices.tools_price * times,
            shop_topoff_fee: prices.shop_topoff_fee * times,
            shop_refrigerant_per_g: prices.shop_refrigerant_per_g * times,
            repair_service: prices.repair_service * times,
            locate_fee: prices.locate_fee * times,
            dye_price: prices.dye_price * times,
            dye_inspection_fee: prices.dye_inspection_fee * times,
            electronic_price: prices.electronic_price * times,
            locations: Object.fromEntries(
              LOCATION_IDS.map((id, l) => [
                id,
                { ...request.prices?.locations?.[id], price: prices.price[l]! * times },
              ]),
            ),
          },
        });
        const [one, seven] = [1, 7].map((times) => assess(money(times), { sensitivity: false })) as [
          AssessAnswer,
          AssessAnswer,
        ];
        for (const [o, option] of one.options.entries()) {
          const here = seven.options[o]!;
          expect(here.expected_cost).toBeCloseTo(7 * option.expected_cost, 5);
          expect(here.cost_p95).toBeCloseTo(7 * option.cost_p95, 5);
          expect(here.release_g).toBeCloseTo(option.release_g, 5);
        }
        expect(seven.leak).toEqual(one.leak);
      }),
      { numRuns: 20, seed: 20_260_501 },
    );
  });

  it("four years later, to the day, it is the same answer with later dates", () => {
    const later = (iso: string) => isoFromDay(dayNumber(iso) + 1461);
    const shifted = (value: unknown): unknown => {
      if (typeof value === "string" && /^\d{4}-\d{2}-\d{2}$/.test(value)) return later(value);
      if (Array.isArray(value)) return value.map(shifted);
      if (typeof value !== "object" || value === null) return value;
      return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, shifted(one)]));
    };
    // The calendar repeats every 1461 days as long as no century without a leap day comes in between.
    const requests = validRequests().filter(({ as_of }) => as_of === AS_OF);
    fc.assert(
      fc.property(requests, (request) => {
        expect(assess(shifted(request) as AssessRequest, { sensitivity: false })).toEqual(
          shifted(assess(request, { sensitivity: false })),
        );
      }),
      { numRuns: 15 },
    );
  });

  it("shares of places count in proportion only", () => {
    const shared = (times: number) =>
      assess(
        carRequest(toppedOffEvery(400, 2), {
          prices: { locations: Object.fromEntries(LOCATION_IDS.map((id, l) => [id, { share: times * (l + 1) }])) },
        }),
        { sensitivity: false },
      );
    const [one, many] = [shared(1), shared(1000)];
    expect(one.locations.map(({ probability }) => probability)).toEqual([1, 2, 3, 4, 5, 6].map((part) => part / 21));
    for (const [o, option] of one.options.entries()) {
      expect(many.options[o]!.expected_cost).toBeCloseTo(option.expected_cost, 8);
    }
  });
});

describe("what a person would expect of an answer", () => {
  const vehicle = { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c: SEASONS } as const;
  const ask = (log: LogEntry[], changes: Partial<AssessRequest> = {}) =>
    assess(carRequest(log, { vehicle, ...changes }), { sensitivity: false });

  it("spells half as long: about twice the leak, low sooner, dearer to top off", () => {
    const [slow, fast] = [ask(toppedOffEvery(600, 3)), ask(toppedOffEvery(300, 3))];
    expect(fast.leak.g_per_year.median / slow.leak.g_per_year.median).toBeGreaterThan(1.6);
    expect(fast.leak.g_per_year.median / slow.leak.g_per_year.median).toBeLessThan(2.4);
    expect(optionOf(fast, "top-off").expected_cost).toBeGreaterThan(optionOf(slow, "top-off").expected_cost);
    expect(optionOf(fast, "top-off").release_g).toBeGreaterThan(optionOf(slow, "top-off").release_g);
  });

  it("kept longer: topping off and repairing both cost more", () => {
    const costs = [1, 3, 5, 10, 20].map((keep_years) => ask(toppedOffEvery(365, 3), { plan: { keep_years } }).options);
    expectRising(costs.map(([repair]) => repair!.expected_cost));
    expectRising(costs.map((options) => options[3]!.expected_cost));
  });

  it("without a log: the prior, said with the width it has", () => {
    const { leak, forecast, options } = assess(carRequest(), { sensitivity: false });
    expect(leak.g_per_year.p95 / leak.g_per_year.p05).toBeGreaterThan(20);
    expect(leak.learned).toEqual([]);
    expect(leak.regulation).toEqual({ annualizing_percent: null, rolling_percent: null });
    expect(forecast.curve).toHaveLength(9);
    expect(optionOf({ options } as AssessAnswer, "top-off").watch_date).not.toBeUndefined();
  });

  it("a date that does not exist is refused", () => {
    expect(() => ask([{ date: "2026-02-30" }])).toThrow(RangeError);
    expect(() => assess({ ...carRequest(), as_of: "yesterday" })).toThrow(RangeError);
  });

  it("the release of an option in CO₂e by the report chosen (IPCC AR4, AR5, AR6: 1430, 1300, 1530)", () => {
    for (const [gwp, times] of [
      ["AR4", 1.43],
      ["AR5", 1.3],
      ["AR6", 1.53],
    ] as const) {
      for (const one of ask(toppedOffEvery(365, 3), { plan: { gwp } }).options) {
        expect(one.co2e_kg).toBeCloseTo(one.release_g * times, 9);
      }
    }
  });

  it("carbon at 190 a tonne adds 190·CO₂e to what is compared", () => {
    for (const one of ask(toppedOffEvery(365, 3), { plan: { carbon_price_per_t: 190 } }).options) {
      expect(one.expected_cost_with_carbon - one.expected_cost).toBeCloseTo((190 * one.co2e_kg) / 1000, 8);
    }
  });

  it("an entry today that fills it up moves the next low charge away", () => {
    const low = ask(toppedOffEvery(365, 3));
    const filled = ask([...toppedOffEvery(365, 3), { date: daysAgo(0), added_g: 250, finish: "gauges" }]);
    expect(dayNumber(filled.forecast.next_low.p50!)).toBeGreaterThan(dayNumber(low.forecast.next_low.p50!) + 180);
  });
});
