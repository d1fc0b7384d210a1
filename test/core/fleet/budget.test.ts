import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FleetOption } from "../../../src/core/fleet/answer.ts";
import type { AsIs } from "../../../src/core/fleet/as-is.ts";
import { type BudgetVehicle, planBudget } from "../../../src/core/fleet/budget.ts";
import { OPTION_IDS, type OptionId } from "../../../src/core/question/contract.ts";

const option = (id: OptionId, cost: number, outlay: number, co2e: number, offered = true): FleetOption => ({
  id,
  offered,
  expected_cost: cost,
  expected_cost_with_carbon: cost,
  outlay_first_year: outlay,
  release_g: co2e / 1.53,
  co2e_kg: co2e,
  probability_cheapest: 0.5,
});

/** Topping off for ever: here the same as topping off, and for those who cannot, as dear as can be. */
const asIs = (options: readonly FleetOption[]): AsIs =>
  options.find(({ id }) => id === "top-off") ?? option("top-off", 5000, 5000, 5000);
const vehicle = (id: string, options: FleetOption[]): BudgetVehicle => ({ id, options, as_is: asIs(options) });

const VAN: BudgetVehicle = vehicle("van", [option("repair", 700, 650, 100), option("top-off", 1000, 180, 900)]);
const CAR: BudgetVehicle = vehicle("car", [option("repair", 600, 550, 80), option("top-off", 750, 120, 300)]);
const BUS: BudgetVehicle = vehicle("bus", [
  option("repair", 1500, 1400, 400),
  option("top-off", 2600, 700, 8000, false),
]);

describe("planBudget", () => {
  // By hand: everything must spend 180 + 120 + 1400 = 1700; repairing the van adds 470 and saves 300 (0.638 each), the
  // car adds 430 and saves 150 (0.349 each).
  test.each([
    [1699, false, ["top-off", "top-off", "repair"]],
    [1700, true, ["top-off", "top-off", "repair"]],
    [2129, true, ["top-off", "top-off", "repair"]],
    [2130, true, ["top-off", "repair", "repair"]],
    [2170, true, ["repair", "top-off", "repair"]],
    [2599, true, ["repair", "top-off", "repair"]],
    [2600, true, ["repair", "repair", "repair"]],
  ])("with %d to spend", (budget, feasible, expected) => {
    const plan = planBudget([VAN, CAR, BUS], budget, "cost");
    expect(plan.feasible).toBe(feasible);
    expect(plan.choices.map(({ option: { id } }) => id)).toEqual(expected);
    expect(plan.exact).toBe(true);
    expect(plan.gap).toBe(0);
  });

  test("says what one more unit of budget would bring, and what the least and no limit cost", () => {
    const plan = planBudget([VAN, CAR, BUS], 2000, "cost");
    expect(plan.shadow_price).toBeCloseTo(300 / 470, 9);
    expect(plan.least_outlay).toEqual({ expected_cost: 3250, outlay_first_year: 1700, co2e_kg: 1600 });
    expect(plan.unlimited).toEqual({ expected_cost: 2800, outlay_first_year: 2600, co2e_kg: 580 });
    expect(plan.curve).toEqual([
      { budget: 1700, least: 3250 },
      { budget: 2170, least: 2950 },
      { budget: 2600, least: 2800 },
    ]);
    expect(planBudget([VAN, CAR, BUS], 3000, "cost").shadow_price).toBe(0);
  });

  test("for least CO₂e repairs where it avoids most for the money", () => {
    const plan = planBudget([VAN, CAR, BUS], 2200, "co2e");
    expect(plan.choices.map(({ option: { id } }) => id)).toEqual(["repair", "top-off", "repair"]);
    expect(plan.shadow_price).toBeCloseTo(220 / 430, 9); // kg per unit: the car is next
  });

  test("keeps locked choices, and tells who was left without one", () => {
    const locked = [
      { ...VAN, lock: { must_not: ["repair" as const] } },
      { ...CAR, lock: { must: "repair" as const } },
      { ...BUS, lock: { must: "top-off" as const } },
      vehicle("truck", [option("repair", 1, 1, 1, false)]),
    ];
    const plan = planBudget(locked, 10_000, "cost");
    expect(plan.choices.map(({ vehicle_id, option: { id } }) => [vehicle_id, id])).toEqual([
      ["van", "top-off"],
      ["car", "repair"],
    ]);
    expect(plan.left_out).toEqual([
      { vehicle_id: "bus", because: "locks" },
      { vehicle_id: "truck", because: "nothing-offered" },
    ]);
  });

  test("counts savings from topping off for ever, which may ask least of this year", () => {
    // A bus whose top-off ends in a repair within the year: $1590 due, and little released; for ever it costs far more.
    const bus: BudgetVehicle = {
      id: "bus",
      options: [option("repair", 2000, 1500, 300), option("top-off", 1700, 1590, 900)],
      as_is: option("top-off", 3800, 750, 8000),
    };
    const least = planBudget([bus], 800, "cost");
    expect(least.feasible).toBe(true);
    expect(least.totals).toEqual({ expected_cost: 3800, outlay_first_year: 750, co2e_kg: 8000 });
    expect(least.routine_outlay).toBe(750);
    const repaired = planBudget([bus], 1550, "cost");
    expect(repaired.choices[0]?.option.id).toBe("repair");
    expect(repaired.as_is.expected_cost - repaired.totals.expected_cost).toBe(1800);
    expect(repaired.routine_outlay).toBe(0);
  });

  test("of no vehicles spends nothing", () => {
    expect(planBudget([], 100, "cost")).toMatchObject({ feasible: true, choices: [], gap: 0, exact: true });
  });

  test("is the best of all plans of a small fleet, by trying every one", () => {
    const anyOptions = fc.array(
      fc.record({
        id: fc.constantFrom(...OPTION_IDS),
        cost: fc.integer({ min: 0, max: 2000 }),
        outlay: fc.integer({ min: 0, max: 900 }),
        co2e: fc.integer({ min: 0, max: 3000 }),
      }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(
        fc.array(anyOptions, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 0, max: 4000 }),
        fc.constantFrom("cost" as const, "co2e" as const),
        (fleet, budget, aim) => {
          const vehicles = fleet.map((options, v) =>
            vehicle(
              String(v),
              options.map(({ id, cost, outlay, co2e }) => option(id, cost, outlay, co2e)),
            ),
          );
          let best = Infinity;
          const tryAll = (at: number, aimed: number, spent: number): void => {
            if (spent > budget) return;
            if (at === vehicles.length) {
              best = Math.min(best, aimed);
              return;
            }
            for (const one of vehicles[at]!.options) {
              tryAll(at + 1, aimed + (aim === "cost" ? one.expected_cost : one.co2e_kg), spent + one.outlay_first_year);
            }
          };
          tryAll(0, 0, 0);
          const plan = planBudget(vehicles, budget, aim);
          expect(plan.feasible).toBe(best < Infinity);
          if (plan.feasible) {
            expect(aim === "cost" ? plan.totals.expected_cost : plan.totals.co2e_kg).toBeCloseTo(best, 6);
            expect(plan.totals.outlay_first_year).toBeLessThanOrEqual(budget + 1e-6);
          }
        },
      ),
      { numRuns: 1000, seed: 20_264 },
    );
  });
});
