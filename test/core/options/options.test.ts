import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { validRequests } from "../../support/requests.ts";
import { carRequest, toppedOffEvery } from "../samples.ts";
import { plainOptions } from "./plain-options.ts";

function expectNear(here: number, expected: number, what: string) {
  const allowed = 1e-8 * Math.max(1, Math.abs(expected));
  expect(Math.abs(here - expected), `${what}: ${here}, not ${expected}`).toBeLessThanOrEqual(allowed);
}

function expectPlain(request: AssessRequest) {
  const plain = plainOptions(request);
  const answer = assess(request, { sensitivity: false });
  expect(answer.options.map(({ id }) => id)).toEqual(plain.options.map(({ id }) => id));
  for (const [o, expected] of plain.options.entries()) {
    const here = answer.options[o]!;
    for (const name of ["expected_cost", "expected_cost_with_carbon", "release_g", "cost_p05", "cost_p95"] as const) {
      expectNear(here[name], expected[name], `${expected.id} ${name}`);
    }
    expectNear(here.probability_cheapest, expected.probability_cheapest, `${expected.id} cheapest`);
    expectNear(here.leads_to_repair ?? -1, expected.leads_to_repair ?? -1, `${expected.id} leads`);
    for (const [year, cost] of expected.cost_by_year.entries()) {
      expectNear(here.cost_by_year[year]!, cost, `${expected.id} cost of year ${year}`);
      expectNear(
        here.release_by_year_g[year]!,
        expected.release_by_year_g[year]!,
        `${expected.id} release of year ${year}`,
      );
    }
  }
  expect(answer.options.find(({ id }) => id === "top-off")!.switch_months).toBe(plain.switch_months);
  for (const [name, expected] of Object.entries(plain.value_of)) {
    const here = answer.value_of[name as keyof typeof plain.value_of];
    expect(here === null, name).toBe(expected === null);
    expectNear(here ?? 0, expected ?? 0, name);
  }
}

describe("the options are what a plain walk of every node, place and rule comes to", () => {
  it.each([
    { name: "yearly, from cans", request: carRequest(toppedOffEvery(365, 3)) },
    {
      name: "every eight months, at a shop, carbon priced",
      request: carRequest(toppedOffEvery(243, 3), { plan: { service: "shop", carbon_price_per_t: 190 } }),
    },
    {
      name: "pierced cans with a deposit, 3.4 years, no tools, no floor",
      request: carRequest(toppedOffEvery(300, 3), {
        plan: { keep_years: 3.4, floor_months: 0 },
        prices: { can_seal: "pierced", can_deposit: 10, can_return_rate: 0.4 },
      }),
    },
    {
      name: "a failing compressor, nine months left, top-off barred",
      request: carRequest(toppedOffEvery(500, 2), {
        plan: { keep_years: 0.75, other_trouble: "compressor-failing", barred: ["top-off"] },
      }),
    },
  ] satisfies { name: string; request: AssessRequest }[])("$name", ({ request }) => {
    expectPlain(request);
  });

  it("for any request", () => {
    // Short horizons: the plain walk goes month by month, for every node.
    const requests = fc.tuple(validRequests({ max_entries: 4 }), fc.integer({ min: 25, max: 420 })).map(
      ([request, hundredths]): AssessRequest => ({
        ...request,
        plan: { ...request.plan, keep_years: hundredths / 100 },
      }),
    );
    fc.assert(fc.property(requests, expectPlain), { numRuns: 6, seed: 20_260_501, endOnFailure: true });
  });
});
