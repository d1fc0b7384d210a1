import { describe, expect, test } from "vitest";
import { assess } from "../../../src/core/assess.ts";
import { fleetAnswer } from "../../../src/core/fleet/answer.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { inventedFleet } from "../../support/fleet-generator.ts";

const AS_OF = "2026-05-01";

function requests(vehicles: number, plan: AssessRequest["plan"] = {}): AssessRequest[] {
  return inventedFleet({ vehicles, entries: 6, seed: 8, as_of: AS_OF }).map(({ refrigerant, nameplate_g, log }) => ({
    as_of: AS_OF,
    vehicle: { refrigerant, nameplate_g },
    log,
    plan,
  }));
}

describe("fleetAnswer", () => {
  test("says what assess says, without a cohort", () => {
    for (const request of requests(12, { service: "shop" })) {
      const answer = assess(request, { sensitivity: false });
      const fleet = fleetAnswer(questionOf(request));
      expect(fleet.leak_fraction).toEqual(answer.leak.fraction_per_year);
      expect(fleet.charge_now_g).toEqual(answer.leak.charge_now_g);
      expect(fleet.next_low).toEqual(answer.forecast.next_low);
      expect(fleet.verdict.option).toBe(answer.verdict.option);
      for (const [o, option] of fleet.options.entries()) {
        const { id, offered, expected_cost, expected_cost_with_carbon, release_g, co2e_kg, probability_cheapest } =
          answer.options[o]!;
        const { outlay_first_year: _, ...same } = option;
        expect(same).toEqual({
          id,
          offered,
          expected_cost,
          expected_cost_with_carbon,
          release_g,
          co2e_kg,
          probability_cheapest,
        });
      }
    }
  });

  // Nothing discounted, and nothing ends early: then money due within the year is the answer's first year.
  test("the outlay of the first year is cost_by_year[0] where nothing is discounted", () => {
    for (const request of requests(6, { other_trouble: "none", keep_years: 4 })) {
      const undiscounted = { ...request, assumptions: { discount: -0.02 + 1e-15 } };
      // other_trouble "none" is a hazard of 0.02 a year: r + h = 0.
      const answer = assess(undiscounted, { sensitivity: false });
      const fleet = fleetAnswer(questionOf(undiscounted));
      for (const [o, { outlay_first_year }] of fleet.options.entries()) {
        expect(outlay_first_year).toBeCloseTo(answer.options[o]!.cost_by_year[0]!, 4);
      }
    }
  });

  test("discounting takes little from the first year: at most r + h of it", () => {
    for (const request of requests(12)) {
      const answer = assess(request, { sensitivity: false });
      for (const [o, { outlay_first_year }] of fleetAnswer(questionOf(request)).options.entries()) {
        const discounted = answer.options[o]!.cost_by_year[0]!;
        expect(outlay_first_year).toBeGreaterThanOrEqual(discounted - 1e-9);
        expect(outlay_first_year).toBeLessThanOrEqual(discounted * Math.exp(0.05) + 1e-9);
      }
    }
  });

  test("living without it takes no money this year", () => {
    const [request] = requests(1, { season_worth: 200 });
    const without = fleetAnswer(questionOf(request!)).options.find(({ id }) => id === "live-without");
    expect(without?.outlay_first_year).toBe(0);
    expect(without?.expected_cost).toBeGreaterThan(0);
  });

  test("a vehicle without a log has its cohort's leak", () => {
    const cohort = { ln_x_mean: Math.log(0.4), ln_x_sd: 0.35 };
    const request = { as_of: AS_OF, vehicle: { refrigerant: "R-134a" as const, nameplate_g: 650 } };
    const { leak_fraction, own_share } = fleetAnswer(questionOf(request), cohort);
    // The grid's cells of 0.083 in ln x are what remains.
    expect(leak_fraction.median).toBeCloseTo(0.4, 2);
    expect(Math.log(leak_fraction.p95 / leak_fraction.median)).toBeCloseTo(1.6449 * 0.35, 1);
    expect(own_share).toBeCloseTo(0, 9);
  });
});
