import { formatAmount } from "../../src/core/quantities/money.ts";
import { LOCATION_IDS } from "../../src/core/question/contract.ts";
import type { InvoiceDocument } from "../../src/core/quotes/invoice.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { choicesOf, fieldOf, messagesOf, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { PLACE_NAMES } from "../words/places.ts";
import { extraInput, type IssueFields } from "./invoice-fields.ts";
import { InvoicePaper } from "./invoice-paper.tsx";

interface IssuePageProps {
  /** Address of the quote. */
  quote: string;
  fields: IssueFields;
  document: InvoiceDocument;
  /** The work is not logged: what was done may differ from what was ordered. */
  not_logged: boolean;
  /** Of the deposit, what counts as paid. */
  deposit_minor: number;
  /** What extra work may come to with tax without asking. */
  agreed_minor: number;
  /** Whether it repairs whatever place is found, so that its price depends on the place. */
  by_place: boolean;
  errors: readonly FieldError[];
  submit_key: string;
  asset: AssetUrl;
}

/** Whom an invoice is for, and what will stand on it; once issued nothing of it changes. */
export function IssuePage(props: IssuePageProps) {
  const { quote, fields, document, not_logged, deposit_minor, by_place, errors, submit_key, asset } = props;
  const { currency, number_format } = document;
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
        {deposit_minor > 0 && ` The deposit of ${formatAmount(deposit_minor, currency, number_format)} counts as paid.`}
      </p>
      <form method="post" action={`${quote}/invoice`} class="stack" id="issue" novalidate>
        <input type="hidden" name="submit_key" value={submit_key} />
        <div class="field-grid">
          <TextField {...of("name")} label="For" hint="Name of the one who pays" words />
          <TextField {...of("days")} label="Days to pay" hint="Empty for nothing said" inputmode="numeric" short />
        </div>
        {by_place && (
          <SelectField
            {...of("found")}
            value={fields.found === "" ? (document.found_at ?? "") : fields.found}
            label="Leak found at"
            hint="The price quoted for it is billed: ask the customer first"
            choices={LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name }))}
          />
        )}
        <TextAreaField {...of("address")} label="Address" rows={3} />
        <ExtraWorkFields {...props} />
        <FormFoot submit="Issue the invoice">
          <button type="submit" name="look" value="yes" class="button-quiet">
            Show the sums
          </button>
          <a href={quote}>Cancel</a>
        </FormFoot>
      </form>
      <h2 class="sheet-preview">What will stand on it</h2>
      <InvoicePaper kind="invoice" number={null} document={document} balance={null} logo="" />
    </Layout>
  );
}

/** Work that came to the order: lines, and the yes that they need where they go beyond what is agreed. */
function ExtraWorkFields({ fields, document, agreed_minor, errors }: IssuePageProps) {
  const messages = messagesOf(errors);
  const of = fieldOf(fields, messages);
  const { currency, number_format } = document;
  const lines = fields.extra;
  const typed = lines.some(({ text, price }) => text !== "" || price !== "");
  return (
    <details class="extra-work" open={typed || errors.length > 0}>
      <summary>Add extra work</summary>
      <div class="stack">
        <p>
          {agreed_minor > 0
            ? `Agreed without asking: ${formatAmount(agreed_minor, currency, number_format)} with tax. For more, ask the customer and enter the yes below.`
            : "None is agreed: ask the customer first, and enter the yes below."}
        </p>
        {lines.map((line, i) => {
          const ofLine = fieldOf(line, messages, (part) => extraInput(i + 1, part));
          return (
            <fieldset class="field-grid">
              <legend class="visually-hidden">Line {i + 1}</legend>
              <TextField {...ofLine("text")} label="What was done" words />
              <SelectField
                {...ofLine("kind")}
                value={line.kind === "" ? "labor" : line.kind}
                label="Kind, for its tax"
                choices={choicesOf({ labor: "Labor", parts: "Parts" })}
              />
              <TextField {...ofLine("hours")} label="Hours" hint="Empty for one amount" inputmode="decimal" short />
              <TextField
                {...ofLine("price")}
                label="Price"
                hint="Of an hour, or the amount"
                inputmode="decimal"
                short
              />
            </fieldset>
          );
        })}
        <div class="field-grid">
          <TextField {...of("yes_name")} label="Who said yes" hint="Only beyond what is agreed" words />
          <SelectField
            {...of("yes_how")}
            label="How the yes came"
            choices={choicesOf({ "": "Choose", phone: "By phone", paper: "On paper, signed", person: "In person" })}
          />
          <TextField {...of("yes_on")} label="When" hint="Like today or 14 Aug 2026" />
        </div>
      </div>
    </details>
  );
}
