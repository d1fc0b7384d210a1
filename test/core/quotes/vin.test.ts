import { describe, expect, it } from "vitest";
import { readVin } from "../../../src/core/quotes/vin.ts";

/**
 * The worked example that circulates with the rule (weighted sum 351, 351 mod 11 = 10, so X), and the number of
 * seventeen ones (sum of the weights 89, 89 mod 11 = 1). Both worked here by hand from tables III and IV of 49 CFR
 * 565.15(c), which are from memory.
 */
describe("readVin(typed)", () => {
  it.each(["1M8GDM9AXKP042788", "11111111111111111"])("%s has the check digit that belongs to it", (vin) => {
    expect(readVin(vin)).toEqual({ ok: true, vin });
  });

  it("takes small letters, spaces and hyphens", () => {
    expect(readVin(" 1m8gdm9a-xkp0 42788 ")).toEqual({ ok: true, vin: "1M8GDM9AXKP042788" });
  });

  it("one character changed, or two neighbors swapped, do not pass in North America", () => {
    expect(readVin("1M8GDM9AXKP042789")).toEqual({ ok: false, code: "check-digit" });
    expect(readVin("1M8GDM9AXPK042788")).toEqual({ ok: false, code: "check-digit" });
    expect(readVin("1M8GDM9A1KP042788")).toEqual({ ok: false, code: "check-digit" });
  });

  it("elsewhere the ninth character may be anything", () => {
    expect(readVin("WZZZZZ00ZAA000001")).toMatchObject({ ok: true });
  });

  it.each(["", "1M8GDM9AXKP04278", "1M8GDM9AXKP0427888", "1M8GDM9AXKPO42788", "IM8GDM9AXKP042788"])(
    "%j has not the shape of one",
    (typed) => {
      expect(readVin(typed)).toEqual({ ok: false, code: "shape" });
    },
  );
});
