import { describe, expect, it } from "vitest";
import {
  type Billed,
  creditOf,
  extraTotal,
  invoiceState,
  invoiceTotal,
  owingOf,
} from "../../../src/core/quotes/invoice.ts";
import { lineOfOne } from "../../../src/core/quotes/quote-lines.ts";

/**
 * Worked by hand: 189.00 without tax, 199.23 with 7.25 % (14.444… = 14.44): 388.23 before tax, 402.67 in all.
 */
const BILLED: Billed = {
  net_minor: 388_23,
  taxes: [{ name: "Sales tax", rate_ppm: 72_500, taxable_minor: 199_23, tax_minor: 14_44 }],
  total_minor: 402_67,
};

describe("creditOf(billed, amount)", () => {
  it("all of it gives just its parts", () => {
    expect(creditOf(BILLED, 402_67)).toEqual(BILLED);
  });

  it("100.00 of 402.67 is 46.94 untaxed, 49.48 taxed and 3.58 tax", () => {
    // 10000 × 18900 / 40267 = 4693.67, × 19923 = 4947.72, × 1444 = 358.61: 9998 rounded down, and the two cents left go
    // to the largest remainders, .72 and .67.
    expect(creditOf(BILLED, 100_00)).toEqual({
      net_minor: 96_42,
      taxes: [{ name: "Sales tax", rate_ppm: 72_500, taxable_minor: 49_48, tax_minor: 3_58 }],
      total_minor: 100_00,
    });
  });

  it("an invoice without tax is given back without tax", () => {
    const untaxed = { net_minor: 50_00, taxes: [], total_minor: 50_00 };
    expect(creditOf(untaxed, 12_34)).toEqual({ net_minor: 12_34, taxes: [], total_minor: 12_34 });
  });

  it("two taxes, of which each gets its part", () => {
    // 60.00 at 10 % and 40.00 at 5 %: 100.00 + 6.00 + 2.00 = 108.00; half of it is 30.00, 3.00, 20.00 and 1.00.
    const two: Billed = {
      net_minor: 100_00,
      taxes: [
        { name: "A", rate_ppm: 100_000, taxable_minor: 60_00, tax_minor: 6_00 },
        { name: "B", rate_ppm: 50_000, taxable_minor: 40_00, tax_minor: 2_00 },
      ],
      total_minor: 108_00,
    };
    const half = creditOf(two, 54_00);
    expect(half.taxes.map(({ taxable_minor, tax_minor }) => [taxable_minor, tax_minor])).toEqual([
      [30_00, 3_00],
      [20_00, 1_00],
    ]);
    expect(half.net_minor).toBe(50_00);
  });

  it.each([0, -1, 402_68, 0.5])("%s cannot be given back", (amount) => {
    expect(() => creditOf(BILLED, amount)).toThrow(RangeError);
  });
});

describe("extra work", () => {
  const ten = { name: "Tax", rate_ppm: 100_000 };
  const order = {
    lines: [lineOfOne("parts", "Hose", 200_000_000)],
    discount: { kind: "percent" as const, rate_ppm: 100_000 },
    taxes: { parts: ten, labor: ten },
    extra: { lines: [lineOfOne("labor", "Relay", 50_000_000)], agreed_minor: 55_00, yes: null },
  };

  it("bears none of the discount: 200.00 less 20.00 and 50.00 are 230.00, with 23.00 tax 253.00", () => {
    expect(invoiceTotal(order, "USD")).toMatchObject({
      subtotal_minor: 250_00,
      discount_minor: 20_00,
      net_minor: 230_00,
      taxes: [{ taxable_minor: 230_00, tax_minor: 23_00 }],
      total_minor: 253_00,
    });
  });

  it("adds 55.00 to 198.00; without any, nothing", () => {
    expect(extraTotal(order, "USD")).toBe(55_00);
    expect(extraTotal({ ...order, extra: undefined }, "USD")).toBe(0);
  });
});

describe("invoiceState(balance, pay_by, today)", () => {
  const of = (credited_minor: number, paid_minor: number) => ({ total_minor: 402_67, credited_minor, paid_minor });
  it.each([
    ["nothing paid, in time", of(0, 0), "2026-05-15", "open", 402_67],
    ["nothing paid, the last day over", of(0, 0), "2026-05-14", "overdue", 402_67],
    ["part paid", of(0, 200_00), null, "open", 202_67],
    ["all paid", of(0, 402_67), "2026-05-14", "paid", 0],
    ["part given back, the rest paid", of(100_00, 302_67), "2026-05-14", "paid", 0],
    ["all given back, nothing paid", of(402_67, 0), null, "credited", 0],
    ["paid, then given back", of(100_00, 402_67), null, "to-refund", -100_00],
  ] as const)("%s", (_what, balance, pay_by, state, owing) => {
    expect(invoiceState(balance, pay_by, "2026-05-15")).toBe(state);
    expect(owingOf(balance)).toBe(owing);
  });
});
