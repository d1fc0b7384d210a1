import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import {
  allReplacedBy,
  type Discount,
  excludedBy,
  LINE_KINDS,
  optionTotal,
  type QuoteLine,
  relationFaults,
  TAX_CLASSES,
  type Taxes,
} from "../../../src/core/quotes/quote.ts";

const NO_TAX: Taxes = { parts: { name: "Tax", rate_ppm: 0 }, labor: { name: "Tax", rate_ppm: 0 } };

/** `quantity` and `price` in thousandths and millionths. */
function line(
  kind: QuoteLine["kind"],
  quantity_milli: number,
  unit_price_micro: number,
  tax_class: QuoteLine["tax_class"],
  discount: Discount | null = null,
): QuoteLine {
  return { kind, text: kind, quantity_milli, unit: "", unit_price_micro, discount, tax_class };
}

describe("invoices worked by hand from sample prices", () => {
  test("dollars: a discount on a line and on the whole, two taxes", () => {
    //  labor        1.5 h × 118.00            177.00
    //  hose         1 × 164.99 = 164.99 less 10 % (16.499 → 16.50)
    //                                         148.49
    //  service      1 × 150.00                150.00
    //  refrigerant  23 oz × 3.125 = 71.875 →   71.88
    //  supplies     1 × 12.35                  12.35
    //                                         559.72
    //  less 5 % (27.986 → 27.99)               27.99
    //                                         531.73
    //  27.99 shared out by line: 8.85126, 7.42556, 7.50107, 3.59451, 0.61759
    //    rounded down 8.85 + 7.42 + 7.50 + 3.59 + 0.61 = 27.97, two cents to the largest remainders: supplies and hose
    //    → 8.85, 7.43, 7.50, 3.59, 0.62
    //  on parts (hose 141.06, refrigerant 68.29, supplies 11.73): 221.08 × 7.25 % = 16.0283 → 16.03
    //  on labor (labor 168.15, service 142.50):                   310.65 × 2 %    =  6.2130 →  6.21
    //  531.73 + 16.03 + 6.21 =                553.97
    const lines = [
      line("labor", 1500, 118_000_000, "labor"),
      line("parts", 1000, 164_990_000, "parts", { kind: "percent", rate_ppm: 100_000 }),
      line("service", 1000, 150_000_000, "labor"),
      line("refrigerant", 23_000, 3_125_000, "parts"),
      line("supplies", 1000, 12_350_000, "parts"),
    ];
    const taxes = { parts: { name: "Sales tax", rate_ppm: 72_500 }, labor: { name: "Service tax", rate_ppm: 20_000 } };
    const total = optionTotal({ lines, discount: { kind: "percent", rate_ppm: 50_000 } }, taxes, "USD");
    expect(total).toEqual({
      lines: [
        { gross_minor: 17_700, discount_minor: 0, net_minor: 17_700 },
        { gross_minor: 16_499, discount_minor: 1650, net_minor: 14_849 },
        { gross_minor: 15_000, discount_minor: 0, net_minor: 15_000 },
        { gross_minor: 7188, discount_minor: 0, net_minor: 7188 },
        { gross_minor: 1235, discount_minor: 0, net_minor: 1235 },
      ],
      subtotal_minor: 55_972,
      discount_minor: 2799,
      net_minor: 53_173,
      taxes: [
        { name: "Sales tax", rate_ppm: 72_500, taxable_minor: 22_108, tax_minor: 1603 },
        { name: "Service tax", rate_ppm: 20_000, taxable_minor: 31_065, tax_minor: 621 },
      ],
      total_minor: 55_397,
    });
  });

  test("yen: one tax on everything is rounded once, not once on parts and once on labor", () => {
    //  labor        2.5 h × 8546       21365
    //  part         1 × 45505          45505
    //  refrigerant  580 g × 12.5        7250
    //                                  74120
    //  10 % of 74120 =                  7412   (apart: 10 % of 21365 → 2137, of 52755 → 5276, together 7413)
    //                                  81532
    const lines = [
      line("labor", 2500, 8_546_000_000, "labor"),
      line("parts", 1000, 45_505_000_000, "parts"),
      line("refrigerant", 580_000, 12_500_000, "parts"),
    ];
    const tax = { name: "Consumption tax", rate_ppm: 100_000 };
    const total = optionTotal({ lines, discount: null }, { parts: tax, labor: { ...tax } }, "JPY");
    expect(total).toMatchObject({ subtotal_minor: 74_120, discount_minor: 0, total_minor: 81_532 });
    expect(total.taxes).toEqual([{ ...tax, taxable_minor: 74_120, tax_minor: 7412 }]);
    const apart = optionTotal({ lines, discount: null }, { parts: tax, labor: { ...tax, name: "Other tax" } }, "JPY");
    expect(apart.taxes.map(({ tax_minor }) => tax_minor)).toEqual([5276, 2137]);
  });

  test("dinars with three decimals: a fixed discount, no tax", () => {
    //  labor  0.75 h × 9.250 = 6.9375 → 6.938
    //  seals  2 × 1.335                 2.670
    //                                   9.608
    //  less                             0.500
    //                                   9.108
    const lines = [line("labor", 750, 9_250_000, "labor"), line("parts", 2000, 1_335_000, "parts")];
    const total = optionTotal({ lines, discount: { kind: "amount", amount_minor: 500 } }, NO_TAX, "KWD");
    expect(total).toMatchObject({ subtotal_minor: 9608, discount_minor: 500, total_minor: 9108, taxes: [] });
  });

  test("euros: an exempt line bears no tax, and a line may be free", () => {
    //  labor     1.2 h × 95.00                  114.00
    //  O-rings   6 × 2.45 = 14.70 less 14.70      0.00
    //  test      1 × 89.90                       89.90, exempt
    //                                           203.90
    //  less 3.90: 114/203.90 × 3.90 = 2.18048 → 2.18 (remainder .048), 89.90/203.90 × 3.90 = 1.71952 → 1.71 + 0.01
    //                                           200.00
    //  19 % of 114.00 − 2.18 = 111.82: 21.2458 → 21.25
    //                                           221.25
    const lines = [
      line("labor", 1200, 95_000_000, "labor"),
      line("parts", 6000, 2_450_000, "parts", { kind: "amount", amount_minor: 1470 }),
      line("test", 1000, 89_900_000, "none"),
    ];
    const vat = { name: "VAT", rate_ppm: 190_000 };
    const total = optionTotal(
      { lines, discount: { kind: "amount", amount_minor: 390 } },
      { parts: vat, labor: vat },
      "EUR",
    );
    expect(total.taxes).toEqual([{ ...vat, taxable_minor: 11_182, tax_minor: 2125 }]);
    expect(total.total_minor).toBe(22_125);
  });
});

