import { expect, test } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { outlookOfRequest } from "../../../src/core/options/outlook.ts";
import { repairWorth } from "../../../src/core/options/repair-worth.ts";
import { pageAnswer } from "../../../src/core/page-answer.ts";
import { type AssessRequest, LOCATION_IDS } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest, toppedOffEvery } from "../samples.ts";

/** What one location's repair costs on the day: parts and labor, and what it needs of a full service. */
function pricesOnTheDay(request: AssessRequest): number[] {
  const { prices, nameplate_g } = questionOf(request);
  const full_service = prices.repair_service + prices.shop_refrigerant_per_g * nameplate_g;
  return prices.price.map((price, l) => price + prices.service[l]! * full_service);
}

const REQUESTS = [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15].flatMap((keep_years) =>
  [200, 240, 300, 365, 500].flatMap((days) =>
    (["diy", "shop"] as const).map((service) =>
      carRequest(toppedOffEvery(days, 3), {
        plan: { keep_years, service, carbon_price_per_t: days === 300 ? 190 : 0 },
      }),
    ),
  ),
);

test("after an advised test, what costs less than repair_worth is repaired, and what costs more is topped off", () => {
  const seen = { "dye-test": 0, "electronic-test": 0 };
  let agreed = 0;
  let differed = 0;
  for (const request of REQUESTS) {
    const outlook = outlookOfRequest(request);
    const worth = repairWorth(outlook);
    const { option } = outlook.comparison.verdict;
    if (option !== "dye-test" && option !== "electronic-test") {
      expect(worth).toBeNull();
      continue;
    }
    if (worth === null) continue;
    seen[option]++;
    const prices = pricesOnTheDay(request);
    for (const { belief, course } of outlook.comparison.options.find(({ id }) => id === option)?.branches ?? []) {
      const found = belief.findIndex((share) => share > 0.95);
      // Near the limit its approximations decide.
      if (found < 0 || Math.abs(prices[found]! / worth - 1) < 0.05) continue;
      if ((course !== "top-off") === prices[found]! < worth) agreed++;
      else differed++;
    }
  }
  expect(seen["dye-test"]).toBeGreaterThan(3);
  expect(seen["electronic-test"]).toBeGreaterThan(3);
  expect(differed).toBe(0);
  expect(agreed).toBeGreaterThan(20);
});

test("asked again with the leak found, a price just below it is repaired, one just above it is topped off", () => {
  const joint = LOCATION_IDS.indexOf("joint");
  const asked = REQUESTS.filter(
    (request) => outlookOfRequest(request).comparison.verdict.option === "electronic-test",
  ).slice(0, 3);
  expect(asked).toHaveLength(3);
  for (const request of asked) {
    const worth = pageAnswer(request, { sensitivity: false }).repair_worth!;
    const service = pricesOnTheDay(request)[joint]! - questionOf(request).prices.price[joint]!;
    const foundAt = (price_on_the_day: number) => {
      const { options } = assess(
        {
          ...request,
          findings: [
            { date: request.as_of, test: "electronic", location: "joint", result: "leak" },
            { date: request.as_of, test: "visual", location: "joint", result: "leak" },
          ],
          prices: { ...request.prices, locations: { joint: { price: price_on_the_day - service } } },
        },
        { sensitivity: false },
      );
      const cost = (id: string) => options.find((one) => one.id === id)!.expected_cost_with_carbon;
      return cost("repair") - cost("top-off");
    };
    expect(foundAt(0.9 * worth)).toBeLessThan(0);
    expect(foundAt(1.1 * worth)).toBeGreaterThan(0);
  }
});
