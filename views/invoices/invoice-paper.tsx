import { formatAmount, formatPercent } from "../../src/core/quantities/money.ts";
import { type Balance, type InvoiceDocument, type InvoiceKind, owingOf } from "../../src/core/quotes/invoice.ts";
import { optionTotal } from "../../src/core/quotes/quote.ts";
import { saidInEnglish } from "../quotes/customer-said.tsx";
import { Fact, PaperHead, vehicleFacts } from "../quotes/paper-head.tsx";
import { PriceTable } from "../quotes/price-table.tsx";
import { Day } from "../words/said.tsx";

export interface InvoicePaperProps {
  kind: InvoiceKind;
  /** Null before it is issued. */
  number: number | null;
  document: InvoiceDocument;
  /** What was paid and given back by now; null before it is issued, and on a credit note. */
  balance: Balance | null;
  /** The shop's, as it is today; "" for none. */
  logo: string;
}

/** What an invoice is called: `Invoice 2026-17`, `Credit note 3`. */
export function invoiceName(kind: InvoiceKind, prefix: string, number: number): string {
  return `${kind === "invoice" ? "Invoice" : "Credit note"} ${prefix}${number}`;
}

/** An invoice or a credit note as the customer gets it, on a screen and on paper. */
export function InvoicePaper({ kind, number, document, balance, logo }: InvoicePaperProps) {
  const { letterhead, customer, vehicle, issued_on, worked_on, pay_by, credits, quote_number } = document;
  const name = number === null ? "Invoice" : invoiceName(kind, document.prefix, number);
  const said = saidInEnglish({ currency: document.currency, number_format: document.number_format });
  return (
    <article class="paper">
      <PaperHead letterhead={letterhead} said={said} logo={logo}>
        <Fact name={kind === "invoice" ? "Invoice" : "Credit note"}>
          {number === null ? "the next number" : `${document.prefix}${number}`}
        </Fact>
        <Fact name="Date">
          <Day iso={issued_on} />
        </Fact>
        {worked_on !== null && (
          <Fact name="Work done">
            <Day iso={worked_on} />
          </Fact>
        )}
        {pay_by !== null && (
          <Fact name="Pay by">
            <Day iso={pay_by} />
          </Fact>
        )}
        <Fact name="Quote">{quote_number}</Fact>
        {vehicleFacts({ ...vehicle, label: vehicle.shown.words }, said).map(([fact, text]) => (
          <Fact name={fact}>{text}</Fact>
        ))}
      </PaperHead>
      <section class="offer-part">
        <p class="letterhead-text">{[customer.name, customer.address].filter((text) => text !== "").join("\n")}</p>
        <h1 class="paper-title">{name}</h1>
        {credits !== null && (
          <p>
            This takes back from invoice {credits.prefix}
            {credits.number}: {credits.reason}
          </p>
        )}
      </section>
      <section class="offer-part">
        {kind === "invoice" ? (
          <PriceTable
            option={{ title: document.title, lines: document.lines, discount: document.discount }}
            price={optionTotal(document, document.taxes, document.currency)}
            said={said}
          />
        ) : (
          <CreditTable document={document} />
        )}
        {balance !== null && <Paid balance={balance} document={document} />}
      </section>
      {letterhead.terms !== "" && (
        <section class="offer-part">
          <p class="letterhead-text">{letterhead.terms}</p>
        </section>
      )}
      <p class="sheet-foot" aria-hidden="true">
        {name} · {letterhead.shop}
      </p>
    </article>
  );
}

/** The amount given back with the tax in it. */
function CreditTable({ document }: { document: InvoiceDocument }) {
  const { billed, currency, number_format, title } = document;
  const amount = (minor: number) => formatAmount(minor, currency, number_format);
  return (
    <table class="price-table">
      <caption>{title}</caption>
      <tbody>
        <tr>
          <th scope="row">Before tax</th>
          <td class="figure-cell">{amount(billed.net_minor)}</td>
        </tr>
        {billed.taxes.map(({ name, rate_ppm, taxable_minor, tax_minor }) => (
          <tr>
            <th scope="row">
              {name}, {formatPercent(rate_ppm, number_format)} % of {amount(taxable_minor)}
            </th>
            <td class="figure-cell">{amount(tax_minor)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr class="price-total">
          <th scope="row">Given back</th>
          <td class="figure-cell">{amount(billed.total_minor)}</td>
        </tr>
      </tfoot>
    </table>
  );
}

function Paid({ balance, document }: { balance: Balance; document: InvoiceDocument }) {
  const amount = (minor: number) => formatAmount(minor, document.currency, document.number_format);
  const { credited_minor, paid_minor } = balance;
  const owing = owingOf(balance);
  return (
    <p class="paper-balance">
      {credited_minor > 0 && <>Given back: {amount(credited_minor)}. </>}
      {paid_minor !== 0 && <>Paid: {amount(paid_minor)}. </>}
      <strong>
        {owing > 0
          ? `To pay: ${amount(owing)}`
          : owing < 0
            ? `To be paid back: ${amount(-owing)}`
            : "Nothing left to pay"}
      </strong>
    </p>
  );
}