test("a discount larger than what it is taken from is refused", () => {
  const lines = [line("labor", 1000, 10_000_000, "labor", { kind: "amount", amount_minor: 1001 })];
  expect(() => optionTotal({ lines, discount: null }, NO_TAX, "USD")).toThrow(RangeError);
  const plain = [line("labor", 1000, 10_000_000, "labor")];
  expect(() =>
    optionTotal({ lines: plain, discount: { kind: "percent", rate_ppm: 1_001_000 } }, NO_TAX, "USD"),
  ).toThrow(RangeError);
});

const rate = fc.integer({ min: 0, max: 1_000_000 });
const anyLine: fc.Arbitrary<QuoteLine> = fc.record({
  // What is taken off has tests of its own (own-lines.test.ts).
  kind: fc.constantFrom(...LINE_KINDS.filter((kind) => kind !== "credit")),
  text: fc.constant(""),
  quantity_milli: fc.integer({ min: 0, max: 100_000_000 }),
  unit: fc.constant(""),
  unit_price_micro: fc.integer({ min: 0, max: 1_000_000_000 }),
  discount: fc.option(rate.map((rate_ppm) => ({ kind: "percent" as const, rate_ppm }))),
  tax_class: fc.constantFrom(...TAX_CLASSES),
});
const anyOption = fc.record({
  lines: fc.array(anyLine, { maxLength: 20 }),
  discount: fc.option(rate.map((rate_ppm) => ({ kind: "percent" as const, rate_ppm }))),
});
const anyTaxes: fc.Arbitrary<Taxes> = fc.record({
  parts: fc.record({ name: fc.constantFrom("A", "B"), rate_ppm: fc.constantFrom(0, 72_500, 190_000) }),
  labor: fc.record({ name: fc.constantFrom("A", "B"), rate_ppm: fc.constantFrom(0, 72_500, 190_000) }),
});
const anyCurrency = fc.constantFrom("JPY", "USD", "KWD");

