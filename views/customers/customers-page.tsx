import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Finder, Found, SearchField } from "../parts/finder.tsx";
import type { CustomerSummary, OwnedVehicle } from "./customer-shown.ts";

interface CustomersPageProps {
  customers: readonly CustomerSummary[];
  search: string;
  /** Address of the next page; null on the last. */
  next: string | null;
  may_change: boolean;
  asset: AssetUrl;
}

/** `/customers`: who comes to the shop, found by name, telephone, plate or VIN from one box. */
export function CustomersPage({ customers, search, next, may_change, asset }: CustomersPageProps) {
  const none_yet = customers.length === 0 && search === "";
  return (
    <Layout title="Customers" path="/customers" asset={asset}>
      <h1 class="page-title">Customers</h1>
      {none_yet ? (
        <p class="page-lead">
          No customers yet. Add the first one: their vehicles, quotes and invoices then stand together.
        </p>
      ) : (
        <Finder path="/customers">
          <SearchField label="Search by name, phone, plate or VIN" value={search} />
        </Finder>
      )}
      {!none_yet && (
        <Found
          path="/customers"
          searched={search !== ""}
          order="By name"
          none={customers.length === 0 ? `Nobody matches “${search}”.` : null}
          below={
            next !== null && (
              <p>
                <a href={next}>More customers</a>
              </p>
            )
          }
        >
          <ul class="people">
            {customers.map((customer) => (
              <Person {...customer} />
            ))}
          </ul>
        </Found>
      )}
      {may_change && (
        <p class="actions">
          <a class="button" href={customers.length === 0 && search !== "" ? newNamed(search) : "/customers/new"}>
            Add a customer
          </a>
        </p>
      )}
    </Layout>
  );
}

/** Whoever was looked for in vain is likely the one to add. */
function newNamed(search: string): string {
  return /\d/.test(search) ? "/customers/new" : `/customers/new?${new URLSearchParams({ name: search })}`;
}

function Person({ id, name, phone, email, vehicles }: CustomerSummary) {
  const reach = [phone, email].filter((text) => text !== "");
  return (
    <li>
      <p>
        <a href={`/customers/${id}`} dir="auto">
          {name}
        </a>
        {reach.length > 0 && <span class="soft"> {reach.join(" · ")}</span>}
      </p>
      {vehicles.length > 0 && (
        <p class="small soft" dir="auto">
          {vehicles.map(vehicleInWords).join(" · ")}
        </p>
      )}
    </li>
  );
}

/** A vehicle as the customer would know it, with its plate; else by the shop's name for it. */
export function vehicleInWords({ words, plate, label }: OwnedVehicle): string {
  const said = [words, plate].filter((text) => text !== "");
  return said.length === 0 ? label : said.join(", ");
}
