import { type Context, Hono } from "hono";
import type {
  CustomerFields,
  OwnedVehicleFields,
  ParticularsFields,
} from "../../../views/customers/customer-fields.ts";
import { CustomerFormPage } from "../../../views/customers/customer-form-page.tsx";
import { CustomerPage } from "../../../views/customers/customer-page.tsx";
import { CustomersPage } from "../../../views/customers/customers-page.tsx";
import { OwnedVehiclePage } from "../../../views/customers/owned-vehicle-page.tsx";
import { ParticularsPage } from "../../../views/customers/particulars-page.tsx";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { Customer, Particulars } from "../../store/customers.ts";
import { Conflict, notFound } from "../../store/errors.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { listedInvoices } from "../invoices/listed.ts";
import { listedQuotes } from "../quotes/listed.ts";
import { todayIn, unitsOf } from "../workspace.ts";
import {
  customerFields,
  ownedVehicleFields,
  particularsFields,
  readCustomer,
  readOwnedVehicle,
  readParticulars,
} from "./customer-form.ts";
import { personalData } from "./personal-data.ts";

type Granted = Context<GrantedEnv>;

const CUSTOMERS_ON_PAGE = 50;
/** As many as a choice can show; beyond them a vehicle is given its owner from the owner's page. */
const CUSTOMERS_TO_CHOOSE = 500;
const MAX_SEARCH_CHARS = 200;

const NO_PERSON: CustomerFields = { name: "", phone: "", email: "", address: "", note: "" };
const NO_VEHICLE: OwnedVehicleFields = {
  words: "",
  plate: "",
  vin: "",
  odometer: "",
  refrigerant: "",
  nameplate: "",
  label: "",
};

/** People and their vehicles: `/customers`, and `/vehicles/:id/particulars` for what papers call a vehicle. */
export function customersRoutes(deps: Deps) {
  const editor = requireRole("editor");
  const viewer = requireRole("viewer");
  return new Hono<GrantedEnv>()
    .get("/customers", viewer, async (c) => {
      const search = (c.req.query("q") ?? "").trim().slice(0, MAX_SEARCH_CHARS);
      const after = c.req.query("after") ?? null;
      const { items, next } = await c.var.store.customers.list({ search, limit: CUSTOMERS_ON_PAGE, after });
      const page = CustomersPage({
        customers: items,
        search,
        next: next === null ? null : `/customers?${new URLSearchParams({ q: search, after: next })}`,
        may_change: mayAct(c.var.access.role, "editor"),
        asset: deps.asset,
      });
      return answerPage(c, page);
    })
    .get("/customers/new", editor, (c) =>
      answerForm(c, deps, { fields: { ...NO_PERSON, name: c.req.query("name") ?? "" } }),
    )
    .post("/customers", editor, async (c) => {
      const form = await formOf(c);
      const fields = customerFields(form);
      const read = readCustomer(fields);
      if (!read.ok) return answerForm(c, deps, { fields, errors: read.errors });
      const { id } = await c.var.store.customers.create(read.input, submitKeyOf(form));
      return c.redirect(`/customers/${id}/vehicles/new`, 303);
    })
    .get("/customers/:id", viewer, (c) => answerCustomer(c, deps))
    .get("/customers/:id/details", editor, async (c) => {
      const customer = await livingCustomer(c);
      return answerForm(c, deps, { customer, fields: { ...customer } });
    })
    .post("/customers/:id/details", editor, async (c) => {
      const form = await formOf(c);
      const customer = await livingCustomer(c);
      const fields = customerFields(form);
      const version = versionOf(form);
      const read = readCustomer(fields);
      if (!read.ok) return answerForm(c, deps, { customer: { ...customer, version }, fields, errors: read.errors });
      try {
        await c.var.store.customers.update(customer.id, version, read.input, submitKeyOf(form));
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        return answerForm(c, deps, { customer: error.current as Customer, fields, changed: true });
      }
      return c.redirect(`/customers/${customer.id}?saved=1`, 303);
    })
    .get("/customers/:id/vehicles/new", editor, async (c) =>
      answerVehicle(c, deps, await livingCustomer(c), NO_VEHICLE, []),
    )
    .post("/customers/:id/vehicles", editor, async (c) => {
      const form = await formOf(c);
      const customer = await livingCustomer(c);
      const fields = ownedVehicleFields(form);
      const { store } = c.var;
      const read = readOwnedVehicle(fields, customer.name, unitsOf(await store.settings.get()));
      if (!read.ok) return answerVehicle(c, deps, customer, fields, read.errors);
      const particulars = { ...read.input.shown, customer_id: customer.id };
      const vehicle = await store.vehicles.create(read.input.vehicle, { particulars }, submitKeyOf(form));
      return c.redirect(`/vehicles/${vehicle.id}/quotes`, 303);
    })
    .get("/customers/:id/export.json", viewer, async (c) => {
      const data = await personalData(c.var.store, c.req.param("id"), deps.now().toISOString());
      c.header("Content-Disposition", 'attachment; filename="customer.json"');
      c.header("Cache-Control", "no-store");
      return c.json(data);
    })
    .post("/customers/:id/erasure", requireRole("owner"), async (c) => {
      const customer = await livingCustomer(c);
      const form = await formOf(c);
      await c.var.store.customers.erase(customer.id, versionOf(form), { invoices: form.has("invoices") });
      return c.redirect(`/customers/${customer.id}`, 303);
    })
    .get("/vehicles/:id/particulars", editor, async (c) => {
      const particulars = await c.var.store.customers.particulars(c.req.param("id"));
      return answerParticulars(
        c,
        deps,
        particulars,
        { ...particulars, customer_id: particulars.customer_id ?? "" },
        {},
      );
    })
    .post("/vehicles/:id/particulars", editor, async (c) => {
      const form = await formOf(c);
      const { customers } = c.var.store;
      const particulars = await customers.particulars(c.req.param("id"));
      const fields = particularsFields(form);
      const version = versionOf(form);
      const read = readParticulars(fields);
      if (!read.ok) return answerParticulars(c, deps, { ...particulars, version }, fields, { errors: read.errors });
      try {
        await customers.setParticulars(particulars.vehicle_id, version, read.input, submitKeyOf(form));
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        return answerParticulars(c, deps, error.current as Particulars, fields, { changed: true });
      }
      const { customer_id } = read.input;
      return c.redirect(
        customer_id === null ? `/vehicles/${particulars.vehicle_id}` : `/customers/${customer_id}?saved=1`,
        303,
      );
    });
}

