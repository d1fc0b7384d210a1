import { formatAmount } from "../../src/core/quantities/money.ts";
import type { QuoteState } from "../../src/core/quotes/quote.ts";
import type { QuoteSnapshot, QuoteWork } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { Day } from "../words/said.tsx";
import { STATE_NAMES } from "./said-quote.ts";
import { type WorkFields, WorkForm } from "./work-form.tsx";

/** A quote that was sent, as the shop sees it. Instants are where the shop is, in words. */
export interface QuotePageProps {
  vehicle: { id: string; label: string };
  quote: { id: string; number: number; version: number };
  state: Exclude<QuoteState, "draft">;
  snapshot: QuoteSnapshot;
  sent_at: string;
  decided: { at: string; name: string; option: string | null; keep_years: number } | null;
  work: QuoteWork | null;
  /** The form for the work, once there is a yes. */
  work_fields: WorkFields | null;
  /** The customer's link: only right after it was made. */
  link: string | null;
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
    <Layout
      title={`${errors.length > 0 ? "Error: " : ""}Quote ${quote.number} for ${vehicle.label} · Seepwise`}
      path="/quotes"
      asset={asset}
    >
      {errors.length > 0 && <ErrorSummary errors={errors} />}
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
      {work !== null && (
        <Entry name="Work done">
          <WorkDone work={work} snapshot={snapshot} vehicle_id={vehicle.id} />
        </Entry>
      )}
      {may_change && work_fields !== null && (
        <Entry name="Log the work" note={<p>Into the charge log, in one step</p>}>
          <WorkForm
            action={`${path}/work`}
            refrigerant={snapshot.vehicle.refrigerant}
            version={quote.version}
            submit_key={props.submit_key}
            fields={work_fields}
            errors={errors}
          />
        </Entry>
      )}
      {may_change && <NextSteps {...props} path={path} />}
    </Layout>
  );
}

function Standing({ snapshot, state, sent_at, decided }: QuotePageProps) {
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
          {decided.option !== null && `, for ${priceOf(snapshot, decided.option)}`}.
        </p>
      )}
      {state === "expired" && <p>Nobody answered in time. Make a new one from it, with today's prices and record.</p>}
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

function CustomerLink({ link, only_here, may_change, path }: QuotePageProps & { path: string }) {
  return (
    <>
      {link !== null && (
        <div class="note">
          <p>Give this link to the customer. It is shown only now; whoever has it sees this quote, and nothing else.</p>
          <p class="customer-link">
            <a href={link}>{link}</a>
          </p>
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
        {may_change && link === null && (
          <span class="soft">The link was shown when it was made. A new one ends the one before.</span>
        )}
      </p>
      {may_change && (
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
          <strong>Did it hold?</strong> Look at it around <Day iso={work.follow_up_on} />: the old leak would have shown
          by then. If it cools well, log that, and the repair has held.
        </p>
      )}
    </>
  );
}

function NextSteps({ quote, state, vehicle, path, submit_key }: QuotePageProps & { path: string }) {
  return (
    <Entry name="Next">
      {state === "sent" && (
        <form method="post" action={`${path}/withdraw`}>
          <input type="hidden" name="version" value={quote.version} />
          <button type="submit" class="button-quiet">
            Withdraw it
          </button>
        </form>
      )}
      <form method="post" action={`/vehicles/${vehicle.id}/quotes/${quote.id}/revise`}>
        <input type="hidden" name="submit_key" value={`${submit_key}-new`} />
        <button type="submit" class="button-quiet">
          Make a new one from it
        </button>
      </form>
      {state === "sent" && <p class="soft">When the new one is sent, this one is withdrawn.</p>}
    </Entry>
  );
}
