import { RETAIL_BOOK } from "../../data/price-book.ts";
import type { AssessRequest } from "../../src/core/question/contract.ts";
import type { QuoteOption } from "../../src/core/quotes/quote.ts";
import {
  BLANK_LETTERHEAD,
  printedLetterhead,
  type QuoteContent,
  type QuoteSnapshot,
} from "../../src/core/quotes/quote-document.ts";
import { optionFromBook } from "../../src/core/quotes/quote-options.ts";

const CASE = { refrigerant: "R-134a", nameplate_g: 650, missing_g: 250, likeliest: "hose" } as const;

const OPTIONS: QuoteOption[] = [
  optionFromBook("a", RETAIL_BOOK, { recharge: true, test: null, repair: null }, CASE, "USD"),
  optionFromBook("b", RETAIL_BOOK, { recharge: false, test: null, repair: "hose" }, CASE, "USD"),
];

export const CONTENT: QuoteContent = {
  customer: "R. Ames",
  book_id: "retail",
  book: RETAIL_BOOK,
  currency: "USD",
  options: OPTIONS,
  recommended: "b",
  recommended_why: "",
  note: "",
  keep_years: 5,
  valid_days: 30,
};

const { number_format } = BLANK_LETTERHEAD;
const LETTERHEAD = printedLetterhead(BLANK_LETTERHEAD);

const REQUEST: AssessRequest = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } };

/** What the store keeps of a quote that is sent; what is in it is not the store's business. */
export const SNAPSHOT: QuoteSnapshot = {
  number: 1,
  sent_on: "2026-05-01",
  valid_until: "2026-05-31",
  letterhead: LETTERHEAD,
  customer: "R. Ames",
  vehicle: { label: "Van 2", refrigerant: "R-134a", nameplate_g: 650 },
  currency: "USD",
  number_format,
  units: "us",
  taxes: RETAIL_BOOK.taxes,
  warranty: RETAIL_BOOK.warranty,
  options: OPTIONS,
  recommended: "b",
  recommended_why: "",
  note: "",
  keep_years: 5,
  rules: [],
  request: REQUEST,
  model_version: "1",
  outlook: {
    keep_years: 5,
    leak: { g_per_year: { mean: 1, p05: 1, p95: 1 }, charge_now_g: 1, from_nothing: false },
    options: [],
    nothing: { low_now: true, low_on: "2026-05-01", release_g: 1, co2e_kg: 1 },
    advised: "b",
    check_first: false,
  },
};
