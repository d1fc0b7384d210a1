import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FleetOption } from "../../../src/core/fleet/answer.ts";
import type { AsIs } from "../../../src/core/fleet/as-is.ts";
import { type BudgetPlan, type BudgetVehicle, planBudget } from "../../../src/core/fleet/budget.ts";
import type { OptionId } from "../../../src/core/question/contract.ts";

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

const saidOf = ({ choices }: BudgetPlan): string[] =>
  choices.map(({ option: { id, not_done } }) => (not_done ? "not done" : id));

describe("planBudget", () => {
  // By hand, money for repairs: the bus, which cannot be topped off, takes 1400; repairing the van takes 650 and saves
  // 300 (0.462 each), the car 550 and saves 150 (0.273 each).
  test.each([
    [1399, false, ["repair", "repair", "not done"]],
    [1400, true, ["top-off", "top-off", "repair"]],
    [1949, true, ["top-off", "top-off", "repair"]],
    [1950, true, ["top-off", "repair", "repair"]],
    [2050, true, ["repair", "top-off", "repair"]],
    [2599, true, ["repair", "top-off", "repair"]],
    [2600, true, ["repair", "repair", "repair"]],
  ])("with %d for repairs", (money, feasible, expected) => {
    const plan = planBudget([VAN, CAR, BUS], { money, work: null }, "cost");
    expect(plan.feasible).toBe(feasible);
    expect(saidOf(plan)).toEqual(expected);
    expect(plan.exact).toBe(true);
    expect(plan.gap).toBe(0);
  });

  test("says what one more unit of money would bring, and what the least and no limit cost", () => {
    const plan = planBudget([VAN, CAR, BUS], { money: 1800, work: null }, "cost");
    expect(plan.shadow_price).toBeCloseTo(300 / 650, 9);
    expect(plan.least_outlay).toEqual({ expected_cost: 3250, repair_outlay: 1400, routine_outlay: 300, co2e_kg: 1600 });
    expect(plan.unlimited).toEqual({ expected_cost: 2800, repair_outlay: 2600, routine_outlay: 0, co2e_kg: 580 });
    expect(plan.curve).toEqual([
      { budget: 1400, least: 3250 },
      { budget: 2050, least: 2950 },
      { budget: 2600, least: 2800 },
    ]);
    expect(planBudget([VAN, CAR, BUS], { money: 3000, work: null }, "cost").shadow_price).toBe(0);
  });

  test("keeps routine top-offs apart from the money for repairs", () => {
    const plan = planBudget([VAN, CAR], { money: 0, work: null }, "cost");
    expect(plan.feasible).toBe(true);
    expect(plan.totals).toMatchObject({ repair_outlay: 0, routine_outlay: 300 });
  });

  test("for least CO₂e repairs where it avoids most for the money", () => {
    const plan = planBudget([VAN, CAR, BUS], { money: 2060, work: null }, "co2e");
    expect(saidOf(plan)).toEqual(["repair", "top-off", "repair"]);
    expect(plan.shadow_price).toBeCloseTo(220 / 550, 9); // kg per unit: the car is next
  });

  test("of what has to be done does as much as the money reaches for, first what a person settled", () => {
    const bus = (id: string, cost: number, lock?: BudgetVehicle["lock"]): BudgetVehicle => ({
      ...vehicle(id, [option("repair", cost, cost, 100)]),
      ...(lock && { lock }),
    });
    const three = [bus("cheap", 500), bus("dear", 900, { must: "repair" }), bus("middle", 600)];
    const says = (money: number) => saidOf(planBudget(three, { money, work: null }, "cost"));
    expect(says(2000)).toEqual(["repair", "repair", "repair"]);
    expect(says(1999)).toEqual(["repair", "repair", "not done"]);
    expect(says(1200)).toEqual(["not done", "repair", "not done"]);
    expect(says(899)).toEqual(["repair", "not done", "not done"]);
    expect(says(0)).toEqual(["not done", "not done", "not done"]);
  });

  test("plans a depot with money and a shop of its own by itself, the others together", () => {
    const at = (depot: string | null, one: BudgetVehicle, id: string): BudgetVehicle => ({ ...one, id, depot });
    const fleet = [at("North", VAN, "n1"), at("North", VAN, "n2"), at("South", VAN, "s1"), at(null, CAR, "c")];
    const limits = { money: 1200, work: null, depots: [{ depot: "North", money: 5000, work: 1 }] };
    const plan = planBudget(fleet, limits, "cost");
    // North has money for both vans and time for one; the others have money for van and car.
    expect(new Set(saidOf(plan).slice(0, 2))).toEqual(new Set(["repair", "top-off"]));
    expect(saidOf(plan).slice(2)).toEqual(["repair", "repair"]);
    const hours = planBudget(fleet, { money: 9000, work: 6, workOf: () => 3 }, "cost");
    expect(saidOf(hours).filter((one) => one === "repair")).toHaveLength(2);
  });

  test("keeps locked choices, and tells who was left without one", () => {
    const locked = [
      { ...VAN, lock: { must_not: ["repair" as const] } },
      { ...CAR, lock: { must: "repair" as const } },
      { ...BUS, lock: { must: "top-off" as const } },
      vehicle("truck", [option("repair", 1, 1, 1, false)]),
    ];
    const plan = planBudget(locked, { money: 10_000, work: null }, "cost");
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
    const least = planBudget([bus], { money: 800, work: null }, "cost");
    expect(least.feasible).toBe(true);
    expect(least.totals).toEqual({ expected_cost: 3800, repair_outlay: 0, routine_outlay: 750, co2e_kg: 8000 });
    // With 840 the repair that is likely to come up can be paid, with 1500 one at once.
    const waits = planBudget([bus], { money: 840, work: null }, "cost");
    expect(waits.totals).toMatchObject({ expected_cost: 1700, repair_outlay: 840, routine_outlay: 750 });
    expect(waits.reserve).toBe(840);
    const never = planBudget([{ ...bus, lock: { must_not: ["repair"] } }], { money: 5000, work: null }, "cost");
    expect(never.totals.expected_cost).toBe(3800);
    const repaired = planBudget([bus], { money: 1550, work: null }, "co2e");
    expect(repaired.choices[0]?.option.id).toBe("repair");
    expect(repaired.as_is.expected_cost - repaired.totals.expected_cost).toBe(1800);
    expect(repaired.totals.routine_outlay).toBe(0);
  });

  test("of no vehicles spends nothing", () => {
    expect(planBudget([], { money: 100, work: null }, "cost")).toMatchObject({
      feasible: true,
      choices: [],
      gap: 0,
      exact: true,
    });
  });
});

