import { describe, expect, it } from "vitest";
import {
  escalatedUniformPresentValue,
  netPresentValue,
  singlePresentValue,
  uniformPresentValue,
} from "../../src/core/maths/discount.ts";
import { dayNumber } from "../../src/core/quantities/dates.ts";
import { readTable } from "./read-table.ts";

describe("present value factors of NIST Handbook 135", () => {
  const rows = readTable<"factor" | "rate" | "escalation" | "periods" | "value">("discount-factors.csv");
  const here: Record<string, (rate: number, escalation: number, periods: number) => number> = {
    SPV: (rate, _, periods) => singlePresentValue(rate, periods),
    UPV: (rate, _, periods) => uniformPresentValue(rate, periods),
    "UPV*": escalatedUniformPresentValue,
  };

  it("has 16 rows", () => {
    expect(rows).toHaveLength(16);
  });

  it.each(rows)("$factor at $rate over $periods", ({ factor, rate, escalation, periods, value }) => {
    // Four printed decimals.
    expect(Math.abs(here[factor]!(+rate, +escalation, +periods) - +value)).toBeLessThanOrEqual(0.000_05 + 1e-12);
  });

  it("UPV* is the number of periods at d = e, and goes there without a jump (Handbook 135, its limit)", () => {
    expect(escalatedUniformPresentValue(0.03, 0.03, 10)).toBe(10);
    expect(escalatedUniformPresentValue(0.03, 0.03 + 1e-13, 10)).toBeCloseTo(10, 10);
    expect(uniformPresentValue(0, 7)).toBe(7);
  });
});

describe("net present value", () => {
  const rows = readTable<"source" | "rate" | "flows" | "value" | "decimals">("net-present-values.csv");

  it("has 5 rows", () => {
    expect(rows).toHaveLength(5);
  });

  it.each(rows)("$rate: $flows → $value", ({ rate, flows, value, decimals }) => {
    const allowed = Math.max(0.5 * 10 ** -+decimals, Math.abs(+value) * 1e-14);
    expect(Math.abs(netPresentValue(+rate, flows.split(" ").map(Number)) - +value)).toBeLessThanOrEqual(allowed);
  });

  it("dated flows at 9 % a year of 365 days: 2086.65 (a spreadsheet's documentation of XNPV, from memory)", () => {
    const flows = [
      ["2008-01-01", -10_000],
      ["2008-03-01", 2750],
      ["2008-10-30", 4250],
      ["2009-02-15", 3250],
      ["2009-04-01", 2750],
    ] as const;
    const start = dayNumber("2008-01-01");
    const value = flows.reduce(
      (sum, [date, flow]) => sum + flow * singlePresentValue(0.09, (dayNumber(date) - start) / 365),
      0,
    );
    expect(Math.abs(value - 2086.65)).toBeLessThanOrEqual(0.005);
  });
});
