import type { PriceBook } from "../src/core/quotes/price-book.ts";
import { CUSTOMER_WORDS } from "./customer-words.ts";

/**
 * The price books that a shop begins with. Every number here is INVENTED: near what the model assumes where nobody has
 * said anything (`data/parameters.ts`), so that a first quote is not absurd, and meant to be replaced before one is
 * given. Hours and part prices are of no real vehicle, tax rates of no real place.
 */
export const SAMPLE_PRICES_NOTE = "These are sample prices. Enter your own before you send a quote.";

const WARRANTY_WORDS = CUSTOMER_WORDS["book.warranty"].en;

export const RETAIL_BOOK: PriceBook = {
  name: "Retail",
  currency: "USD",
  labor_rate_micro: 110_000_000,
  places: {
    "service-port": { hours_milli: 400, parts_micro: 18_000_000, opened: false },
    joint: { hours_milli: 1200, parts_micro: 32_000_000, opened: true },
    hose: { hours_milli: 1500, parts_micro: 165_000_000, opened: true },
    condenser: { hours_milli: 2200, parts_micro: 390_000_000, opened: true },
    evaporator: { hours_milli: 7500, parts_micro: 410_000_000, opened: true },
    compressor: { hours_milli: 3000, parts_micro: 560_000_000, opened: true },
  },
  recover_micro: 45_000_000,
  evacuate_micro: 65_000_000,
  charge_micro: 50_000_000,
  refrigerants: {
    "R-134a": { price_micro: 3_000_000, per: "oz" },
    "R-1234yf": { price_micro: 9_500_000, per: "oz" },
    "R-12": { price_micro: 8_500_000, per: "oz" },
  },
  dye_micro: 22_000_000,
  dye_inspection_micro: 55_000_000,
  electronic_micro: 100_000_000,
  supplies: { rate_ppm: 80_000, most_minor: 3500 },
  taxes: {
    parts: { name: CUSTOMER_WORDS["book.tax-parts"].en, rate_ppm: 70_000 },
    labor: { name: CUSTOMER_WORDS["book.tax-labor"].en, rate_ppm: 0 },
  },
  warranty: { months: 12, words: WARRANTY_WORDS },
  valid_days: 30,
};

export const FLEET_BOOK: PriceBook = {
  ...RETAIL_BOOK,
  name: "Fleet account",
  labor_rate_micro: 96_000_000,
  recover_micro: 40_000_000,
  evacuate_micro: 55_000_000,
  charge_micro: 45_000_000,
  refrigerants: {
    "R-134a": { price_micro: 2_600_000, per: "oz" },
    "R-1234yf": { price_micro: 8_600_000, per: "oz" },
    "R-12": { price_micro: 7_900_000, per: "oz" },
  },
  electronic_micro: 80_000_000,
  supplies: { rate_ppm: 50_000, most_minor: 2500 },
  valid_days: 60,
};

/**
 * From so many months of warranty on, a repair that did not hold is done again at the shop's expense in the model's
 * count. Working assumption: a leak that is still there shows within a year, one hot season included.
 */
export const REWORK_WARRANTY_MONTHS = 12;
