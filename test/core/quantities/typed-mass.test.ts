import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseMass } from "../../../src/core/quantities/parse-mass.ts";
import { typedMass } from "../../../src/core/quantities/typed-mass.ts";

const read = (text: string) => {
  const mass = parseMass(text, { system: "metric", can_net_g: 340 });
  return mass.ok ? mass.grams : Number.NaN;
};

describe("typedMass(grams, system)", () => {
  test.each([
    ["12 oz", "us", "12 oz"],
    ["10.25 oz", "us", "10.25 oz"],
    ["1 lb 9 oz", "us", "25 oz"],
    ["340 g", "us", "340 g"],
    ["1 can", "us", "340 g"],
    ["0.7 kg", "metric", "700 g"],
    ["0", "metric", "0 g"],
  ] as const)("what was typed as %s is shown in %s as %s", (typed, system, shown) => {
    expect(typedMass(read(typed), system)).toBe(shown);
  });

  test("parseMass(typedMass(x)) is x", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.integer({ min: 0, max: 60_000 }).map((tenths) => tenths / 10),
          fc.integer({ min: 0, max: 2000 }).map((tenths) => read(`${tenths / 10} oz`)),
          fc.double({ min: 0.001, max: 60_000, noNaN: true }),
        ),
        fc.constantFrom("us" as const, "metric" as const),
        (grams, system) => read(typedMass(grams, system)) === grams,
      ),
    );
  });
});
