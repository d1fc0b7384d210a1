import type { InvoiceDocument } from "../../src/core/quotes/invoice.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, TextAreaField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import type { IssueFields } from "./invoice-fields.ts";
import { InvoicePaper } from "./invoice-paper.tsx";

interface IssuePageProps {
  /** Address of the quote. */
  quote: string;
  fields: IssueFields;
  document: InvoiceDocument;
  /** The work is not logged: what was done may differ from what was ordered. */
  not_logged: boolean;
  errors: readonly FieldError[];
  submit_key: string;
  asset: AssetUrl;
}

/** Whom an invoice is for, and what will stand on it; once issued nothing of it changes. */
export function IssuePage({ quote, fields, document, not_logged, errors, submit_key, asset }: IssuePageProps) {
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <Layout title="New invoice" path="/invoices" asset={asset} errors={errors}>
      <p class="page-name">
        <a href={quote}>Quote {document.quote_number}</a>
      </p>
      <h1 class="page-title">Invoice for {document.title}</h1>
      <p class="page-lead">
        It takes over lines, discounts and tax as the customer accepted them. Once it is issued nothing on it changes; a
        mistake is put right by a credit note.
        {not_logged && " The work is not logged yet: log it first if anything was done differently."}
      </p>
      <form method="post" action={`${quote}/invoice`} class="stack" id="issue" novalidate>
        <input type="hidden" name="submit_key" value={submit_key} />
        <div class="field-grid">
          <TextField {...of("name")} label="For" hint="Name of the one who pays" words />
          <TextField {...of("days")} label="Days to pay" hint="Empty for nothing said" inputmode="numeric" short />
        </div>
        <TextAreaField {...of("address")} label="Address" rows={3} />
        <FormFoot submit="Issue the invoice">
          <a href={quote}>Cancel</a>
        </FormFoot>
      </form>
      <h2 class="sheet-preview">What will stand on it</h2>
      <InvoicePaper kind="invoice" number={null} document={document} balance={null} logo="" />
    </Layout>
  );
}