describe("sums never drift", () => {
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

  it("every figure of the invoice is a whole number, and the column adds up", () => {
    fc.assert(
      fc.property(anyOption, anyTaxes, anyCurrency, (option, taxes, currency) => {
        const total = optionTotal(option, taxes, currency);
        for (const one of total.lines) expect(one.net_minor).toBe(one.gross_minor - one.discount_minor);
        expect(total.subtotal_minor).toBe(sum(total.lines.map(({ net_minor }) => net_minor)));
        expect(total.net_minor).toBe(total.subtotal_minor - total.discount_minor);
        expect(total.total_minor).toBe(total.net_minor + sum(total.taxes.map(({ tax_minor }) => tax_minor)));
        expect(Number.isSafeInteger(total.total_minor)).toBe(true);
        expect(total.total_minor).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("what the taxes are taken of adds up to what bears them, after the discount", () => {
    const taxes = { parts: { name: "A", rate_ppm: 72_500 }, labor: { name: "B", rate_ppm: 20_000 } };
    const bearing = anyOption.map((option) => ({
      ...option,
      lines: option.lines.map((one) => ({ ...one, tax_class: one.tax_class === "none" ? "labor" : one.tax_class })),
    })) as typeof anyOption;
    fc.assert(
      fc.property(bearing, anyCurrency, (option, currency) => {
        const total = optionTotal(option, taxes, currency);
        expect(sum(total.taxes.map(({ taxable_minor }) => taxable_minor))).toBe(total.net_minor);
      }),
    );
  });

  it("the order of the lines does not matter by more than one in each tax", () => {
    fc.assert(
      fc.property(anyOption, anyTaxes, anyCurrency, (option, taxes, currency) => {
        const there = optionTotal(option, taxes, currency);
        const back = optionTotal({ ...option, lines: option.lines.toReversed() }, taxes, currency);
        expect(back.net_minor).toBe(there.net_minor);
        expect(Math.abs(back.total_minor - there.total_minor)).toBeLessThanOrEqual(there.taxes.length);
      }),
    );
  });

  it("a line split in two differs by one at most", () => {
    fc.assert(
      fc.property(anyLine, fc.integer({ min: 0, max: 100_000_000 }), anyCurrency, (one, at, currency) => {
        const first = Math.min(at, one.quantity_milli);
        const plain = { ...one, discount: null };
        const whole = optionTotal({ lines: [plain], discount: null }, NO_TAX, currency);
        const split = [first, one.quantity_milli - first].map((quantity_milli) => ({ ...plain, quantity_milli }));
        const parts = optionTotal({ lines: split, discount: null }, NO_TAX, currency);
        expect(Math.abs(whole.total_minor - parts.total_minor)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("all off is free, nothing off is the subtotal", () => {
    fc.assert(
      fc.property(anyOption, anyTaxes, ({ lines }, taxes) => {
        const free = optionTotal({ lines, discount: { kind: "percent", rate_ppm: 1_000_000 } }, taxes, "USD");
        expect(free.total_minor).toBe(0);
        const full = optionTotal({ lines, discount: { kind: "percent", rate_ppm: 0 } }, taxes, "USD");
        expect(full).toEqual(optionTotal({ lines, discount: null }, taxes, "USD"));
      }),
    );
  });
});

describe("options that refer to each other", () => {
  const option = (id: string, replaces: string[] = [], excludes: string[] = []) => ({ id, replaces, excludes });

  it("are fine when each names another, or none", () => {
    expect(relationFaults([option("a"), option("b", ["a"]), option("c", ["b"], ["a"])])).toEqual([]);
  });

  it("may not name themselves, one that is not there, or each other in a circle", () => {
    expect(relationFaults([option("a", ["a"])])).toEqual([{ option: "a", other: "a", fault: "itself" }]);
    expect(relationFaults([option("a", [], ["z"])])).toEqual([{ option: "a", other: "z", fault: "unknown" }]);
    expect(relationFaults([option("a", ["b"]), option("b", ["c"]), option("c", ["a"])])).toEqual([
      { option: "a", other: "b", fault: "circle" },
      { option: "b", other: "c", fault: "circle" },
      { option: "c", other: "a", fault: "circle" },
    ]);
    expect(relationFaults([option("a"), option("b", ["a"], ["a"])])).toEqual([
      { option: "b", other: "a", fault: "replaces-and-excludes" },
    ]);
  });

  it("replace what is replaced by what they replace", () => {
    const options = [option("a"), option("b", ["a"]), option("c", ["b"])];
    const by_id = new Map(options.map((one) => [one.id, one]));
    expect(allReplacedBy("c", by_id)).toEqual(new Set(["a", "b"]));
  });

  it("exclude both ways", () => {
    const options = [option("a", [], ["c"]), option("b"), option("c")];
    expect(excludedBy("a", options)).toEqual(["c"]);
    expect(excludedBy("c", options)).toEqual(["a"]);
    expect(excludedBy("b", options)).toEqual([]);
  });
});
