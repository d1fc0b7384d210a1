import { formatDate } from "../../src/core/quantities/dates.ts";
import type { QuoteState } from "../../src/core/quotes/quote.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { SelectField, TextField } from "../parts/field.tsx";
import { STATE_NAMES } from "./said-quote.ts";

/** A quote in a list. Days are where the shop is. */
export interface ListedQuote {
  id: string;
  number: number;
  vehicle_id: string;
  vehicle_label: string;
  customer: string;
  state: QuoteState;
  /** The day on which it got into this state. */
  on: string;
  decided_title: string | null;
  decided_name: string | null;
  /** The work that was accepted is logged. */
  worked: boolean;
}

interface QuotesPageProps {
  quotes: readonly ListedQuote[];
  asset: AssetUrl;
}

/** `/quotes`: the latest quotes of the workspace. */
export function QuotesPage({ quotes, asset }: QuotesPageProps) {
  return (
    <Layout title="Quotes · Seepwise" path="/quotes" asset={asset}>
      <h1 class="page-title">Quotes</h1>
      {quotes.length === 0 ? (
        <p class="page-lead">
          There is no quote yet. Open a <a href="/vehicles">vehicle</a> to begin one; put in your{" "}
          <a href="/prices">prices</a> before.
        </p>
      ) : (
        <Entry name="Latest first">
          <QuoteTable quotes={quotes} with_vehicle />
        </Entry>
      )}
    </Layout>
  );
}

export interface VehicleQuotesPageProps {
  vehicle: { id: string; label: string };
  quotes: readonly ListedQuote[];
  books: readonly { id: string; name: string }[];
  /** What was typed for a new one. */
  fields: { customer: string; keep_years: string; book: string };
  errors: readonly FieldError[];
  may_change: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/vehicles/:id/quotes`: the quotes of a vehicle, and a new one. */
export function VehicleQuotesPage(props: VehicleQuotesPageProps) {
  const { vehicle, quotes, books, fields, errors, may_change, submit_key, asset } = props;
  const messages = new Map(errors.map(({ field, message }) => [field, message]));
  return (
    <Layout
      title={`${errors.length > 0 ? "Error: " : ""}Quotes for ${vehicle.label} · Seepwise`}
      path="/quotes"
      asset={asset}
    >
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      <p class="page-name">
        <a href={`/vehicles/${vehicle.id}`}>{vehicle.label}</a>
      </p>
      <h1 class="page-title">Quotes for {vehicle.label}</h1>
      {quotes.length > 0 && (
        <Entry name="Given and begun">
          <QuoteTable quotes={quotes} />
        </Entry>
      )}
      {may_change && (
        <Entry name="A new quote" note={<p>It begins with the options that the record speaks for</p>}>
          <form method="post" action={`/vehicles/${vehicle.id}/quotes`} class="stack" novalidate>
            <input type="hidden" name="submit_key" value={submit_key} />
            <div class="field-grid">
              <TextField
                id="customer"
                name="customer"
                label="Customer"
                hint="As it stands on the quote; may stay empty"
                value={fields.customer}
                words
                error={messages.get("customer")}
              />
              <TextField
                id="keep_years"
                name="keep_years"
                label="Years the customer keeps the vehicle"
                value={fields.keep_years}
                short
                inputmode="decimal"
                unit="years"
                error={messages.get("keep_years")}
              />
              <SelectField
                id="book"
                name="book"
                label="Prices"
                value={fields.book}
                choices={books.map(({ id, name }) => ({ value: id, label: name }))}
                error={messages.get("book")}
              />
            </div>
            <p class="actions">
              <button type="submit" class="button">
                Begin the quote
              </button>
            </p>
          </form>
        </Entry>
      )}
    </Layout>
  );
}

/** Quotes as a table, each with how it stands. */
export function QuoteTable({
  quotes,
  with_vehicle = false,
}: {
  quotes: readonly ListedQuote[];
  with_vehicle?: boolean;
}) {
  return (
    <table class="quotes">
      <thead>
        <tr>
          <th scope="col">Quote</th>
          <th scope="col">How it stands</th>
        </tr>
      </thead>
      <tbody>
        {quotes.map((quote) => (
          <tr>
            <th scope="row">
              <a href={`/vehicles/${quote.vehicle_id}/quotes/${quote.id}`}>
                Quote {quote.number}
                {with_vehicle && `, ${quote.vehicle_label}`}
              </a>
              {quote.customer !== "" && <small>{quote.customer}</small>}
            </th>
            <td>
              <Standing quote={quote} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Standing({ quote }: { quote: ListedQuote }) {
  const { state, on, decided_title, decided_name, worked } = quote;
  return (
    <>
      <strong>{STATE_NAMES[state]}</strong>
      {decided_title !== null && `: ${decided_title}`}
      <small>
        {formatDate(on)}
        {decided_name !== null && `, by ${decided_name}`}
        {state === "accepted" && (worked ? "; the work is logged" : "; the work is not logged yet")}
      </small>
    </>
  );
}
