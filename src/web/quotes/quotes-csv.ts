import type { ListedQuote } from "../../../views/quotes/quotes-page.tsx";
import { STATE_NAMES } from "../../../views/quotes/said-quote.ts";
import { mainUnits } from "../../core/quantities/money.ts";
import { csvOf } from "../edge/csv.ts";

/** Quotes as a table for a spreadsheet; totals have a decimal point, and their currency beside them. */
export function quotesCsv(quotes: readonly ListedQuote[]): string {
  return csvOf(
    ["quote", "customer", "vehicle", "state", "on", "option", "total", "currency", "work_logged"],
    quotes.map(({ number, customer, vehicle_label, state, on, decided_title, total_minor, currency, worked }) => [
      number,
      customer,
      vehicle_label,
      STATE_NAMES[state],
      on,
      decided_title,
      total_minor === null ? null : mainUnits(total_minor, currency),
      currency,
      worked ? "yes" : "no",
    ]),
  );
}