describe("planBudget, beside every other plan", () => {
  test("is the best of all plans of a small fleet with depots, a shop and locks, by trying every one", () => {
    const anyCost = fc.integer({ min: 0, max: 2000 });
    const anyOutlay = fc.integer({ min: 2, max: 900 });
    const anyVehicle = fc.record({
      depot: fc.constantFrom("North", "South", null),
      lock: fc.constantFrom(
        undefined,
        { must: "repair" as const },
        { must_not: ["repair" as const, "dye-test" as const] },
      ),
      cost: fc.tuple(anyCost, anyCost, anyCost),
      outlay: fc.tuple(anyOutlay, anyOutlay),
      routine: fc.integer({ min: 0, max: 300 }),
    });
    fc.assert(
      fc.property(
        fc.array(anyVehicle, { minLength: 1, maxLength: 7 }),
        fc.record({ money: fc.integer({ min: 0, max: 3000 }), work: fc.option(fc.integer({ min: 0, max: 9 })) }),
        fc.option(
          fc.record({ money: fc.integer({ min: 0, max: 1500 }), work: fc.option(fc.integer({ min: 0, max: 5 })) }),
        ),
        (drawn, limits, north) => {
          const fleet = drawn.map(({ depot, lock, cost, outlay, routine }, v): BudgetVehicle => {
            const top_off = option("top-off", cost[0], routine, 0);
            return {
              id: String(v),
              depot,
              options: [option("repair", cost[1], outlay[0], 0), option("dye-test", cost[2], outlay[1], 0), top_off],
              as_is: top_off,
              ...(lock && { lock }),
            };
          });
          const hours = { repair: 2, "dye-test": 3 };
          const depots = north === null ? [] : [{ depot: "North", ...north }];
          const plan = planBudget(
            fleet,
            { ...limits, depots, workOf: (id) => hours[id as "repair" | "dye-test"] },
            "cost",
          );
          let best = Infinity;
          /** Money and time left: of the depot with its own, of the others. */
          const visit = (at: number, cost: number, left: { money: number; work: number }[]): void => {
            if (left.some(({ money, work }) => money < 0 || work < 0)) return;
            if (at === fleet.length) {
              best = Math.min(best, cost);
              return;
            }
            const { depot, options, lock } = fleet[at]!;
            const purse = north !== null && depot === "North" ? 0 : 1;
            for (const one of options) {
              if (lock?.must != null && one.id !== lock.must) continue;
              if (lock?.must_not?.includes(one.id)) continue;
              const takes =
                one.id === "top-off"
                  ? { money: 0, work: 0 }
                  : { money: one.outlay_first_year, work: hours[one.id as "repair" | "dye-test"] };
              visit(
                at + 1,
                cost + one.expected_cost,
                left.map((had, p) =>
                  p === purse ? { money: had.money - takes.money, work: had.work - takes.work } : had,
                ),
              );
            }
          };
          const purseOf = (of: { money: number; work: number | null }) => ({
            money: of.money,
            work: of.work ?? Infinity,
          });
          visit(0, 0, [purseOf(north ?? { money: 0, work: 0 }), purseOf(limits)]);
          expect(plan.feasible).toBe(best < Infinity);
          if (!plan.feasible) return;
          expect(plan.exact).toBe(true);
          expect(plan.totals.expected_cost).toBeCloseTo(best, 6);
        },
      ),
      { numRuns: 600, seed: 20_264 },
    );
  });
});
