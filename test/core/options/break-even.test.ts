import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { GROWTH, LN_X, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { monthTable } from "../../../src/core/leak/month-table.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { emptyEvents, eventsOf } from "../../../src/core/options/node-events.ts";
import { outlookOf } from "../../../src/core/options/outlook.ts";
import { placePrices, tallyCostWithCarbon } from "../../../src/core/options/tally.ts";
import { type AssessAnswer, type AssessRequest, LOCATION_IDS } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { nodePaths } from "../../support/node-paths.ts";
import { validRequests } from "../../support/requests.ts";
import { carRequest, daysAgo, optionOf, SEASONS, toppedOffEvery } from "../samples.ts";

const answerTo = (request: AssessRequest) => assess(request, { sensitivity: false });
const gapOf = (answer: AssessAnswer) =>
  optionOf(answer, "top-off").expected_cost_with_carbon - optionOf(answer, "repair").expected_cost_with_carbon;

const vehicle = { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c: SEASONS } as const;
const CARS: { name: string; request: AssessRequest }[] = [
  {
    name: "every four months, floor off",
    request: carRequest(toppedOffEvery(120, 3), { vehicle, plan: { floor_months: 0 } }),
  },
  { name: "yearly, from cans", request: carRequest(toppedOffEvery(365, 3), { vehicle }) },
  { name: "every two years, at a shop", request: carRequest(toppedOffEvery(730, 2), { plan: { service: "shop" } }) },
  {
    name: "every eight months, a priced leak, kept nine years",
    request: carRequest(toppedOffEvery(243, 3), { plan: { carbon_price_per_t: 60, keep_years: 9 } }),
  },
];

describe("asked again at the break-even, both cost the same", () => {
  const atFactor = (request: AssessRequest, factor: number): AssessRequest => {
    const { price } = questionOf(request).prices;
    const locations = Object.fromEntries(LOCATION_IDS.map((id, l) => [id, { price: price[l]! * factor }]));
    return { ...request, prices: { ...request.prices, locations } };
  };

  it.each(CARS)("repair_price_factor: $name", ({ request }) => {
    // Running low can cost a compressor, whose price is among those scaled: left out, so that only repairs scale.
    const asked = { ...request, assumptions: { damage_chance: 0 } };
    const factor = answerTo(asked).break_even.repair_price_factor;
    if (factor === null) {
      // Topping off is cheaper even where the repair itself is free, or repairing at twenty times its price.
      const [free, dear] = [0, 20].map((one) => gapOf(answerTo(atFactor(asked, one))));
      expect(free! < 0 || dear! > 0).toBe(true);
      return;
    }
    const here = answerTo(atFactor(asked, factor));
    expect(Math.abs(gapOf(here))).toBeLessThan(1e-8 * optionOf(here, "repair").expected_cost_with_carbon);
    expect(gapOf(answerTo(atFactor(asked, 0.98 * factor)))).toBeGreaterThan(0);
    expect(gapOf(answerTo(atFactor(asked, 1.02 * factor)))).toBeLessThan(0);
  });

  it("repair_price_factor is there for most of them", () => {
    const factors = CARS.map(({ request }) => answerTo(request).break_even.repair_price_factor);
    expect(factors.filter((factor) => factor !== null).length).toBeGreaterThanOrEqual(3);
  });

  it.each(CARS)("carbon_price_per_t: $name", ({ request }) => {
    const price = answerTo(request).break_even.carbon_price_per_t!;
    expect(price).toBeGreaterThan(0);
    const at = (carbon_price_per_t: number) => answerTo({ ...request, plan: { ...request.plan, carbon_price_per_t } });
    expect(Math.abs(gapOf(at(price)))).toBeLessThan(1e-8 * optionOf(at(price), "repair").expected_cost_with_carbon);
    expect(gapOf(at(0.98 * price))).toBeLessThan(0);
    expect(gapOf(at(1.02 * price))).toBeGreaterThan(0);
  });

  it.each(CARS.filter(({ request }) => !request.plan?.carbon_price_per_t))("season_worth: $name", ({ request }) => {
    const worth = answerTo(request).break_even.season_worth!;
    const here = answerTo({ ...request, plan: { ...request.plan, season_worth: worth } });
    const others = here.options.filter(({ id, offered }) => offered && id !== "live-without");
    const least = Math.min(...others.map((one) => one.expected_cost_with_carbon));
    expect(optionOf(here, "live-without").expected_cost_with_carbon).toBeCloseTo(least, 8);
  });

  it.each(CARS)("leak_g_per_year: $name", ({ request }) => {
    const { break_even } = answerTo(request);
    const question = questionOf(request);
    const posterior = posteriorOf(question);
    const { futures, tags, known } = outlookOf(question, posterior);
    const mean = (of: (n: number) => number) => posterior.weight.reduce((sum, w, n) => sum + w * of(n), 0);
    const growth = mean((n) => GROWTH[Math.floor(n / X_COUNT)]!);
    const { clocks } = posterior;
    const table = monthTable(clocks.season, [clocks.reading(growth)], futures.spending.horizon);
    const place = placePrices(known.belief, tags, tags.locate_fee);
    // One car of mean charge: what topping off by its best rule costs more than repairing, at a leak.
    const gapAt = (k: number) => {
      const node = {
        k,
        mean_m: mean((n) => posterior.mean_m[n]!),
        mean_b: mean((n) => posterior.mean_b[n]!),
        clock: 0,
      };
      const events = emptyEvents();
      eventsOf(events, node, futures.start, table, futures.spending.horizon, question.nameplate_g);
      const tallies = nodePaths(events, node, futures.rules, futures.spending, table);
      const costs = futures.rules.map((_, rule) => tallyCostWithCarbon(tallies, rule, tags, place));
      return Math.min(...costs) - tallyCostWithCarbon(futures.repair_now, 0, tags, place);
    };
    const gaps = Array.from(LN_X, (ln_x) => gapAt(Math.exp(ln_x) * question.nameplate_g));
    const crossing = gaps.findIndex((gap, i) => i > 0 && gaps[i - 1]! < 0 && gap >= 0);
    if (crossing < 0) {
      expect(break_even.leak_g_per_year).toBeNull();
      return;
    }
    const [below, above] = [LN_X[crossing - 1]!, LN_X[crossing]!];
    const part = -gaps[crossing - 1]! / (gaps[crossing]! - gaps[crossing - 1]!);
    const ln_x = below + (above - below) * part;
    expect(break_even.leak_g_per_year! / (Math.exp(ln_x) * question.nameplate_g)).toBeCloseTo(1, 10);
  });
});

describe("a reported break-even is one, for any request", () => {
  it("carbon_price_per_t", () => {
    fc.assert(
      fc.property(validRequests({ max_entries: 4 }), (request) => {
        const price = answerTo(request).break_even.carbon_price_per_t;
        // Beyond what the contract takes there is nothing to ask again.
        if (price === null || price > 10_000) return;
        const here = answerTo({ ...request, plan: { ...request.plan, carbon_price_per_t: price } });
        const { expected_cost_with_carbon } = optionOf(here, "repair");
        expect(Math.abs(gapOf(here))).toBeLessThanOrEqual(1e-7 * expected_cost_with_carbon);
      }),
      { numRuns: 60 },
    );
  });
});

describe("no break-even", () => {
  it("of a carbon price where, at any, topping off by some rule is still cheaper", () => {
    // Topped off every two years and full now. Topping off for ever would meet the repair's cost at a high price of
    // carbon, but there a rule that repairs at the next low is cheaper than repairing today.
    const log = [
      ...toppedOffEvery(730, 2).slice(0, 2),
      { date: daysAgo(0), cooling: "ok", added_g: 100, finish: "gauges" } as const,
    ];
    const at = (carbon_price_per_t: number) =>
      answerTo(carRequest(log, { plan: { keep_years: 3, carbon_price_per_t }, assumptions: { seep_fraction: 0.08 } }));
    for (const price of [0, 100, 10_000, 76_998, 1e6, 1e8]) expect(gapOf(at(price))).toBeLessThan(0);
    expect(at(0).break_even.carbon_price_per_t).toBeNull();
  });

  it("of repair prices where topping off wins even against a free repair", () => {
    const { break_even } = answerTo(
      carRequest(toppedOffEvery(1200, 2), {
        plan: { keep_years: 1, tools_owned: true },
        prices: { repair_service: 2000 },
      }),
    );
    expect(break_even.repair_price_factor).toBeNull();
  });

  it("of a carbon price where repairing is cheaper anyhow", () => {
    const answer = answerTo(
      carRequest(toppedOffEvery(120, 3), { plan: { floor_months: 0, keep_years: 15, service: "shop" } }),
    );
    expect(gapOf(answer)).toBeGreaterThan(0);
    expect(answer.break_even.carbon_price_per_t).toBeNull();
  });

  it("of a season where nothing is offered", () => {
    const asked = carRequest(toppedOffEvery(100, 3), { plan: { barred: ["repair"] } });
    expect(answerTo(asked).break_even.season_worth).toBeNull();
  });
});
