import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { balanceOfYear, type CylinderMove, stockOf } from "../../../src/core/refrigerant/cylinders.ts";

/** Worked by hand: 13600 in, 650 + 700 charged, weighed at 12200 (the book said 12250), 2000 sent away. */
const MOVES: CylinderMove[] = [
  { date: "2025-03-01", kind: "received", amount_g: 13_600 },
  { date: "2025-06-10", kind: "charged", amount_g: 650 },
  { date: "2025-12-31", kind: "weighed", amount_g: 12_200 },
  { date: "2025-12-31", kind: "charged", amount_g: 700 },
  { date: "2026-01-15", kind: "recovered", amount_g: 300 },
  { date: "2026-02-01", kind: "returned", amount_g: 2_000 },
];

describe("balanceOfYear(moves, year)", () => {
  it("2025: 0 + 13600 − 650 − 700 − 50 = 12200; the scale is read after the day's work", () => {
    expect(balanceOfYear(MOVES, 2025)).toEqual({
      opening_g: 0,
      received_g: 13_600,
      recovered_g: 0,
      charged_g: 1_350,
      returned_g: 0,
      adjusted_g: -50,
      closing_g: 12_200,
    });
  });

  it("2026 begins where 2025 ended: 12200 + 300 − 2000 = 10500", () => {
    expect(balanceOfYear(MOVES, 2026)).toMatchObject({
      opening_g: 12_200,
      recovered_g: 300,
      returned_g: 2_000,
      closing_g: 10_500,
    });
    expect(stockOf(MOVES)).toBe(10_500);
  });

  it("a year without moves carries over", () => {
    expect(balanceOfYear(MOVES, 2027)).toMatchObject({ opening_g: 10_500, charged_g: 0, closing_g: 10_500 });
    expect(balanceOfYear(MOVES, 2024)).toMatchObject({ opening_g: 0, closing_g: 0 });
  });

  it("always adds up, and each year begins where the one before ended", () => {
    const move = fc.record({
      date: fc
        .integer({ min: 0, max: 1460 })
        .map((day) => new Date(Date.UTC(2023, 0, 1 + day)).toISOString().slice(0, 10)),
      kind: fc.constantFrom<CylinderMove["kind"]>("received", "recovered", "charged", "returned", "weighed"),
      amount_g: fc.integer({ min: 0, max: 20_000 }),
    });
    fc.assert(
      fc.property(fc.array(move, { maxLength: 30 }), (moves) => {
        const years = [2023, 2024, 2025, 2026].map((year) => balanceOfYear(moves, year));
        for (const b of years)
          expect(b.opening_g + b.received_g + b.recovered_g - b.charged_g - b.returned_g + b.adjusted_g).toBe(
            b.closing_g,
          );
        for (const [i, b] of years.slice(1).entries()) expect(b.opening_g).toBe(years[i]!.closing_g);
        expect(years.at(-1)!.closing_g).toBe(stockOf(moves));
      }),
    );
  });
});
