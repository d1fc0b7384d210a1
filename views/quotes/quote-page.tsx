import { formatAmount } from "../../src/core/quantities/money.ts";
import type { WrittenAgreement } from "../../src/core/quotes/agreement.ts";
import type { InvoiceKind } from "../../src/core/quotes/invoice.ts";
import type { QuoteState } from "../../src/core/quotes/quote.ts";
import type { AnsweredHow, QuoteSnapshot, QuoteWork } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { invoiceName } from "../invoices/invoice-paper.tsx";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { choicesOf, fieldOf, messagesOf, RadioField, TextField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import type { QrCode } from "../parts/qr-picture.tsx";
import type { ChosenCylinder } from "../refrigerant/work-fields.tsx";
import { Day } from "../words/said.tsx";
import { Agreed, type AgreementFields, AgreementInputs } from "./agreement.tsx";
import { HandOver } from "./hand-over.tsx";
import { STATE_NAMES } from "./said-quote.ts";
import { type WorkFields, WorkForm } from "./work-form.tsx";

/** An answer that the customer gave otherwise than by the link, as the shop typed it. */
export interface ShopAnswerFields {
  choice: string;
  name: string;
  how: string;
}

/** A quote that was sent, as the shop sees it. Instants are where the shop is, in words. */
export interface QuotePageProps {
  vehicle: { id: string; label: string };
  quote: { id: string; number: number; version: number };
  state: Exclude<QuoteState, "draft">;
  snapshot: QuoteSnapshot;
  sent_at: string;
  decided: {
    at: string;
    name: string;
    option: string | null;
    keep_years: number;
    /** How it came, and who took it; null by the link. */
    how: AnsweredHow | null;
    by: string | null;
  } | null;
  /** Answers that were taken back, oldest first, in words. */
  earlier: readonly { said: string; at: string; taken_back: string }[];
  /** What was typed to record an answer. */
  answer_fields: ShopAnswerFields;
  /** What was agreed on besides the option, oldest first. Instants are where the shop is, in words. */
  agreed: readonly WrittenAgreement[];
  /** The same as it stands, or was typed, in its form. */
  agreement_fields: AgreementFields;
  /** The shop's cylinders in use. */
  cylinders: readonly ChosenCylinder[];
  /** Invoices and credit notes from it, oldest first. */
  invoices: readonly { id: string; kind: InvoiceKind; prefix: string; number: number }[];
  work: QuoteWork | null;
  /** The form for the work, once there is a yes. */
  work_fields: WorkFields | null;
  /** The customer's link, and how to give it away: only right after it was made. */
  link: { address: string; code: QrCode; email: string; phone: string } | null;
  /** Nobody but this machine can open a link. */
  only_here: boolean;
  may_change: boolean;
  errors: readonly FieldError[];
  submit_key: string;
  asset: AssetUrl;
}

/** `/vehicles/:id/quotes/:quote` once it is sent: how it stands, and what can be done. */
export function QuotePage(props: QuotePageProps) {
  const { vehicle, quote, state, snapshot, errors, may_change, work, work_fields, asset } = props;
  const path = `/vehicles/${vehicle.id}/quotes/${quote.id}`;
  return (
    <Layout title={`Quote ${quote.number} for ${vehicle.label}`} path="/quotes" asset={asset} errors={errors}>
      <p class="page-name">
        <a href={`/vehicles/${vehicle.id}/quotes`}>Quotes for {vehicle.label}</a>
      </p>
      <h1 class="page-title">
        Quote {quote.number}: {STATE_NAMES[state].toLowerCase()}
      </h1>
      <Entry name="How it stands">
        <Standing {...props} />
      </Entry>
      <Entry name="The customer's link">
        <CustomerLink {...props} path={path} />
      </Entry>
      {state === "accepted" && (
        <Agreed
          path={path}
          version={quote.version}
          submit_key={props.submit_key}
          money={snapshot}
          agreed={props.agreed}
          fields={props.agreement_fields}
          errors={errors}
          may_change={may_change}
        />
      )}
      {state === "accepted" && <OrderAndInvoice {...props} path={path} />}
      {work !== null && (
        <Entry name="Work done">
          <WorkDone work={work} snapshot={snapshot} vehicle_id={vehicle.id} />
        </Entry>
      )}
      {may_change && work_fields !== null && (
        <Entry name="Log the work" id="log-work" note={<p>Into the charge log, in one step</p>}>
          <WorkForm
            action={`${path}/work`}
            refrigerant={snapshot.vehicle.refrigerant}
            version={quote.version}
            submit_key={props.submit_key}
            fields={work_fields}
            cylinders={props.cylinders}
            errors={errors}
          />
        </Entry>
      )}
      {may_change && (state === "sent" || state === "expired") && <RecordAnswer {...props} path={path} />}
      {may_change && <NextSteps {...props} path={path} />}
    </Layout>
  );
}

/** The papers of an accepted quote: for the bay, and for the one who pays. */
function OrderAndInvoice({ invoices, may_change, path }: QuotePageProps & { path: string }) {
  return (
    <Entry name="Order and invoice">
      {invoices.length > 0 && (
        <ul class="people">
          {invoices.map(({ id, kind, prefix, number }) => (
            <li>
              <a href={`/invoices/${id}`}>{invoiceName(kind, prefix, number)}</a>
            </li>
          ))}
        </ul>
      )}
      <p class="actions">
        <a href={`${path}/work-order`}>Work order to print</a>
        {may_change && (
          <a class="button-quiet" href={`${path}/invoice`}>
            {invoices.length === 0 ? "Make the invoice" : "Open the invoice"}
          </a>
        )}
      </p>
    </Entry>
  );
}

const HOW_WORDS: Readonly<Record<AnsweredHow, string>> = {
  phone: "by phone",
  paper: "on paper",
  person: "in person",
};

function Standing(props: QuotePageProps) {
  const { snapshot, state, sent_at, decided } = props;
  return (
    <>
      <p>
        Sent on {sent_at}
        {snapshot.customer !== "" && ` to ${snapshot.customer}`}; it holds until <Day iso={snapshot.valid_until} />.
      </p>
      {decided !== null && (
        <p>
          <strong>{decided.option === null ? "Declined" : `Accepted: ${titleOf(snapshot, decided.option)}`}</strong> by{" "}
          {decided.name} on {decided.at}
          {decided.how !== null && `, ${HOW_WORDS[decided.how]}, taken by ${decided.by ?? "the shop"}`}
          {decided.option !== null && `, for ${priceOf(snapshot, decided.option)}`}.
        </p>
      )}
      {props.earlier.map(({ said, at, taken_back }) => (
        <p class="soft">
          {said} on {at}; taken back {taken_back}.
        </p>
      ))}
      {state === "expired" && (
        <p>
          No answer in time. Copy it to a new quote: its lines stay as they are, and each option's can be priced anew.
        </p>
      )}
    </>
  );
}

function titleOf({ options }: QuoteSnapshot, id: string): string {
  return options.find((option) => option.id === id)?.title ?? id;
}

function priceOf({ outlook, currency, number_format }: QuoteSnapshot, id: string): string {
  const price = outlook.options.find((option) => option.id === id)?.price;
  return price === undefined ? "" : formatAmount(price.total_minor, currency, number_format);
}

function CustomerLink({ link, snapshot, only_here, may_change, state, path }: QuotePageProps & { path: string }) {
  // A link to a quote that no longer holds would only lead a customer astray.
  const may_link = may_change && state !== "withdrawn" && state !== "expired";
  return (
    <>
      {link !== null && (
        <div class="note">
          <p>Give this link to the customer. It is shown only now; whoever has it sees this quote, and nothing else.</p>
          <p class="customer-link">
            <a href={link.address}>{link.address}</a>
          </p>
          {!only_here && <HandOver {...link} link={link.address} snapshot={snapshot} />}
          {only_here && (
            <p>
              It opens on this machine only, because this server answers to nobody else. Print the customer's page, or
              save it as PDF, to hand it over.
            </p>
          )}
        </div>
      )}
      <p class="actions">
        <a href={`${path}/preview`}>What the customer sees</a>
        {may_link && link === null && (
          <span class="soft">The link was shown when it was made. A new one ends the one before.</span>
        )}
      </p>
      {may_link && (
        <form method="post" action={`${path}/link`}>
          <button type="submit" class="button-quiet">
            Make a new link
          </button>
        </form>
      )}
    </>
  );
}

function WorkDone({ work, snapshot, vehicle_id }: { work: QuoteWork; snapshot: QuoteSnapshot; vehicle_id: string }) {
  return (
    <>
      <p>
        {titleOf(snapshot, work.option)}, done on <Day iso={work.date} />. It stands in the{" "}
        <a href={`/vehicles/${vehicle_id}`}>charge log</a>.
      </p>
      {work.follow_up_on !== null && (
        <p>
          <strong>Did it hold?</strong> Check around <Day iso={work.follow_up_on} />. By then the old leak would show.
          If it still cools well, add an entry: the repair held.
        </p>
      )}
    </>
  );
}

/** A yes by phone, on paper or at the counter is written down by the shop, with who took it. */
function RecordAnswer(props: QuotePageProps & { path: string }) {
  const { snapshot, quote, submit_key, answer_fields, agreement_fields, errors, path } = props;
  const of = fieldOf(answer_fields, messagesOf(errors));
  return (
    <Entry name="Record an answer" id="record-answer" note={<p>Given by phone, on paper or in person</p>}>
      <form method="post" action={`${path}/answer`} class="stack" novalidate>
        <input type="hidden" name="version" value={quote.version} />
        <input type="hidden" name="submit_key" value={`${submit_key}-answer`} />
        <RadioField
          {...of("choice")}
          label="What did the customer say?"
          choices={[
            ...snapshot.options.map(({ id, title }) => ({ value: id, label: `Yes: ${title}` })),
            { value: "no", label: "No" },
          ]}
        />
        <RadioField
          {...of("how")}
          label="How?"
          choices={choicesOf({ phone: "By phone", paper: "On paper, signed", person: "In person" })}
        />
        <TextField {...of("name")} label="Who said so" hint="The customer's name" words />
        <AgreementInputs fields={agreement_fields} errors={errors} />
        <FormFoot submit="Record the answer" quiet />
      </form>
    </Entry>
  );
}

function NextSteps({ quote, state, vehicle, path, submit_key, work }: QuotePageProps & { path: string }) {
  return (
    <Entry name="Next">
      {state === "sent" && (
        <Confirm
          name="Withdraw the quote"
          question="The customer can no longer accept it. This cannot be undone; you can make a new quote from it."
          action={`${path}/withdraw`}
          fields={{ version: quote.version }}
        />
      )}
      {(state === "accepted" || state === "declined") && work === null && (
        <Confirm
          name="Take the answer back"
          question="The quote waits for an answer again. The answer that was given stays written here."
          action={`${path}/answer/removal`}
          fields={{ version: quote.version }}
        />
      )}
      <form method="post" action={`/vehicles/${vehicle.id}/quotes/${quote.id}/revise`}>
        <input type="hidden" name="submit_key" value={`${submit_key}-new`} />
        <button type="submit" class="button-quiet">
          Copy to a new quote
        </button>
      </form>
      {state === "sent" && <p class="soft">When the new one is sent, this one is withdrawn.</p>}
    </Entry>
  );
}
