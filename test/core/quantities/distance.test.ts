import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseDistance, saidDistance, typedDistance } from "../../../src/core/quantities/distance.ts";
import { UNIT_SYSTEMS } from "../../../src/core/quantities/units.ts";

// The international mile is 1609.344 m: NIST SP 811 (2008), appendix B.8.
const MILE_KM = 1.609344;

describe("the reading of an odometer", () => {
  test.each([
    ["84,200 miles", 84_200 * MILE_KM],
    ["84200 mi", 84_200 * MILE_KM],
    ["84200 mi.", 84_200 * MILE_KM],
    ["135,500 km", 135_500],
    ["135.500 km", 135_500],
    ["135 500 Kilometers", 135_500],
    ["1,284,200 km", 1_284_200],
    ["84200", 84_200 * MILE_KM],
    ["84200.5", 84_200.5 * MILE_KM],
  ])("%s is read", (typed, km) => {
    const read = parseDistance(typed, "mi");
    expect(read.ok ? read.km : read.message).toBeCloseTo(km as number, 6);
  });

  test.each(["", "many", "-5 mi", "84,2000", "84200 hours", "8 mi 4", "١٢٣"])("“%s” is asked for again", (typed) => {
    expect(parseDistance(typed, "mi")).toEqual({
      ok: false,
      message: "Enter the reading, like 84,200 miles or 135,500 km",
    });
  });

  test("is said in the units of the reader", () => {
    expect(saidDistance(84_200 * MILE_KM, "us")).toBe("84,200 miles");
    expect(saidDistance(135_506.8, "metric")).toBe("135,507 km");
  });

  test("is typed so that it is read as it was", () => {
    const readings = fc.oneof(
      fc.integer({ min: 0, max: 3_000_000 }).map((miles) => miles * MILE_KM),
      fc.integer({ min: 0, max: 50_000_000 }).map((tenths) => tenths / 10),
    );
    fc.assert(
      fc.property(readings, fc.constantFrom(...UNIT_SYSTEMS), (km, system) => {
        const read = parseDistance(typedDistance(km, system), system === "us" ? "mi" : "km");
        return read.ok && read.km === km;
      }),
    );
  });
});
