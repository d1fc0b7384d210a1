import { describe, expect, test } from "vitest";
import { fleetAnswer } from "../../../src/core/fleet/answer.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { plainOptions } from "../options/plain-options.ts";
import { carRequest, daysAgo, toppedOffEvery } from "../samples.ts";

/** Logs from tight to leaking within weeks, at a shop and at home. */
const CASES: [name: string, AssessRequest][] = [
  ["no log", carRequest()],
  ["a weighed fill and nothing since", carRequest([{ date: daysAgo(1500), finish: "weighed" }])],
  ["low twice a year, at a shop", carRequest(toppedOffEvery(180, 4), { plan: { service: "shop" } })],
  ["low every seven weeks", carRequest(toppedOffEvery(50, 6), { plan: { service: "shop", keep_years: 2.5 } })],
  ["low every seven weeks, from cans", carRequest(toppedOffEvery(50, 6), { prices: { can_seal: "pierced" } })],
  ["a carbon price", carRequest(toppedOffEvery(300, 3), { plan: { carbon_price_per_t: 200 } })],
];

describe("topping off for ever", () => {
  test.each(CASES)("%s: costs and releases what the plain walk of every low charge does", (_, request) => {
    const { as_is } = fleetAnswer(questionOf(request));
    const { for_ever } = plainOptions(request);
    const sum = (values: readonly number[]) => values.reduce((total, one) => total + one, 0);
    expect(as_is.expected_cost / sum(for_ever.cost_by_year)).toBeCloseTo(1, 5);
    expect(as_is.release_g / sum(for_ever.release_by_year_g)).toBeCloseTo(1, 5);
  });

  test("this year's money is the plain walk's first year, nothing discounted", () => {
    const request = carRequest(toppedOffEvery(120, 4), {
      plan: { service: "shop", keep_years: 4 },
      // The hazard of 0.02 a year is made up for.
      assumptions: { discount: -0.02 + 1e-12 },
    });
    const { as_is } = fleetAnswer(questionOf(request));
    expect(as_is.outlay_first_year / plainOptions(request).for_ever.cost_by_year[0]!).toBeCloseTo(1, 3);
  });

  // The leak that the option stops with a repair goes on here.
  test("a fast leak releases far more than the option that ends in a repair", () => {
    const { as_is, options } = fleetAnswer(
      questionOf(carRequest(toppedOffEvery(50, 6), { plan: { service: "shop" } })),
    );
    const top_off = options.find(({ id }) => id === "top-off")!;
    expect(as_is.release_g).toBeGreaterThan(4 * top_off.release_g);
    // By hand: six charges of 40 % of 650 g in 300 days are 1.9 kg a year; the likely leak is near it.
    expect(as_is.release_g / 5).toBeGreaterThan(1300);
  });
});
