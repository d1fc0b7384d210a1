import type { NumberFormatId } from "../../data/number-formats.ts";
import type { AssetUrl } from "../assets.ts";
import { InvoiceTable, type ListedInvoice } from "../invoices/invoices-page.tsx";
import { Layout } from "../layout.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { Entry } from "../parts/entry.tsx";
import { WayBack } from "../parts/way-back.tsx";
import { type ListedQuote, QuoteTable } from "../quotes/quotes-page.tsx";
import type { CustomerFields } from "./customer-fields.ts";
import type { OwnedVehicle } from "./customer-shown.ts";
import { vehicleInWords } from "./customers-page.tsx";

interface CustomerPageProps {
  customer: CustomerFields & { id: string; version: number; erased_at: string | null };
  vehicles: readonly OwnedVehicle[];
  quotes: readonly ListedQuote[];
  invoices: readonly ListedInvoice[];
  number_format: NumberFormatId;
  saved: boolean;
  may_change: boolean;
  may_erase: boolean;
  asset: AssetUrl;
}

/** `/customers/:id`: a person, their vehicles, and what they were offered. */
export function CustomerPage(props: CustomerPageProps) {
  const { customer, quotes, invoices, number_format, saved, asset } = props;
  if (customer.erased_at !== null) return <ErasedPage asset={asset} />;
  return (
    <Layout title={customer.name} path="/customers" asset={asset}>
      {saved && (
        <p class="saved" id="saved" role="status" tabindex={-1} autofocus>
          Saved.
        </p>
      )}
      <header class="page-head">
        <WayBack href="/customers">Customers</WayBack>
        <h1 dir="auto">{customer.name}</h1>
        <Reach {...customer} />
      </header>
      <Vehicles {...props} />
      <Entry name="Quotes">
        {quotes.length === 0 ? (
          <p>No quote yet. Open one of the vehicles to begin one.</p>
        ) : (
          <QuoteTable quotes={quotes} with_vehicle number_format={number_format} />
        )}
      </Entry>
      {invoices.length > 0 && (
        <Entry name="Invoices">
          <InvoiceTable invoices={invoices} number_format={number_format} />
        </Entry>
      )}
      {(customer.address !== "" || customer.note !== "") && (
        <Entry name="Address and note">
          {customer.address !== "" && <p class="letterhead-text">{customer.address}</p>}
          {customer.note !== "" && (
            <p class="letterhead-text" dir="auto">
              {customer.note}
            </p>
          )}
        </Entry>
      )}
      <TheirData {...props} />
    </Layout>
  );
}

function Vehicles({ customer, vehicles, may_change }: CustomerPageProps) {
  return (
    <Entry name="Vehicles">
      {vehicles.length === 0 ? (
        <p>No vehicle yet.</p>
      ) : (
        <ul class="people">
          {vehicles.map((vehicle) => (
            <Owned vehicle={vehicle} may_change={may_change} />
          ))}
        </ul>
      )}
      {may_change && (
        <p class="actions">
          <a class="button-quiet" href={`/customers/${customer.id}/vehicles/new`}>
            Add a vehicle
          </a>
        </p>
      )}
    </Entry>
  );
}

/** What can be done with what is kept of a person. */
function TheirData({ customer, may_change, may_erase }: CustomerPageProps) {
  const path = `/customers/${customer.id}`;
  return (
    <Entry name="Their data">
      <p class="actions">
        {may_change && <a href={`${path}/details`}>Edit name, phone and address</a>}
        <a href={`${path}/export.json`} download>
          Everything about this person as a file
        </a>
      </p>
      {may_erase && (
        <Confirm
          name="Erase this person"
          question={
            <>
              Name, phone, e-mail and address go, and with them the plates, VINs and names of the vehicles above, the
              notes in their records, and the name in quotes. Amounts, dates and prices stay. Links to the quotes stop
              working. This cannot be undone, and backups made before still hold it all. Tax law may require you to keep
              invoices as issued: check your local rules before you tick that.
            </>
          }
          action={`${path}/erasure`}
          fields={{ version: customer.version }}
          choice={{ name: "invoices", label: "Take the name off invoices and credit notes, too" }}
        />
      )}
    </Entry>
  );
}

function Reach({ phone, email }: Pick<CustomerFields, "phone" | "email">) {
  if (phone === "" && email === "") return <p class="facts">No phone or e-mail</p>;
  return (
    <p class="facts">
      {phone !== "" && <a href={`tel:${phone.replace(/[^\d+]/g, "")}`}>{phone}</a>}
      {phone !== "" && email !== "" && " · "}
      {email !== "" && <a href={`mailto:${email}`}>{email}</a>}
    </p>
  );
}

function Owned({ vehicle, may_change }: { vehicle: OwnedVehicle; may_change: boolean }) {
  const { id, vin, odometer } = vehicle;
  const more = [vin === "" ? "" : `VIN ${vin}`, odometer].filter((text) => text !== "");
  return (
    <li>
      <p>
        <a href={`/vehicles/${id}`} dir="auto">
          {vehicleInWords(vehicle)}
        </a>
      </p>
      {more.length > 0 && <p class="small soft">{more.join(" · ")}</p>}
      <p class="small">
        <a href={`/vehicles/${id}/quotes`}>Quotes</a>
        {may_change && (
          <>
            {" · "}
            <a href={`/vehicles/${id}/particulars`}>Edit plate, VIN, owner</a>
          </>
        )}
      </p>
    </li>
  );
}

function ErasedPage({ asset }: Pick<CustomerPageProps, "asset">) {
  return (
    <Layout title="Erased customer" path="/customers" asset={asset}>
      <h1 class="page-title">This person was erased</h1>
      <p class="page-lead">
        What identified them is gone from vehicles, quotes and logs. The figures stayed.{" "}
        <a href="/customers">All customers</a>
      </p>
    </Layout>
  );
}
