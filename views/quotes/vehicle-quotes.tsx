import { type ListedQuote, QuoteTable } from "./quotes-page.tsx";

interface VehicleQuotesProps {
  vehicle_id: string;
  /** Newest first; the latest few are shown. */
  quotes: readonly ListedQuote[];
}

const SHOWN = 3;

/** A vehicle's quotes, for its page: the latest, and the way to all of them and to a new one. */
export function VehicleQuotes({ vehicle_id, quotes }: VehicleQuotesProps) {
  const path = `/vehicles/${vehicle_id}/quotes`;
  if (quotes.length === 0) {
    return (
      <p>
        No quotes yet. <a href={path}>Make one</a> to show the customer repair and recharge side by side.
      </p>
    );
  }
  return (
    <>
      <QuoteTable quotes={quotes.slice(0, SHOWN)} />
      <p>
        <a href={path}>{quotes.length > SHOWN ? `All ${quotes.length} quotes, and a new one` : "A new quote"}</a>
      </p>
    </>
  );
}
