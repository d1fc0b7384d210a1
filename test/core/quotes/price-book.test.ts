import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import { FLEET_BOOK, RETAIL_BOOK } from "../../../data/price-book.ts";
import { mainUnits } from "../../../src/core/quantities/money.ts";
import { LOCATION_IDS, type PlanInput } from "../../../src/core/question/contract.ts";
import { bookPrices } from "../../../src/core/quotes/book-prices.ts";
import { PRICED_PER, type PriceBook, pricePerGram, soldQuantity } from "../../../src/core/quotes/price-book.ts";
import { pricedUnder } from "../../../src/core/quotes/price-terms.ts";
import { type OptionWork, optionTotal } from "../../../src/core/quotes/quote.ts";
import { type QuoteCase, quoteLines } from "../../../src/core/quotes/quote-lines.ts";

const OZ = 28.349523125; // g, NIST SP 811 (2008)

/** Round prices, so that a person can add them up. */
const BOOK: PriceBook = {
  ...RETAIL_BOOK,
  labor_rate_micro: 100_000_000,
  places: {
    ...RETAIL_BOOK.places,
    hose: { hours_milli: 1500, parts_micro: 200_000_000, opened: true },
    "service-port": { hours_milli: 400, parts_micro: 20_000_000, opened: false },
  },
  recover_micro: 40_000_000,
  evacuate_micro: 60_000_000,
  charge_micro: 50_000_000,
  refrigerants: { ...RETAIL_BOOK.refrigerants, "R-134a": { price_micro: 100_000, per: "g" } },
  dye_micro: 20_000_000,
  dye_inspection_micro: 50_000_000,
  electronic_micro: 90_000_000,
  supplies: { rate_ppm: 0, most_minor: null },
  taxes: { parts: { name: "Sales tax", rate_ppm: 100_000 }, labor: { name: "Labor tax", rate_ppm: 0 } },
  warranty: { months: 6, words: "" },
};
const CASE: QuoteCase = { refrigerant: "R-134a", nameplate_g: 600, missing_g: 253, likeliest: "hose" };

const work = (changes: Partial<OptionWork>): OptionWork => ({ recharge: false, test: null, repair: null, ...changes });
const linesOf = (of: Partial<OptionWork>, book = BOOK, given = CASE) =>
  quoteLines(book, work(of), given, "USD").map(
    ({ kind, quantity_milli, unit, unit_price_micro }) =>
      `${kind} ${quantity_milli / 1000}${unit} × ${unit_price_micro / 1e6}`,
  );
const totalOf = (of: Partial<OptionWork>, book = BOOK, given = CASE, currency = "USD") =>
  mainUnits(
    optionTotal({ lines: quoteLines(book, work(of), given, currency), discount: null }, book.taxes, currency)
      .total_minor,
    currency,
  );

