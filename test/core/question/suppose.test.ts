import { describe, expect, test } from "vitest";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { supposing } from "../../../src/core/question/suppose.ts";

/** Worked by hand from the model's tables of prices and places: 650 g of R-134a at 0.11 a gram, service 180. */
const REFRIGERANT = 71.5;

const request: AssessRequest = {
  as_of: "2026-05-01",
  vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
  log: [{ date: "2026-04-01", cooling: "weak" }],
  plan: { keep_years: 3, tools_owned: true },
  prices: { can_price: 14 },
};

describe("supposing(request, …)", () => {
  test("nothing changes nothing", () => {
    expect(supposing(request, {})).toEqual(request);
    expect(supposing(request, { keep_years: null, place: null, quote: null })).toEqual(request);
  });

  test("a plan goes before the recorded one and leaves the rest of it", () => {
    expect(supposing(request, { keep_years: 8, service: "shop", carbon_price_per_t: 190, floor_months: 0 })).toEqual({
      ...request,
      plan: { keep_years: 8, tools_owned: true, service: "shop", carbon_price_per_t: 190, floor_months: 0 },
    });
  });

  test("a known place is the only one left", () => {
    const { prices } = supposing(request, { place: "hose" });
    expect(prices?.can_price).toBe(14);
    expect(Object.entries(prices?.locations ?? {}).map(([id, place]) => [id, place?.share])).toEqual([
      ["service-port", 0],
      ["joint", 0],
      ["hose", 1],
      ["condenser", 0],
      ["evaporator", 0],
      ["compressor", 0],
    ]);
  });

  test("a quote at a known place is its price, the service around it and the refrigerant", () => {
    const at = (place: "hose" | "service-port") =>
      supposing(request, { place, quote: 850 }).prices?.locations?.[place]?.price;
    expect(at("hose")).toBeCloseTo(850 - 180 - REFRIGERANT, 9);
    // A valve core needs 0.4 of the service.
    expect(at("service-port")).toBeCloseTo(850 - 0.4 * (180 + REFRIGERANT), 9);
    expect(supposing(request, { place: "hose", quote: 100 }).prices?.locations?.hose?.price).toBe(0);
  });

  test("a quote at no place scales all repair prices, so that the mean repair costs it", () => {
    const { prices } = supposing(request, { quote: 850 });
    // Means over the shares: parts and labor 530, of the service 0.91.
    const factor = (850 - 0.91 * REFRIGERANT) / (530 + 0.91 * 180);
    expect(prices?.repair_service).toBeCloseTo(180 * factor, 9);
    expect(prices?.locations?.compressor?.price).toBeCloseTo(980 * factor, 9);
  });

  test("a recorded price of the vehicle's own is what a quote scales", () => {
    const own = { ...request, prices: { repair_service: 0, locations: { joint: { price: 1000, share: 1 } } } };
    const { prices } = supposing(own, { place: "joint", quote: 500 });
    expect(prices?.locations?.joint?.price).toBeCloseTo(500 - REFRIGERANT, 9);
  });
});
