import type { NumberFormatId } from "../../data/number-formats.ts";
import { formatDate } from "../../src/core/quantities/dates.ts";
import { formatAmount } from "../../src/core/quantities/money.ts";
import { LOCATION_IDS } from "../../src/core/question/contract.ts";
import { QUOTE_STATES, type QuoteState } from "../../src/core/quotes/quote.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { Finder, Found } from "../parts/finder.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { PLACE_NAMES } from "../words/places.ts";
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
  /** Of the option that was accepted, else of the one that is recommended; null where there is neither. */
  total_minor: number | null;
  currency: string;
  /** It was answered, or ran out, since the reader's last visit. */
  is_new?: boolean;
}

interface QuotesPageProps {
  quotes: readonly ListedQuote[];
  search: { text: string; state: QuoteState | "" };
  /** What happened to each quote that is new to the reader, and since when. */
  news: { kinds: readonly ("accepted" | "declined" | "expired")[]; since: string };
  /** Number under which the older ones go on; null where this is the last page. */
  older: number | null;
  number_format: NumberFormatId;
  asset: AssetUrl;
}

/** `/quotes`: the quotes of the workspace, to be searched by customer, vehicle, plate, VIN or number. */
export function QuotesPage({ quotes, search, news, older, number_format, asset }: QuotesPageProps) {
  const query = (more: Record<string, string> = {}) =>
    new URLSearchParams({ q: search.text, state: search.state, ...more }).toString();
  const searched = search.text !== "" || search.state !== "";
  return (
    <Layout title="Quotes" path="/quotes" asset={asset}>
      <h1 class="page-title">Quotes</h1>
      {news.kinds.length > 0 && (
        <p class="page-lead">
          <strong>{saidNews(news.kinds)}</strong> since your last visit, {news.since}.
        </p>
      )}
      {quotes.length === 0 && !searched ? (
        <p class="page-lead">
          No quotes yet. Set your <a href="/prices">prices</a> first, then open a <a href="/vehicles">vehicle</a> to
          start one.
        </p>
      ) : (
        <>
          <Finder path="/quotes">
            <TextField
              id="q"
              name="q"
              label="Search"
              hint="Customer, vehicle, plate, VIN or number"
              value={search.text}
              words
            />
            <SelectField
              id="state"
              name="state"
              label="How it stands"
              value={search.state}
              choices={[
                { value: "", label: "All" },
                ...QUOTE_STATES.map((state) => ({ value: state, label: STATE_NAMES[state] })),
              ]}
            />
          </Finder>
          <Found
            path="/quotes"
            searched={searched}
            order="Latest first"
            none={quotes.length === 0 ? "No quote matches." : null}
            below={
              <p class="actions">
                {older !== null && <a href={`/quotes?${query({ before: String(older) })}`}>Older quotes</a>}
                <a href={`/quotes.csv?${query()}`} download>
                  Download as CSV
                </a>
              </p>
            }
          >
            <QuoteTable quotes={quotes} with_vehicle number_format={number_format} />
          </Found>
        </>
      )}
    </Layout>
  );
}

/** `2 accepted, 1 expired`. */
function saidNews(kinds: QuotesPageProps["news"]["kinds"]): string {
  const counted = (["accepted", "declined", "expired"] as const).map(
    (kind) => [kinds.filter((one) => one === kind).length, kind] as const,
  );
  return counted
    .filter(([count]) => count > 0)
    .map(([count, kind]) => `${count} ${kind}`)
    .join(", ");
}

export interface VehicleQuotesPageProps {
  vehicle: { id: string; label: string };
  quotes: readonly ListedQuote[];
  books: readonly { id: string; name: string }[];
  /** What was typed for a new one. */
  fields: { customer: string; keep_years: string; book: string; found: string };
  errors: readonly FieldError[];
  may_change: boolean;
  submit_key: string;
  asset: AssetUrl;
}

/** `/vehicles/:id/quotes`: the quotes of a vehicle, and a new one. */
export function VehicleQuotesPage(props: VehicleQuotesPageProps) {
  const { vehicle, quotes, books, fields, errors, may_change, submit_key, asset } = props;
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <Layout title={`Quotes for ${vehicle.label}`} path="/quotes" asset={asset} errors={errors}>
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
        <Entry name="A new quote" id="begin" note={<p>It begins with the options that the record speaks for</p>}>
          <form method="post" action={`/vehicles/${vehicle.id}/quotes`} class="stack" id="new-quote" novalidate>
            <input type="hidden" name="submit_key" value={submit_key} />
            <div class="field-grid">
              <TextField {...of("customer")} label="Customer" hint="As it stands on the quote. Optional" words />
              <TextField
                {...of("keep_years")}
                label="Years the customer keeps the vehicle"
                short
                inputmode="decimal"
                unit="years"
              />
              <SelectField
                {...of("book")}
                label="Prices"
                choices={books.map(({ id, name }) => ({ value: id, label: name }))}
              />
              <SelectField
                id="found"
                name="found"
                label="Leak found at"
                hint="Its repair is quoted then"
                value={fields.found}
                choices={[
                  { value: "", label: "Not found yet" },
                  ...LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name })),
                ]}
              />
            </div>
            <FormFoot submit="Begin the quote" />
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
  number_format = "1,234.56",
}: {
  quotes: readonly ListedQuote[];
  with_vehicle?: boolean;
  number_format?: NumberFormatId;
}) {
  return (
    <table class="quotes">
      <TableHead words={["Quote", "How it stands"]} />
      <tbody>
        {quotes.map((quote) => (
          <tr>
            <th scope="row">
              <a href={`/vehicles/${quote.vehicle_id}/quotes/${quote.id}`}>
                Quote {quote.number}
                {with_vehicle && `, ${quote.vehicle_label}`}
              </a>
              {quote.is_new && <span class="quote-new">New</span>}
              {quote.customer !== "" && <small>{quote.customer}</small>}
            </th>
            <td>
              <Standing quote={quote} />
              {quote.total_minor !== null && (
                <small>{formatAmount(quote.total_minor, quote.currency, number_format)}</small>
              )}
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
