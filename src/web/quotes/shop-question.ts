import { assess } from "../../core/assess.ts";
import {
  type AssessRequest,
  LOCATION_IDS,
  type LocationPrices,
  type PricesInput,
} from "../../core/question/contract.ts";
import { bookPrices } from "../../core/quotes/book-prices.ts";
import type { PriceBook } from "../../core/quotes/price-book.ts";
import type { QuoteCase } from "../../core/quotes/quote-lines.ts";
import { quoteCase } from "../../core/quotes/quote-options.ts";
import type { VehicleRecord } from "../../store/vehicle-record.ts";
import { vehicleRequest } from "../vehicle-answer.ts";

/**
 * What a vehicle's record asks of the model when a shop does the work at the prices of `book`, and the case that quotes
 * are made for. What the shop does not set (how often each place leaks, how well tests see) stays as the record has it.
 */
export function shopQuestion(
  record: VehicleRecord,
  as_of: string,
  { book, currency }: { book: PriceBook; currency: string },
): { request: AssessRequest; given: QuoteCase } {
  const { vehicle, workspace } = record;
  const by_shop: VehicleRecord = {
    ...record,
    vehicle: { ...vehicle, plan: { ...workspace.plan, ...vehicle.plan, service: "shop" } },
  };
  const asked = withRepairDuty(vehicleRequest(by_shop, as_of), workspace.place);
  const given = quoteCase(vehicle, assess(asked, { sensitivity: false }));
  const { prices, assumptions } = bookPrices(book, given, currency);
  const request = {
    ...asked,
    prices: withBook(asked.prices ?? {}, prices),
    assumptions: { ...asked.assumptions, ...assumptions },
  };
  return { request, given };
}

/**
 * Where a detected leak has to be repaired (Regulation (EU) 2024/573, Art. 4), a shop does not sell a recharge in place
 * of the repair once a test has shown one.
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

function withBook(own: PricesInput, book: PricesInput): PricesInput {
  const locations = Object.fromEntries(
    LOCATION_IDS.map((id): [string, LocationPrices] => [id, { ...own.locations?.[id], ...book.locations?.[id] }]),
  );
  return { ...own, ...book, locations };
}
