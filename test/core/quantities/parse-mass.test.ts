import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatAboutMass, formatMass } from "../../../src/core/quantities/format.ts";
import { parseMass } from "../../../src/core/quantities/parse-mass.ts";
import { UNIT_SYSTEMS } from "../../../src/core/quantities/units.ts";

const OZ = 28.349523125; // NIST SP 811 (2008)
const US = { system: "us", can_net_g: 340 } as const;
const METRIC = { system: "metric", can_net_g: 340 } as const;

describe("parseMass(text)", () => {
  it.each([
    ["12 oz", 12 * OZ],
    ["12oz", 12 * OZ],
    ["12 oz.", 12 * OZ],
    ["12.5 ounces", 12.5 * OZ],
    ["1 lb 4 oz", 20 * OZ],
    ["1 lb 9oz", 25 * OZ],
    ["1lb9oz", 25 * OZ],
    ["1 lb, 4 oz", 20 * OZ],
    ["1 lb,4 oz", 20 * OZ],
    ["1 pound and 4 ounces", 20 * OZ],
    ["1½ lb", 24 * OZ],
    ["25 oz", 25 * OZ],
    ["340 g", 340],
    ["340g", 340],
    ["  340 Grams ", 340],
    ["340\u00a0g", 340],
    ["0.5 kg", 500],
    ["0,5 kg", 500],
    [".5 kg", 500],
    ["0,250 kg", 250],
    ["1 kg 200 g", 1200],
    ["about 340 g", 340],
    ["~340g", 340],
    ["0 g", 0],
  ])("%j", (text, grams) => {
    for (const context of [US, METRIC])
      expect(parseMass(text, context)).toEqual({ ok: true, grams: expect.closeTo(grams, 9) });
  });

  it.each([
    ["12 oz can", 1],
    ["a 12 oz can", 1],
    ["12-oz can", 1],
    ["2 x 12 oz", 2],
    ["2x12oz", 2],
    ["2 × 12 oz cans", 2],
    ["two 12-oz cans", 2],
    ["2 12 oz cans", 2],
  ])("%j is cans of a size that is said", (text, cans) => {
    expect(parseMass(text, { system: "metric" })).toEqual({ ok: true, grams: expect.closeTo(12 * OZ * cans, 9), cans });
  });

  it.each([
    ["16-18 oz", 17 * OZ, 16 * OZ, 18 * OZ],
    ["16–18 oz", 17 * OZ, 16 * OZ, 18 * OZ],
    ["12 to 14 oz", 13 * OZ, 12 * OZ, 14 * OZ],
    ["12 oz - 14 oz", 13 * OZ, 12 * OZ, 14 * OZ],
    ["0.50 ± 0.025 kg", 500, 475, 525],
    ["650 g +/- 20 g", 650, 630, 670],
  ])("%j is a range", (text, grams, least_g, most_g) => {
    expect(parseMass(text, US)).toEqual({
      ok: true,
      grams: expect.closeTo(grams, 9),
      least_g: expect.closeTo(least_g, 9),
      most_g: expect.closeTo(most_g, 9),
    });
  });

  it.each([
    ["17.6 oz (0.5 kg)", 17.6 * OZ],
    ["0.5 kg/17.6 oz", 500],
    ["1 lb 4 oz (567 g)", 20 * OZ],
  ])("%j is one amount, said twice", (text, grams) => {
    expect(parseMass(text, US)).toEqual({ ok: true, grams: expect.closeTo(grams, 9) });
  });

  it.each([
    ["2 cans", 2],
    ["a full can", 1],
    ["one whole can", 1],
    ["can", 1],
    ["1-1/2 cans", 1.5],
    ["1 can", 1],
    ["a can", 1],
    ["two cans", 2],
    ["1½ cans", 1.5],
    ["1 1/2 cans", 1.5],
    ["1.5 cans", 1.5],
    ["one and a half cans", 1.5],
    ["a can and a half", 1.5],
    ["half a can", 0.5],
    ["1/2 can", 0.5],
    ["½ can", 0.5],
    ["three quarters of a can", 0.75],
    ["a quarter can", 0.25],
  ])("%j", (text, cans) => {
    expect(parseMass(text, US)).toEqual({ ok: true, grams: 340 * cans, cans });
  });

  it("takes a bare number in the person's own unit", () => {
    expect(parseMass("12", US)).toEqual({ ok: true, grams: 12 * OZ });
    expect(parseMass("12", METRIC)).toEqual({ ok: true, grams: 12 });
  });
});

