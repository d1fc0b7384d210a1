import { describe, expect, it } from "vitest";
import { tallied } from "./later-top-offs.ts";
import { readTable } from "./read-table.ts";

describe("present value factors of NIST Handbook 135", () => {
  const rows = readTable<"factor" | "rate" | "escalation" | "periods" | "value">("discount-factors.csv");
  const yearly = (periods: number) => Array.from({ length: periods }, (_, i) => i + 1);
  const here: Record<string, (rate: number, escalation: number, periods: number) => number> = {
    SPV: (rate, _, periods) => tallied([periods], rate, 0).visits,
    UPV: (rate, _, periods) => tallied(yearly(periods), rate, 0).visits,
    "UPV*": (rate, escalation, periods) => tallied(yearly(periods), rate, escalation).refrigerant,
  };

  it("has 16 rows", () => {
    expect(rows).toHaveLength(16);
  });

  it.each(rows)("$factor at $rate over $periods", ({ factor, rate, escalation, periods, value }) => {
    // Four printed decimals.
    expect(Math.abs(here[factor]!(+rate, +escalation, +periods) - +value)).toBeLessThanOrEqual(0.000_05 + 1e-12);
  });
});
