import type { ListedQuote } from "../../../views/quotes/quotes-page.tsx";
import { quoteState } from "../../core/quotes/quote-document.ts";
import type { QuoteSummary } from "../../store/quote-lists.ts";
import { calendarDay } from "../edge/calendar-day.ts";

/** Quotes as lists show them on the day `today`, where the shop is. */
export function listedQuotes(quotes: readonly QuoteSummary[], today: string, time_zone: string): ListedQuote[] {
  return quotes.map((quote) => {
    const { status, valid_until, sent_at, decided_at, updated_at } = quote;
    const state = quoteState(status, valid_until, today);
    const since = decided_at ?? (status === "sent" ? sent_at : null) ?? updated_at;
    return {
      id: quote.id,
      number: quote.number,
      vehicle_id: quote.vehicle_id,
      vehicle_label: quote.vehicle_label,
      customer: quote.customer,
      state,
      on: state === "expired" && valid_until !== null ? valid_until : calendarDay(new Date(since), time_zone),
      decided_title: quote.decided_title,
      decided_name: quote.decided_name,
      worked: quote.work_at !== null,
      total_minor: quote.total_minor,
      currency: quote.currency,
    };
  });
}