describe("what parseMass(text) refuses", () => {
  it.each([
    ["", "Enter the amount, like 12 oz or 340 g"],
    ["a", "Enter the amount, like 12 oz or 340 g"],
    ["oz", "Enter the amount, like 12 oz or 340 g"],
    ["12 ml", "Enter the amount, like 12 oz or 340 g"],
    ["1/0 lb", "Enter the amount, like 12 oz or 340 g"],
    ["1.2.3 g", "Enter the amount, like 12 oz or 340 g"],
    ["1e3 g", "Enter the amount, like 12 oz or 340 g"],
    ["12 oz and", "Enter the amount, like 12 oz or 340 g"],
    ["❄️", "Enter the amount, like 12 oz or 340 g"],
    ["9".repeat(400), "Enter the amount, like 12 oz or 340 g"],
    ["-5 oz", "Enter 0 or more, like 12 oz or 340 g"],
    ["−5 oz", "Enter 0 or more, like 12 oz or 340 g"],
    ["4 oz 1 lb", "Enter one amount, like 1 lb 4 oz or 340 g"],
    ["2 cans and 4 oz", "Enter one amount, like 1 lb 4 oz or 340 g"],
    ["18-16 oz", "Enter the smaller amount first, like 16-18 oz"],
    ["17.6 oz (0.9 kg)", "The two amounts are not the same. Enter the one that is right, like 12 oz or 340 g"],
    ["?", "Enter the amount, like 12 oz or 340 g"],
    ["1,250 g", "Enter the amount without a thousands sign, like 1250 g or 1.25 kg"],
    ["900000 g", "That is more than a vehicle can hold. Enter the amount, like 12 oz or 340 g"],
  ])("refuses %j", (text, message) => {
    expect(parseMass(text, US)).toEqual({ ok: false, message });
  });

  it("refuses cans when nobody knows what one holds", () => {
    expect(parseMass("2 cans", { system: "us" }).ok).toBe(false);
    expect(parseMass("2 cans", { system: "us", can_net_g: null }).ok).toBe(false);
  });
});

describe("parseMass(text), whatever is typed", () => {
  it("never throws, and gives finite grams of 0 or more", () => {
    const word = fc.constantFrom(
      "1",
      "½",
      "1/",
      "2,5",
      ".",
      ",",
      "-",
      "a",
      "half",
      "and",
      "of",
      "can",
      "cans",
      "lb",
      "oz",
      "g",
      "kg",
    );
    const text = fc.oneof(
      fc.string({ unit: "binary" }),
      fc.array(word, { maxLength: 10 }).map((words) => words.join(" ")),
      fc.array(word, { maxLength: 10 }).map((words) => words.join("")),
    );
    fc.assert(
      fc.property(text, fc.constantFrom(US, METRIC), (typed, context) => {
        const parsed = parseMass(typed, context);
        if (parsed.ok) expect(parsed.grams >= 0 && Number.isFinite(parsed.grams)).toBe(true);
        else expect(parsed.message).toMatch(/^(Enter|That)/);
      }),
      { numRuns: 2000 },
    );
  });
});

describe("parseMass(formatMass(g)) is g within what was rounded away", () => {
  const grams = fc.double({ min: 0, max: 60_000, noNaN: true });
  const system = fc.constantFrom(...UNIT_SYSTEMS);

  it("a recorded mass: half a gram (0.1 % from 10 kg up), half a tenth of an ounce", () => {
    fc.assert(
      fc.property(grams, system, (g, units) => {
        const parsed = parseMass(formatMass(g, units), { system: units });
        const allowed = units === "us" ? 0.0501 * OZ : g < 10 ? 0.0501 : Math.max(0.501, g * 0.001);
        expect(parsed.ok && Math.abs(parsed.grams - g) <= allowed).toBe(true);
      }),
    );
  });

  it("an estimate: an eighth, from 20 g up", () => {
    fc.assert(
      fc.property(fc.double({ min: 20, max: 60_000, noNaN: true }), system, (g, units) => {
        const parsed = parseMass(formatAboutMass(g, units), { system: units });
        expect(parsed.ok && Math.abs(parsed.grams / g - 1) <= 0.125).toBe(true);
      }),
    );
  });
});
