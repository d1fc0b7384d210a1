import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { type AssessRequest, LOCATION_IDS } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest, daysAgo, optionOf, SEASONS, toppedOffEvery } from "../samples.ts";

/** The same request with one assumption at `value`: what a person would type to see it (contract, `sensitivity`). */
function changed(request: AssessRequest, assumption: string, value: number): AssessRequest {
  const { prices } = questionOf(request);
  const withPrices = (change: AssessRequest["prices"]): AssessRequest => ({
    ...request,
    prices: { ...request.prices, ...change },
  });
  switch (assumption) {
    case "keep_years":
      return { ...request, plan: { ...request.plan, keep_years: value } };
    case "repair_prices":
      return withPrices({
        repair_service: prices.repair_service * value,
        locations: Object.fromEntries(
          LOCATION_IDS.map((id, l) => [id, { ...request.prices?.locations?.[id], price: prices.price[l]! * value }]),
        ),
      });
    case "refrigerant_price":
      return withPrices({
        can_price: prices.can_price * value,
        shop_refrigerant_per_g: prices.shop_refrigerant_per_g * value,
      });
    case "hour_worth":
      return withPrices({ hour_worth: value });
    case "carbon_price_per_t":
      return { ...request, plan: { ...request.plan, carbon_price_per_t: value } };
    default:
      return { ...request, assumptions: { ...request.assumptions, [assumption]: value } };
  }
}

/** Assumptions in the order that breaks ties, with their low and high values. */
const ROWS: [assumption: string, low: number, high: number][] = [
  ["keep_years", 0.5, 2],
  ["repair_prices", 0.7, 1.3],
  ["refrigerant_price", 0.7, 1.5],
  ["low_fraction", 0.5, 0.7],
  ["discount", 0, 0.07],
  ["refrigerant_growth", 0, 0.15],
  ["damage_chance", 0, 0.03],
  ["relapse_rate", 0, 0.08],
  ["seep_fraction", 0.024, 0.1],
  ["hour_worth", 0, 40],
  ["carbon_price_per_t", 0, 190],
];

const vehicle = { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c: SEASONS } as const;
const REQUESTS: { name: string; request: AssessRequest }[] = [
  { name: "yearly, from cans", request: carRequest(toppedOffEvery(365, 3), { vehicle }) },
  {
    name: "repaired, weak again, at a shop, with findings and prices of its own",
    request: carRequest(
      [
        { date: daysAgo(1400), finish: "weighed" },
        { date: daysAgo(700), cooling: "weak", recovered_g: 380, finish: "weighed", repair: "hose" },
        { date: daysAgo(0), cooling: "weak", added_g: 250, added_by: "scale", finish: "low-side" },
      ],
      {
        vehicle,
        findings: [{ date: daysAgo(10), test: "dye", location: "joint", result: "leak" }],
        plan: { service: "shop", keep_years: 12, season_worth: 80, carbon_price_per_t: 30, other_trouble: "some" },
        prices: { locations: { joint: { price: 250, holds: 0.8 }, hose: { share: 0.4 } } },
        assumptions: { low_fraction: 0.65, heel: 0.05 },
      },
    ),
  },
  {
    name: "fast, guarded, pierced cans, floor of nine months, kept four months",
    request: carRequest(toppedOffEvery(110, 3), {
      plan: { floor_months: 9, keep_years: 0.33, barred: ["electronic-test"] },
      prices: { can_seal: "pierced" },
    }),
  },
];

describe("every row of the sensitivity is a full run with that value alone changed", () => {
  it.each(REQUESTS)("$name", ({ request }) => {
    const { sensitivity } = assess(request);
    const keep_years = request.plan?.keep_years ?? 5;
    const within = (years: number) => Math.min(20, Math.max(0.25, years));
    expect(new Set(sensitivity.map(({ assumption }) => assumption))).toEqual(new Set(ROWS.map(([name]) => name)));
    for (const [assumption, ...values] of ROWS) {
      const row = sensitivity.find((one) => one.assumption === assumption)!;
      for (const [side, given] of [row.low, row.high].map((one, i) => [one, values[i]!] as const)) {
        const value = assumption === "keep_years" ? within(keep_years * given) : given;
        expect(side.value).toBe(value);
        const answer = assess(changed(request, assumption, value), { sensitivity: false });
        const gap =
          optionOf(answer, "top-off").expected_cost_with_carbon - optionOf(answer, "repair").expected_cost_with_carbon;
        expect(Math.abs(side.gap - gap), `${assumption} at ${value}`).toBeLessThan(1e-8 * (1 + Math.abs(gap)));
        expect(side.verdict).toBe(answer.verdict.option);
      }
    }
  });

  it.each(REQUESTS)("largest swing first: $name", ({ request }) => {
    const { sensitivity } = assess(request);
    const swings = sensitivity.map(({ low, high }) => Math.abs(high.gap - low.gap));
    expect(swings).toEqual(swings.toSorted((a, b) => b - a));
  });

  it("rows that move nothing keep the order of the list", () => {
    // At a shop with no carbon price the worth of an hour moves nothing; without money to discount for, nor do others.
    const { sensitivity } = assess(
      carRequest([{ date: daysAgo(0), finish: "weighed" }], {
        plan: { service: "shop", keep_years: 0.25 },
        prices: { shop_refrigerant_per_g: 0 },
      }),
    );
    const still = sensitivity.filter(({ low, high }) => low.gap === high.gap).map(({ assumption }) => assumption);
    expect(still).toContain("refrigerant_price");
    expect(still).toContain("hour_worth");
    const order = ROWS.map(([name]) => name);
    expect(still).toEqual(still.toSorted((a, b) => order.indexOf(a) - order.indexOf(b)));
  });

  it("can be left out", () => {
    expect(assess(REQUESTS[0]!.request, { sensitivity: false }).sensitivity).toEqual([]);
    const { sensitivity: _, ...whole } = assess(REQUESTS[0]!.request);
    const { sensitivity: __, ...without } = assess(REQUESTS[0]!.request, { sensitivity: false });
    expect(without).toEqual(whole);
  });
});
