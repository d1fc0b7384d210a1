import type { NumberFormatId } from "../../data/number-formats.ts";
import { formatAmount } from "../../src/core/quantities/money.ts";
import type { InvoiceKind, InvoiceState } from "../../src/core/quotes/invoice.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Finder, Found, SearchField } from "../parts/finder.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { Day } from "../words/said.tsx";
import { invoiceName } from "./invoice-paper.tsx";

/** An invoice or a credit note in a list. */
export interface ListedInvoice {
  id: string;
  kind: InvoiceKind;
  prefix: string;
  number: number;
  customer: string;
  vehicle_label: string;
  issued_on: string;
  pay_by: string | null;
  currency: string;
  total_minor: number;
  /** Null for a credit note. */
  state: InvoiceState | null;
  owing_minor: number;
}

export const INVOICE_STATE_NAMES: Readonly<Record<InvoiceState, string>> = {
  open: "To be paid",
  overdue: "Overdue",
  paid: "Paid",
  credited: "Given back in full",
  "to-refund": "To be paid back",
};

interface InvoicesPageProps {
  invoices: readonly ListedInvoice[];
  search: { text: string; open: boolean };
  /** Address of the next page; null on the last. */
  older: string | null;
  number_format: NumberFormatId;
  asset: AssetUrl;
}

/** `/invoices`: what was billed and given back, and what is still owing. */
export function InvoicesPage({ invoices, search, older, number_format, asset }: InvoicesPageProps) {
  const searched = search.text !== "" || search.open;
  const query = new URLSearchParams({ q: search.text, ...(search.open ? { open: "1" } : {}) });
  return (
    <Layout title="Invoices" path="/invoices" asset={asset}>
      <h1 class="page-title">Invoices</h1>
      {invoices.length === 0 && !searched ? (
        <p class="page-lead">
          No invoice yet. When a <a href="/quotes">quote</a> is accepted, its page offers the invoice.
        </p>
      ) : (
        <>
          <Finder path="/invoices">
            <SearchField label="Search by number, customer, vehicle, plate or VIN" value={search.text} />
            <label class="choice">
              <input type="checkbox" name="open" value="1" checked={search.open} />
              Only what is owing
            </label>
          </Finder>
          <Found
            path="/invoices"
            searched={searched}
            order="Latest first"
            none={invoices.length === 0 ? "No invoice matches." : null}
            below={
              <p class="actions">
                {older !== null && <a href={older}>Older invoices</a>}
                <a href={`/invoices.csv?${query}`} download>
                  Download as CSV
                </a>
              </p>
            }
          >
            <InvoiceTable invoices={invoices} number_format={number_format} />
          </Found>
        </>
      )}
    </Layout>
  );
}

/** Invoices as a table, each with how it stands. */
export function InvoiceTable({
  invoices,
  number_format,
}: {
  invoices: readonly ListedInvoice[];
  number_format: NumberFormatId;
}) {
  return (
    <table class="quotes">
      <TableHead words={["Invoice", "How it stands"]} figures={["Total"]} />
      <tbody>
        {invoices.map(({ id, kind, prefix, number, customer, vehicle_label, issued_on, ...invoice }) => (
          <tr>
            <th scope="row">
              <a href={`/invoices/${id}`}>{invoiceName(kind, prefix, number)}</a>
              <small dir="auto">
                {customer}, {vehicle_label}
              </small>
            </th>
            <td>
              {invoice.state !== null && <strong>{INVOICE_STATE_NAMES[invoice.state]}</strong>}
              <small>
                <Day iso={issued_on} />
                {invoice.state === "overdue" && invoice.pay_by !== null && (
                  <>
                    , was to be paid by <Day iso={invoice.pay_by} />
                  </>
                )}
              </small>
            </td>
            <td class="figure-cell">
              {formatAmount(invoice.total_minor, invoice.currency, number_format)}
              {invoice.state !== null && invoice.owing_minor !== 0 && invoice.owing_minor !== invoice.total_minor && (
                <small>{formatAmount(Math.abs(invoice.owing_minor), invoice.currency, number_format)} open</small>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
