import { describe, expect, it } from "vitest";
import { REFRIGERANTS } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest } from "../samples.ts";

/** The defaults as the contract's table gives them, written out here a second time. */
describe("questionOf fills in the defaults of the contract", () => {
  it("of plan, prices and assumptions", () => {
    const { plan, prices, assumptions, monthly_mean_c } = questionOf(carRequest());
    expect(monthly_mean_c).toBeNull();
    expect(plan).toEqual({
      keep_years: 5,
      floor_months: 6,
      service: "diy",
      hazard: 0.02,
      season_worth: null,
      carbon_price_per_t: 0,
      gwp: "AR6",
      tools_owned: false,
      barred: [],
      readings: "undecided",
    });
    const { share, ...rest } = prices;
    expect(rest).toEqual({
      can_price: 12,
      can_net_g: 340,
      can_deposit: 0,
      can_return_rate: 0.9,
      can_seal: "self-sealing",
      diy_hours: 0.75,
      hour_worth: 15,
      tools_price: 60,
      shop_topoff_fee: 150,
      shop_refrigerant_per_g: 0.11,
      repair_service: 180,
      locate_fee: 110,
      dye_price: 25,
      dye_inspection_fee: 0,
      electronic_price: 110,
      price: [70, 190, 360, 680, 1350, 980],
      holds: [0.95, 0.9, 0.93, 0.95, 0.93, 0.93],
      service: [0.4, 1, 1, 1, 1, 1],
      dye: [0.8, 0.85, 0.85, 0.75, 0.25, 0.7],
      electronic: [0.9, 0.8, 0.75, 0.65, 0.6, 0.7],
      visual: [0.3, 0.35, 0.4, 0.35, 0.05, 0.45],
    });
    for (const [l, part] of [0.15, 0.25, 0.15, 0.2, 0.1, 0.15].entries()) expect(share[l]).toBeCloseTo(part, 14);
    expect(assumptions).toEqual({
      low_fraction: 0.6,
      low_sd: 0.1,
      discount: 0.03,
      refrigerant_growth: 0.05,
      damage_chance: 0.01,
      rework_share: 0.5,
      relapse_rate: 0.03,
      seep_fraction: 0.065,
      heel: 0.1,
    });
  });

  it.each([
    { refrigerant: "R-134a", can_price: 12, can_net_g: 340, shop_refrigerant_per_g: 0.11 },
    { refrigerant: "R-1234yf", can_price: 45, can_net_g: 227, shop_refrigerant_per_g: 0.35 },
    { refrigerant: "R-12", can_price: 30, can_net_g: 340, shop_refrigerant_per_g: 0.3 },
  ] as const)("of $refrigerant", ({ refrigerant, ...expected }) => {
    expect(REFRIGERANTS).toContain(refrigerant);
    const { prices } = questionOf({ ...carRequest(), vehicle: { refrigerant, nameplate_g: 500 } });
    expect(prices).toMatchObject(expected);
  });

  it("of who tops it off, and of other trouble", () => {
    expect(questionOf(carRequest([], { plan: { service: "shop" } })).prices.dye_inspection_fee).toBe(60);
    const trouble = (other_trouble: "none" | "some" | "compressor-failing") =>
      questionOf(carRequest([], { plan: { other_trouble } })).plan;
    expect(trouble("none").hazard).toBe(0.02);
    expect(trouble("some")).toMatchObject({ hazard: 0.1, season_worth: null });
    expect(trouble("compressor-failing")).toMatchObject({ hazard: 0.35, season_worth: 150 });
  });

  it("and sorts the log by date, entries of one day as given", () => {
    const log = [
      { date: "2025-03-01", added_g: 1 },
      { date: "2024-03-01", added_g: 2 },
      { date: "2025-03-01", added_g: 3 },
      { date: "2024-12-31", added_g: 4 },
    ];
    expect(questionOf(carRequest(log)).log.map(({ added_g }) => added_g)).toEqual([2, 4, 1, 3]);
    expect(log[0]).toEqual({ date: "2025-03-01", added_g: 1 });
  });
});