describe("quoteLines(book, work)", () => {
  it("a recharge takes what is missing, to ten grams", () => {
    expect(linesOf({ recharge: true })).toEqual([
      "service 1 × 40",
      "service 1 × 60",
      "service 1 × 50",
      "refrigerant 250g × 0.1",
    ]);
  });

  it("a repair that opens the system takes a full charge", () => {
    expect(linesOf({ repair: "hose" })).toEqual([
      "labor 1.5h × 100",
      "parts 1 × 200",
      "service 1 × 40",
      "service 1 × 60",
      "service 1 × 50",
      "refrigerant 600g × 0.1",
    ]);
  });

  it("one under pressure takes what is missing, and neither recovery nor evacuation", () => {
    expect(linesOf({ repair: "service-port" })).toEqual([
      "labor 0.4h × 100",
      "parts 1 × 20",
      "service 1 × 50",
      "refrigerant 250g × 0.1",
    ]);
  });

  it("the line says why one takes less than another that recovers, too", () => {
    const refrigerant = (of: Partial<OptionWork>) =>
      quoteLines(BOOK, work(of), CASE, "USD").find(({ kind }) => kind === "refrigerant")?.text;
    expect(refrigerant({ recharge: true })).toBe("R-134a, what is missing; the rest goes back in");
    expect(refrigerant({ repair: "hose" })).toBe("R-134a, full charge by weight, all of it new");
    expect(refrigerant({ repair: "service-port" })).toBe("R-134a, what is missing");
  });

  it("tests, alone and with the rest", () => {
    expect(linesOf({ test: "electronic" })).toEqual(["test 1 × 90"]);
    expect(linesOf({ recharge: true, test: "dye" })).toContain("test 1 × 20");
    expect(linesOf({ recharge: true, test: "dye" })).toContain("test 1 × 50");
    expect(linesOf({ test: "electronic", repair: "found" })).toEqual(["test 1 × 90", ...linesOf({ repair: "hose" })]);
  });

  it("what costs nothing or is not needed has no line", () => {
    const free = { ...BOOK, recover_micro: 0 };
    expect(linesOf({ recharge: true }, free, { ...CASE, missing_g: 0 })).toEqual(["service 1 × 60", "service 1 × 50"]);
    expect(linesOf({})).toEqual([]);
  });

  it("supplies are a part of labor and service, up to a limit", () => {
    // 8 % of (150 + 40 + 60 + 50) = 24.00
    const with_supplies = { ...BOOK, supplies: { rate_ppm: 80_000, most_minor: null } };
    expect(linesOf({ repair: "hose" }, with_supplies).at(-1)).toBe("supplies 1 × 24");
    const limited = { ...BOOK, supplies: { rate_ppm: 80_000, most_minor: 1500 } };
    expect(linesOf({ repair: "hose" }, limited).at(-1)).toBe("supplies 1 × 15");
  });

  it("refrigerant is sold as a scale is read", () => {
    expect(soldQuantity(650, "g")).toBe(650_000);
    expect(soldQuantity(650, "kg")).toBe(650);
    expect(soldQuantity(23 * OZ, "oz")).toBe(23_000);
    expect(soldQuantity(654, "oz")).toBe(23_100); // 23.069 oz
    expect(soldQuantity(453.59237, "lb")).toBe(1000);
    expect(pricePerGram({ price_micro: 3_000_000, per: "oz" })).toBeCloseTo(3 / OZ, 12);
  });
});

describe("bookPrices(book) worked by hand", () => {
  const { prices, assumptions } = bookPrices(BOOK, CASE);

  test("service and refrigerant", () => {
    // 40 + 60 + 50; 0.10 + 10 % tax on parts
    expect(prices).toMatchObject({ shop_topoff_fee: 150, repair_service: 150 });
    expect(prices.shop_refrigerant_per_g).toBeCloseTo(0.11, 12);
    // 20 + 10 %; labor is not taxed
    expect(prices.dye_price).toBeCloseTo(22, 12);
    expect(prices).toMatchObject({ dye_inspection_fee: 50, electronic_price: 90, locate_fee: 90 });
  });

  test("a hose: 150 labor + 220 part beside a full service of 150 + 66", () => {
    expect(prices.locations?.hose?.service).toBeCloseTo(1, 12);
    expect(prices.locations?.hose?.price).toBeCloseTo(370, 9);
  });

  test("a service port: 40 + 22 beside a charge of 50 and 253 g at 0.11", () => {
    // Quoted: 40 + 22 + 50 + 250 g × 0.10 × 1.1 = 139.50; counted as service: 50 + 27.83 = 77.83 of 216.
    expect(prices.locations?.["service-port"]?.service).toBeCloseTo(77.83 / 216, 9);
    expect(prices.locations?.["service-port"]?.price).toBeCloseTo(139.5 - 77.83, 9);
  });

  test("a year of warranty takes the rework over", () => {
    expect(assumptions).toEqual({});
    const year = { ...BOOK, warranty: { months: 12, words: "" } };
    expect(bookPrices(year, CASE).assumptions).toEqual({ rework_share: 0 });
  });
});

