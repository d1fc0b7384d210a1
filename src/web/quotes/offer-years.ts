import { planParameters } from "../../../data/parameters.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { CustomerSaid } from "../../../views/quotes/customer-said.tsx";
import { decimalSign } from "../../core/quantities/number-text.ts";
import type { QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import { type QuoteOutlook, quoteOutlook } from "../../core/quotes/quote-outlook.ts";
import { readNumber } from "../forms/typed-values.ts";

/** The years kept that a customer asks about, as typed and as a number. */
export interface TypedYears {
  typed: string;
  keep_years: number;
  errors: FieldError[];
}

/** Reads the years; missing or invalid ones fall back to the quote's. */
export function typedYears(
  typed: string | undefined,
  { keep_years, number_format }: QuoteSnapshot,
  said: CustomerSaid,
): TypedYears {
  const own = String(keep_years).replace(".", decimalSign(number_format));
  if (typed === undefined) return { typed: own, keep_years, errors: [] };
  const { min, max } = planParameters.keep_years;
  const years = readNumber(typed) ?? Number.NaN;
  if (years >= min && years <= max) return { typed, keep_years: years, errors: [] };
  return { typed, keep_years, errors: [{ field: "years", message: said.word("years.wrong", { min, max }) }] };
}

/**
 * The outlook of a quote that was sent: the one that it was sent with, or worked out for other years from the same
 * record.
 */
export function outlookOver(snapshot: QuoteSnapshot, keep_years: number): QuoteOutlook {
  if (keep_years === snapshot.keep_years) return snapshot.outlook;
  const { options, taxes, currency, request } = snapshot;
  return quoteOutlook({ options, taxes, currency, request }, keep_years);
}
