import { assess } from "../../core/assess.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import type { PriceBook } from "../../core/quotes/price-book.ts";
import type { QuoteCase } from "../../core/quotes/quote-lines.ts";
import { quoteCase } from "../../core/quotes/quote-options.ts";
import { placeSaid, type VehicleRecord } from "../../store/vehicle-record.ts";
import { vehicleRequest } from "../vehicle-answer.ts";

/**
 * The model's question when a shop does the work at the prices of `book`, and the case that quotes are made for. What
 * the shop does not set (how often each place leaks, how well tests detect) comes from the record.
 */
export function shopQuestion(
  record: VehicleRecord,
  as_of: string,
  { book }: { book: PriceBook },
): { request: AssessRequest; given: QuoteCase } {
  const { vehicle } = record;
  const terms = { currency: book.currency, book: { book } };
  const request = withRepairDuty(vehicleRequest(record, as_of, { service: "shop" }, terms), placeSaid(record));
  return { request, given: quoteCase(vehicle, assess(request, { sensitivity: false })) };
}

/**
 * Where a detected leak must be repaired (Regulation (EU) 2024/573, Art. 4), a shop does not sell a recharge instead of
 * the repair once a test has found one.
 */
function withRepairDuty(asked: AssessRequest, place: string | null): AssessRequest {
  const last_repair = (asked.log ?? []).reduce((last, { repair, date }) => (repair == null ? last : date), "");
  const detected = (asked.findings ?? []).some(({ result, date }) => result === "leak" && date >= last_repair);
  if (place !== "eu" || !detected) return asked;
  return {
    ...asked,
    plan: { ...asked.plan, barred: [...new Set([...(asked.plan?.barred ?? []), "top-off" as const])] },
  };
}
