import {
  type Balance,
  extraTotal,
  type InvoiceDocument,
  type InvoiceKind,
  invoiceTotal,
  owingOf,
} from "../../src/core/quotes/invoice.ts";
import { CustomerSaid } from "../quotes/customer-said.tsx";
import { SaidDay } from "../quotes/offer.tsx";
import { Fact, PaperHead, SheetFoot, vehicleFacts } from "../quotes/paper-head.tsx";
import { PriceTable } from "../quotes/price-table.tsx";

/** A balance, and what of the paid was a deposit. */
type PaidBalance = Balance & { deposit_minor: number };

export interface InvoicePaperProps {
  kind: InvoiceKind;
  /** Null before it is issued. */
  number: number | null;
  document: InvoiceDocument;
  /** What was paid and given back by now; null before it is issued, and on a credit note. */
  balance: PaidBalance | null;
  /** The shop's, as it is today; "" for none. */
  logo: string;
  /** Wording in place of the table's, for tests. */
  said?: CustomerSaid;
}

/** What an invoice is called on the shop's pages: `Invoice 2026-17`, `Credit note 3`. */
export function invoiceName(kind: InvoiceKind, prefix: string, number: number): string {
  return `${kind === "invoice" ? "Invoice" : "Credit note"} ${prefix}${number}`;
}

/** What it is called on paper, in the customer's language. */
export function paperName(kind: InvoiceKind, { prefix, ...document }: InvoiceDocument, number: number): string {
  return `${saidOnPaper(document).word(`invoice.${kind}`)} ${prefix}${number}`;
}

/** The wording of an invoice: in the customer's language, in English where none is known. */
export function saidOnPaper({
  language = "en",
  currency,
  number_format,
}: Pick<InvoiceDocument, "language" | "currency" | "number_format">): CustomerSaid {
  return new CustomerSaid({ language, currency, number_format, units: "us" });
}

/** An invoice or a credit note as the customer gets it, on a screen and on paper, in the customer's language. */
export function InvoicePaper(props: InvoicePaperProps) {
  const { kind, number, document, balance, logo, said = saidOnPaper(document) } = props;
  const { letterhead, customer, vehicle, issued_on, worked_on, pay_by, credits, quote_number } = document;
  const kind_name = said.word(`invoice.${kind}`);
  const name = number === null ? kind_name : `${kind_name} ${document.prefix}${number}`;
  return (
    <article class="paper" lang={said.language}>
      <PaperHead letterhead={letterhead} said={said} logo={logo}>
        <Fact name={kind_name}>
          {number === null ? said.word("invoice.next-number") : `${document.prefix}${number}`}
        </Fact>
        <Fact name={said.word("head.date")}>
          <SaidDay iso={issued_on} said={said} />
        </Fact>
        {worked_on !== null && (
          <Fact name={said.word("invoice.worked")}>
            <SaidDay iso={worked_on} said={said} />
          </Fact>
        )}
        {pay_by !== null && (
          <Fact name={said.word("invoice.pay-by")}>
            <SaidDay iso={pay_by} said={said} />
          </Fact>
        )}
        <Fact name={said.word("head.quote")}>{quote_number}</Fact>
        {vehicleFacts({ ...vehicle, label: vehicle.shown.words }, said).map(([fact, text]) => (
          <Fact name={fact}>{text}</Fact>
        ))}
      </PaperHead>
      <section class="offer-part">
        <p class="letterhead-text">{[customer.name, customer.address].filter((text) => text !== "").join("\n")}</p>
        <h1 class="paper-title">{name}</h1>
        {credits !== null && (
          <p>
            {said.word("invoice.takes-back", {
              number: `${credits.prefix}${credits.number}`,
              reason: credits.reason,
            })}
          </p>
        )}
      </section>
      <section class="offer-part">
        {kind === "invoice" ? (
          <PriceTable
            option={{ title: document.title, lines: document.lines, discount: document.discount }}
            extra={document.extra?.lines ?? []}
            price={invoiceTotal(document, document.currency)}
            said={said}
          />
        ) : (
          <CreditTable document={document} said={said} />
        )}
        {document.found_at !== undefined && (
          <p>{said.word("invoice.found", { place: said.word(`place.${document.found_at}.at`) })}</p>
        )}
        <Extra document={document} said={said} />
        {balance !== null && <Paid balance={balance} said={said} />}
      </section>
      {letterhead.terms !== "" && (
        <section class="offer-part">
          <p class="letterhead-text">{letterhead.terms}</p>
        </section>
      )}
      <SheetFoot name={name} shop={letterhead.shop} />
    </article>
  );
}

/** By what right extra work is billed. */
function Extra({ document, said }: { document: InvoiceDocument; said: CustomerSaid }) {
  const { extra, currency } = document;
  if (extra === undefined) return null;
  const sum = said.amount(extraTotal(document, currency));
  const limit = said.amount(extra.agreed_minor);
  if (extra.yes === null) return <p>{said.word("invoice.extra-within", { sum, limit })}</p>;
  const { name, how, on } = extra.yes;
  const yes = { name, how: said.word(`how.${how}`), day: said.day(on) };
  return <p>{said.word("invoice.extra-yes", { sum, limit, ...yes })}</p>;
}

/** The amount given back with the tax in it. */
function CreditTable({ document, said }: { document: InvoiceDocument; said: CustomerSaid }) {
  const { billed, title } = document;
  return (
    <table class="price-table">
      <caption>{title}</caption>
      <tbody>
        <tr>
          <th scope="row">{said.word("invoice.before-tax")}</th>
          <td class="figure-cell">{said.amount(billed.net_minor)}</td>
        </tr>
        {billed.taxes.map(({ name, rate_ppm, taxable_minor, tax_minor }) => (
          <tr>
            <th scope="row">
              {said.word("price.tax", { name, percent: said.percent(rate_ppm), sum: said.amount(taxable_minor) })}
            </th>
            <td class="figure-cell">{said.amount(tax_minor)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr class="price-total">
          <th scope="row">{said.word("invoice.given-back")}</th>
          <td class="figure-cell">{said.amount(billed.total_minor)}</td>
        </tr>
      </tfoot>
    </table>
  );
}

function Paid({ balance, said }: { balance: PaidBalance; said: CustomerSaid }) {
  const { credited_minor, paid_minor, deposit_minor } = balance;
  const owing = owingOf(balance);
  const paid = { sum: said.amount(paid_minor), deposit: said.amount(deposit_minor) };
  return (
    <p class="paper-balance">
      {credited_minor > 0 && `${said.word("invoice.given-back-sum", { sum: said.amount(credited_minor) })} `}
      {paid_minor !== 0 && `${said.word(deposit_minor > 0 ? "invoice.paid-deposit" : "invoice.paid", paid)} `}
      <strong>
        {owing === 0
          ? said.word("invoice.nothing-left")
          : said.word(owing > 0 ? "invoice.to-pay" : "invoice.to-pay-back", { sum: said.amount(Math.abs(owing)) })}
      </strong>
    </p>
  );
}