describe("prices that depend on the vehicle, worked by hand", () => {
  const refrigerants = {
    ...BOOK.refrigerants,
    "R-1234yf": { price_micro: 300_000, per: "g", service_extra_micro: 70_000_000 },
  } as const;
  const book: PriceBook = {
    ...BOOK,
    refrigerants,
    electric_compressor: { hours_milli: 4000, parts_micro: 1_900_000_000 },
  };
  const flammable: QuoteCase = { ...CASE, refrigerant: "R-1234yf" };

  test("a refrigerant with a machine of its own: 40 + 60 + 70 + 50 for the service", () => {
    expect(linesOf({ recharge: true }, book, flammable)).toContain("service 1 × 70");
    expect(bookPrices(book, flammable).prices).toMatchObject({ shop_topoff_fee: 220, repair_service: 220 });
    expect(bookPrices(book, CASE).prices).toMatchObject({ shop_topoff_fee: 150, repair_service: 150 });
  });

  test("a compressor that high voltage drives: 4 h × 100 + 1900 + 10 % tax", () => {
    const electric = { ...CASE, electric: true };
    expect(linesOf({ repair: "compressor" }, book, electric)).toEqual(
      expect.arrayContaining(["labor 4h × 100", "parts 1 × 1900"]),
    );
    expect(bookPrices(book, electric).prices.locations?.compressor?.price).toBeCloseTo(400 + 2090, 9);
    // 3 h × 100 + 560 + 10 % for one that a belt drives, and for other repairs of either.
    expect(bookPrices(book, CASE).prices.locations?.compressor?.price).toBeCloseTo(300 + 616, 9);
    expect(linesOf({ repair: "hose" }, book, electric)).toEqual(linesOf({ repair: "hose" }, book, CASE));
  });

  test("what the book leaves out is as for a compressor that a belt drives", () => {
    const parts_only = { ...BOOK, electric_compressor: { parts_micro: 1_900_000_000 } };
    expect(linesOf({ repair: "compressor" }, parts_only, { ...CASE, electric: true })).toEqual(
      expect.arrayContaining(["labor 3h × 100", "parts 1 × 1900"]),
    );
  });

  test("a season with a failing compressor is worth what it is in the money of the book: 150 at 110 an hour", () => {
    const asked = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 600 } } as const;
    const worth = (currency: string, labor: number, plan: PlanInput) => {
      const own = { book: { ...BOOK, currency, labor_rate_micro: labor * 1e6 } };
      return pricedUnder({ ...asked, plan }, { currency, book: own }, { electric: false }).plan?.season_worth;
    };
    const failing = { other_trouble: "compressor-failing" } as const;
    expect(worth("USD", 110, failing)).toBeCloseTo(150, 9);
    expect(worth("JPY", 11_000, failing)).toBeCloseTo(15_000, 6);
    expect(worth("JPY", 11_000, { ...failing, season_worth: 40_000 })).toBe(40_000);
    expect(worth("JPY", 11_000, {})).toBeUndefined();
  });
});

const micro = fc.integer({ min: 0, max: 2_000_000_000 });
const anyBook: fc.Arbitrary<PriceBook> = fc
  .record({
    labor_rate_micro: micro,
    recover_micro: micro,
    evacuate_micro: micro,
    charge_micro: micro,
    electronic_micro: micro,
    hours_milli: fc.integer({ min: 0, max: 20_000 }),
    parts_micro: micro,
    opened: fc.boolean(),
    price_micro: fc.integer({ min: 0, max: 10_000_000 }),
    per: fc.constantFrom(...PRICED_PER),
    supplies: fc.record({
      rate_ppm: fc.integer({ min: 0, max: 200_000 }),
      most_minor: fc.option(fc.integer({ min: 0, max: 10_000 })),
    }),
    taxes: fc.record({
      parts: fc.record({ name: fc.constant("P"), rate_ppm: fc.integer({ min: 0, max: 300_000 }) }),
      labor: fc.record({ name: fc.constantFrom("P", "L"), rate_ppm: fc.integer({ min: 0, max: 300_000 }) }),
    }),
  })
  .map(({ hours_milli, parts_micro, opened, price_micro, per, ...rest }) => ({
    ...BOOK,
    ...rest,
    places: { ...BOOK.places, hose: { hours_milli, parts_micro, opened } },
    refrigerants: { ...BOOK.refrigerants, "R-134a": { price_micro, per } },
  }));

it("a repair costs the model today what the book quotes for it", () => {
  fc.assert(
    fc.property(anyBook, fc.constantFrom("USD", "JPY", "KWD"), (book, currency) => {
      const { prices } = bookPrices({ ...book, currency }, CASE);
      const service = prices.repair_service! + prices.shop_refrigerant_per_g! * CASE.nameplate_g;
      const place = prices.locations!.hose!;
      const quoted = totalOf({ repair: "hose" }, book, CASE, currency);
      // Rounding of the quote, and of what a scale reads (up to 10 g of the book's dearest refrigerant and its tax).
      const counted = place.service! * service + place.price!;
      const tolerance = place.price === 0 ? 10 * 1.3 * prices.shop_refrigerant_per_g! + 2 : 1e-6 * (1 + quoted);
      expect(Math.abs(counted - quoted)).toBeLessThanOrEqual(tolerance);
    }),
  );
});

it.each([RETAIL_BOOK, FLEET_BOOK])("the invented book “$name” has a price for every place", (book) => {
  const { prices } = bookPrices(book, CASE);
  for (const id of LOCATION_IDS) expect(prices.locations?.[id]?.price).toBeGreaterThan(0);
});
