import { describe, expect, it } from "vitest";
import { parseMass } from "../../../src/core/quantities/parse-mass.ts";
import { parseWhen } from "../../../src/core/quantities/parse-when.ts";
import { massReadBack, whenReadBack } from "../../../src/core/quantities/read-back.ts";
import { isUnknown } from "../../../src/core/quantities/typed-number.ts";

describe("whenReadBack(typed, when)", () => {
  it.each([
    ["June 2024", "about mid-June 2024"],
    ["early June 2024", null],
    ["June '24", "about mid-June 2024"],
    ["6/15/24", "15 June 2024"],
    ["summer 2024", "summer 2024, about July"],
    ["yesterday", "30 April 2026"],
    ["14 Jun 2024", null],
    ["14 June 2024", null],
    ["2024-06-14", null],
  ])("%j is read as %j", (typed, said) => {
    const when = parseWhen(typed, { as_of: "2026-05-01", order: "month-first" });
    expect(when.ok && whenReadBack(typed, when)).toBe(said);
  });
});

describe("massReadBack(typed, mass, system)", () => {
  it.each([
    ["12 oz", "us", null],
    ["12oz", "us", null],
    ["340 g", "us", null],
    ["12", "us", "12 oz"],
    ["2 x 12 oz", "us", "1 lb 8 oz"],
    ["a full can", "us", "12 oz"],
    ["16-18 oz", "us", "1 lb 1 oz, give or take 1 oz"],
    ["17.6 oz (0.5 kg)", "metric", "499 g"], // 17.6 × 28.35
  ] as const)("%j in %s is read as %j", (typed, system, said) => {
    const mass = parseMass(typed, { system, can_net_g: 12 * 28.349523125 });
    expect(mass.ok && massReadBack(typed, mass, system)).toBe(said);
  });
});

describe("isUnknown(typed)", () => {
  it.each(["?", "??", "don't know", "I don’t know", "not sure", " Unknown. "])("%j is", (typed) => {
    expect(isUnknown(typed)).toBe(true);
  });
  it.each(["", "12 oz", "0", "?".repeat(200), "I know"])("%j is not", (typed) => {
    expect(isUnknown(typed)).toBe(false);
  });
});