/** The customer of the address. Throws `Problem` not-found, also for one who was erased. */
async function livingCustomer(c: Granted): Promise<Customer> {
  const customer = await c.var.store.customers.get(c.req.param("id") ?? "");
  if (customer.erased_at !== null) throw notFound("customer");
  return customer;
}

interface FormState {
  customer?: Customer;
  fields: CustomerFields;
  errors?: FieldError[];
  changed?: boolean;
}

function answerForm(c: Granted, deps: Deps, { customer, fields, errors = [], changed = false }: FormState) {
  const page = CustomerFormPage({
    customer: customer === undefined ? null : { id: customer.id, version: customer.version, name: customer.name },
    fields,
    errors,
    changed,
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

function answerVehicle(c: Granted, deps: Deps, customer: Customer, fields: OwnedVehicleFields, errors: FieldError[]) {
  const page = OwnedVehiclePage({ customer, fields, errors, submit_key: newSubmitKey(deps.random), asset: deps.asset });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

async function answerParticulars(
  c: Granted,
  deps: Deps,
  { vehicle_id, version }: Particulars,
  fields: ParticularsFields,
  { errors = [], changed = false }: { errors?: FieldError[]; changed?: boolean },
) {
  const { vehicles, customers } = c.var.store;
  const [vehicle, { items }] = await Promise.all([
    vehicles.get(vehicle_id),
    customers.list({ limit: CUSTOMERS_TO_CHOOSE }),
  ]);
  const known = items.some(({ id }) => id === fields.customer_id);
  const owner = fields.customer_id === "" || known ? null : await customers.get(fields.customer_id).catch(() => null);
  const page = ParticularsPage({
    vehicle,
    version,
    fields,
    customers: owner === null ? items : [owner, ...items],
    errors,
    changed,
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

async function answerCustomer(c: Granted, deps: Deps) {
  const { customers, quotes, invoices, settings, letterheads } = c.var.store;
  const customer = await customers.get(c.req.param("id") ?? "");
  const [vehicles, given, billed, workspace, { letterhead }] = await Promise.all([
    customers.vehiclesOf(customer.id),
    quotes.ofCustomer(customer.id),
    invoices.ofCustomer(customer.id),
    settings.get(),
    letterheads.get(),
  ]);
  const today = todayIn(workspace, deps.now());
  const page = CustomerPage({
    customer,
    vehicles,
    quotes: listedQuotes(given, today, workspace.time_zone),
    invoices: listedInvoices(billed, today),
    number_format: letterhead.number_format,
    saved: c.req.query("saved") !== undefined,
    may_change: mayAct(c.var.access.role, "editor"),
    may_erase: mayAct(c.var.access.role, "owner"),
    asset: deps.asset,
  });
  return answerPage(c, page);
}
