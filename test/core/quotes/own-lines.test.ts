import { describe, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../../data/price-book.ts";
import type { PriceBook } from "../../../src/core/quotes/price-book.ts";
import { optionTotal, type QuoteLine } from "../../../src/core/quotes/quote.ts";
import { lineOfOne, quoteLines } from "../../../src/core/quotes/quote-lines.ts";

const CASE = { refrigerant: "R-134a", nameplate_g: 650, missing_g: 250, likeliest: "hose" } as const;
const RECHARGE = { recharge: true, test: null, repair: null } as const;
const HOSE = { recharge: false, test: null, repair: "hose" } as const;
const ELECTRONIC = { recharge: false, test: "electronic", repair: null } as const;
const NO_TAX = { name: "", rate_ppm: 0 };

const totalOf = (lines: QuoteLine[], book: PriceBook = RETAIL_BOOK) =>
  optionTotal({ lines, discount: null }, book.taxes, "USD");

describe("a shop's own lines", () => {
  const fee = { text: "Environmental fee", price_micro: 4_500_000, kind: "service", always: true } as const;
  const credit = { text: "Diagnosis, paid before", price_micro: 60_000_000, kind: "credit", always: true } as const;
  const book: PriceBook = { ...RETAIL_BOOK, own_lines: { "1": fee, "2": credit } };
  const texts = (work: Parameters<typeof quoteLines>[1]) => quoteLines(book, work, CASE, "USD").map(({ text }) => text);

  test("that always come stand on each option that handles refrigerant, a credit on none by itself", () => {
    for (const work of [RECHARGE, HOSE]) {
      expect(texts(work)).toContain("Environmental fee");
      expect(texts(work)).not.toContain("Diagnosis, paid before");
    }
    expect(texts(ELECTRONIC)).not.toContain("Environmental fee");
  });

  test("count for supplies as labor and service do", () => {
    // Recover 45.00, evacuate 65.00, charge 50.00, fee 4.50: 164.50; 8 % of it is 13.16.
    const supplies = quoteLines(book, RECHARGE, CASE, "USD").find(({ kind }) => kind === "supplies");
    expect(supplies?.unit_price_micro).toBe(13_160_000);
  });
});

test("a markup is added to what parts cost: 165.00 and 12.5 % are 185.63 to the customer", () => {
  const lines = quoteLines({ ...RETAIL_BOOK, parts_markup_ppm: 125_000 }, HOSE, CASE, "USD");
  const parts = lines.findIndex(({ kind }) => kind === "parts");
  expect(lines[parts]?.unit_price_micro).toBe(185_625_000);
  expect(totalOf(lines).lines[parts]?.net_minor).toBe(185_63);
});

describe("a minimum charge", () => {
  test("adds what is lacking before tax, and nothing to an option that comes to more", () => {
    const book: PriceBook = { ...RETAIL_BOOK, minimum_micro: 150_000_000 };
    // An electronic test is 100.00, and no supplies go with a test.
    const lines = quoteLines(book, ELECTRONIC, CASE, "USD");
    expect(lines.at(-1)).toEqual(lineOfOne("service", "Minimum charge", 50_000_000));
    expect(totalOf(lines).net_minor).toBe(150_00);
    expect(quoteLines(book, HOSE, CASE, "USD").map(({ text }) => text)).not.toContain("Minimum charge");
  });
});

describe("a credit", () => {
  const taxes = { parts: { name: "Sales tax", rate_ppm: 70_000 }, labor: { name: "Labor tax", rate_ppm: 50_000 } };
  const labor = { ...lineOfOne("labor", "Replace the hose", 110_000_000), quantity_milli: 1500, unit: "h" };
  const parts = lineOfOne("parts", "Hose", 165_000_000);
  const credit = lineOfOne("credit", "Diagnosis, paid before", 60_000_000);

  test("is taken off with its tax: 165.00 − 60.00 = 105.00 of labor at 5 %, 165.00 of parts at 7 %", () => {
    const total = optionTotal({ lines: [labor, parts, credit], discount: null }, taxes, "USD");
    expect(total.lines[2]).toEqual({ gross_minor: -60_00, discount_minor: 0, net_minor: -60_00 });
    expect(total.taxes.map(({ taxable_minor, tax_minor }) => [taxable_minor, tax_minor])).toEqual([
      [165_00, 11_55],
      [105_00, 5_25],
    ]);
    expect([total.subtotal_minor, total.total_minor]).toEqual([270_00, 286_80]);
  });

  test("comes before a discount on all of it: 10 % of 270.00 is 27.00, 10.50 on 105.00 and 16.50 on 165.00", () => {
    const discount = { kind: "percent", rate_ppm: 100_000 } as const;
    const total = optionTotal({ lines: [labor, parts, credit], discount }, taxes, "USD");
    // Labor 94.50, tax 4.725 = 4.73; parts 148.50, tax 10.395 = 10.40.
    expect(total.taxes.map(({ taxable_minor }) => taxable_minor)).toEqual([148_50, 94_50]);
    expect(total.total_minor).toBe(243_00 + 10_40 + 4_73);
  });

  test("of all the labor leaves the discount to the parts", () => {
    const all = { ...credit, unit_price_micro: 165_000_000 };
    const discount = { kind: "percent", rate_ppm: 100_000 } as const;
    const total = optionTotal({ lines: [labor, parts, all], discount }, taxes, "USD");
    expect(total.taxes.map(({ taxable_minor }) => taxable_minor)).toEqual([148_50]);
  });

  test("above what bears the same tax is refused", () => {
    const more = { ...credit, unit_price_micro: 165_010_000 };
    expect(() => optionTotal({ lines: [labor, parts, more], discount: null }, taxes, "USD")).toThrow(RangeError);
    expect(() =>
      optionTotal({ lines: [parts, credit], discount: null }, { parts: NO_TAX, labor: NO_TAX }, "USD"),
    ).toThrow(RangeError);
  });
});
