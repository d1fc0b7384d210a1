import { describe, expect, it } from "vitest";
import { priceParameters } from "../../../data/parameters.ts";
import { vehiclePrices } from "../../../data/vehicle-prices.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { withVehiclePrices } from "../../../src/core/question/vehicle-prices.ts";
import { carRequest } from "../samples.ts";

const yf = carRequest([], { vehicle: { refrigerant: "R-1234yf", nameplate_g: 500 } });

describe("prices that depend on the vehicle", () => {
  it("leave a belt-driven R-134a car as the model's own defaults have it", () => {
    const car = carRequest();
    expect(questionOf(withVehiclePrices(car, { electric: false }))).toEqual(questionOf(car));
  });

  it("give an electric compressor its own price, two to four times that of a belt-driven one", () => {
    const price = (electric: boolean) => questionOf(withVehiclePrices(carRequest(), { electric })).prices.price.at(-1)!;
    expect(price(true)).toBe(vehiclePrices.electric_compressor.default);
    expect(price(true) / price(false)).toBeGreaterThanOrEqual(2);
    expect(price(true) / price(false)).toBeLessThanOrEqual(4);
  });

  // Consumer pages of 2026, United States, no better source: a whole recharge with its refrigerant costs R-134a
  // 205–281, R-1234yf 250–500.
  it.each([
    ["R-134a", 650, 205, 281],
    ["R-1234yf", 500, 250, 500],
  ] as const)("bring a whole recharge of %s into the range that shops ask", (refrigerant, nameplate_g, from, to) => {
    const { prices } = questionOf(
      withVehiclePrices(carRequest([], { vehicle: { refrigerant, nameplate_g } }), { electric: false }),
    );
    const recharge = prices.repair_service + nameplate_g * prices.shop_refrigerant_per_g;
    expect(recharge).toBeGreaterThanOrEqual(from);
    expect(recharge).toBeLessThanOrEqual(to);
  });

  it("never put themselves before what was said", () => {
    const said = { ...yf, prices: { repair_service: 99, locations: { compressor: { price: 700, share: 0.5 } } } };
    expect(withVehiclePrices(said, { electric: true }).prices).toEqual(said.prices);
  });

  it("keep the other numbers of a compressor that was given", () => {
    const said = { ...yf, prices: { locations: { compressor: { share: 0.5 } } } };
    const { compressor } = withVehiclePrices(said, { electric: true }).prices?.locations ?? {};
    expect(compressor).toEqual({ share: 0.5, price: vehiclePrices.electric_compressor.default });
    expect(priceParameters.repair_service.default).toBe(180);
  });
});
