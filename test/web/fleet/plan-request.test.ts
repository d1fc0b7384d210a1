import { describe, expect, test } from "vitest";
import { typedSum } from "../../../src/web/fleet/plan-request.ts";

describe("typedSum reads money as people type it", () => {
  test.each([
    ["25000", 25_000],
    ["25,000", 25_000],
    ["25 000", 25_000],
    ["$25,000", 25_000],
    ["25k", 25_000],
    ["$25 k", 25_000],
    ["25.5k", 25_500],
    ["25K", 25_000],
    ["1.5m", 1_500_000],
    ["2 million", 2_000_000],
    ["1e6", 1_000_000],
    ["1234.50", 1234.5],
    ["0", 0],
  ])("%s is %d", (typed, money) => {
    expect(typedSum(typed, "USD")).toBe(money);
  });

  test.each([
    ["50.000", "50.000 may be 50 or 50,000. Enter it as 50 or 50000"],
    ["-50000", "Enter 0 or more, like 25000 or 25k"],
    ["−5", "Enter 0 or more, like 25000 or 25k"],
    ["much", "Enter an amount of money, like 25000 or 25k"],
    ["25k k", "Enter an amount of money, like 25000 or 25k"],
    ["€500", "Enter an amount of money, like 25000 or 25k"],
    ["9e9", "That is too large. Check the number"],
    ["9".repeat(200), "Enter an amount of money, like 25000 or 25k"],
  ])("%s is asked about", (typed, message) => {
    expect(typedSum(typed, "USD")).toEqual({ ok: false, message });
  });
});
