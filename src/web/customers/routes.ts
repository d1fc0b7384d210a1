import { type Context, Hono } from "hono";
import { CustomerChoices } from "../../../views/customers/customer-choice.tsx";
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
import { handlersWith } from "../edge/handler.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, searchedFor, submitKeyOf, versionOf } from "../forms/posted-form.ts";
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
/** The most that stand there to be chosen: the others are found by their names. */
const CUSTOMERS_TO_CHOOSE = 20;

const NO_PERSON: CustomerFields = { name: "", phone: "", email: "", address: "", note: "", language: "" };
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
  const viewer = requireRole("viewer");
  const editor = requireRole("editor");
  const owner = requireRole("owner");
  const by = handlersWith(deps);
  const app = new Hono<GrantedEnv>();
  app.get("/customers", viewer, by(answerCustomers));
  app.get("/customers/new", editor, by(answerNewCustomer));
  app.post("/customers", editor, by(addCustomer));
  app.get("/customers/:id", viewer, by(answerCustomer));
  app.get("/customers/:id/details", editor, by(answerDetails));
  app.post("/customers/:id/details", editor, by(saveDetails));
  app.get("/customers/:id/vehicles/new", editor, by(answerNewVehicle));
  app.post("/customers/:id/vehicles", editor, by(addVehicle));
  app.get("/customers/:id/export.json", viewer, by(answerExport));
  app.post("/customers/:id/erasure", owner, by(eraseCustomer));
  app.get("/vehicles/:id/particulars", editor, by(answerParticulars));
  app.get("/vehicles/:id/particulars/customers", editor, by(answerChoices));
  app.post("/vehicles/:id/particulars", editor, by(saveParticulars));
  return app;
}

async function answerCustomers(c: Granted, deps: Deps) {
  const search = searchedFor(c.req.query("q"));
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
}

async function answerNewCustomer(c: Granted, deps: Deps) {
  return showForm(c, deps, { fields: { ...NO_PERSON, name: c.req.query("name") ?? "" } });
}

async function addCustomer(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const fields = customerFields(form);
  const read = readCustomer(fields);
  if (!read.ok) return showForm(c, deps, { fields, errors: read.errors });
  const { id } = await c.var.store.customers.create(read.input, submitKeyOf(form));
  return c.redirect(`/customers/${id}/vehicles/new`, 303);
}

async function answerDetails(c: Granted, deps: Deps) {
  const customer = await livingCustomer(c);
  return showForm(c, deps, { customer, fields: { ...customer } });
}

async function saveDetails(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const customer = await livingCustomer(c);
  const fields = customerFields(form);
  const version = versionOf(form);
  const read = readCustomer(fields);
  if (!read.ok) return showForm(c, deps, { customer: { ...customer, version }, fields, errors: read.errors });
  const saved = await unlessOvertaken(
    c.var.store.customers.update(customer.id, version, read.input, submitKeyOf(form)),
  );
  if (saved instanceof Conflict) return showForm(c, deps, { customer: saved.current, fields, changed: true });
  return c.redirect(`/customers/${customer.id}?saved=1`, 303);
}

async function answerNewVehicle(c: Granted, deps: Deps) {
  return showVehicle(c, deps, await livingCustomer(c), NO_VEHICLE, []);
}

async function addVehicle(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const customer = await livingCustomer(c);
  const fields = ownedVehicleFields(form);
  const { store } = c.var;
  const read = readOwnedVehicle(fields, customer.name, unitsOf(await store.settings.get()));
  if (!read.ok) return showVehicle(c, deps, customer, fields, read.errors);
  const particulars = { ...read.input.shown, customer_id: customer.id };
  const vehicle = await store.vehicles.create(read.input.vehicle, { particulars }, submitKeyOf(form));
  return c.redirect(`/vehicles/${vehicle.id}/quotes`, 303);
}

async function answerExport(c: Granted, deps: Deps) {
  const data = await personalData(c.var.store, idOf(c), deps.now().toISOString());
  c.header("Content-Disposition", 'attachment; filename="customer.json"');
  c.header("Cache-Control", "no-store");
  return c.json(data);
}

async function eraseCustomer(c: Granted) {
  const customer = await livingCustomer(c);
  const form = await formOf(c);
  await c.var.store.customers.erase(customer.id, versionOf(form), { invoices: form.has("invoices") });
  return c.redirect(`/customers/${customer.id}`, 303);
}

async function answerParticulars(c: Granted, deps: Deps) {
  const particulars = await c.var.store.customers.particulars(idOf(c));
  return showParticulars(c, deps, particulars, { ...particulars, customer_id: particulars.customer_id ?? "" }, {});
}

async function saveParticulars(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const { customers } = c.var.store;
  const particulars = await customers.particulars(idOf(c));
  const fields = particularsFields(form);
  const version = versionOf(form);
  if (form.has("search"))
    return showParticulars(c, deps, { ...particulars, version }, fields, { find: searchedFor(form.get("find")) });
  const read = readParticulars(fields);
  if (!read.ok) return showParticulars(c, deps, { ...particulars, version }, fields, { errors: read.errors });
  const saved = await unlessOvertaken(
    customers.setParticulars(particulars.vehicle_id, version, read.input, submitKeyOf(form)),
  );
  if (saved instanceof Conflict) return showParticulars(c, deps, saved.current, fields, { changed: true });
  const { customer_id } = read.input;
  return c.redirect(
    customer_id === null ? `/vehicles/${particulars.vehicle_id}` : `/customers/${customer_id}?saved=1`,
    303,
  );
}

/** The customer or vehicle of the address. */
function idOf(c: Granted): string {
  return c.req.param("id") ?? "";
}

/** The customer of the address. Throws `Problem` not-found, also for an erased one. */
async function livingCustomer(c: Granted): Promise<Customer> {
  const customer = await c.var.store.customers.get(idOf(c));
  if (customer.erased_at !== null) throw notFound("customer");
  return customer;
}

interface FormState {
  customer?: Customer;
  fields: CustomerFields;
  errors?: FieldError[];
  changed?: boolean;
}

function showForm(c: Granted, deps: Deps, { customer, fields, errors = [], changed = false }: FormState) {
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

function showVehicle(c: Granted, deps: Deps, customer: Customer, fields: OwnedVehicleFields, errors: FieldError[]) {
  const page = OwnedVehiclePage({ customer, fields, errors, submit_key: newSubmitKey(deps.random), asset: deps.asset });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

async function showParticulars(
  c: Granted,
  deps: Deps,
  { vehicle_id, version }: Particulars,
  fields: ParticularsFields,
  { errors = [], changed = false, find = "" }: { errors?: FieldError[]; changed?: boolean; find?: string },
) {
  const [vehicle, choice] = await Promise.all([
    c.var.store.vehicles.get(vehicle_id),
    choiceOf(c, fields.customer_id, find),
  ]);
  const page = ParticularsPage({
    vehicle,
    version,
    fields,
    choice,
    errors,
    changed,
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

/** Whom a search finds, beside the one who is chosen. */
async function choiceOf(c: Granted, chosen: string, find: string) {
  const { customers } = c.var.store;
  const [{ items, next }, owner] = await Promise.all([
    customers.list({ search: find, limit: CUSTOMERS_TO_CHOOSE }),
    chosen === "" ? null : customers.get(chosen).catch(() => null),
  ]);
  return { chosen, owner, find, found: items, more: next !== null };
}

/** GET `…/particulars/customers?find=…`: those to choose from, while the name is typed. */
async function answerChoices(c: Granted) {
  await c.var.store.vehicles.get(idOf(c));
  const choice = await choiceOf(c, c.req.query("customer_id") ?? "", searchedFor(c.req.query("find")));
  return c.html(CustomerChoices({ ...choice, errors: [] }));
}

async function answerCustomer(c: Granted, deps: Deps) {
  const { customers, quotes, invoices, settings, letterheads } = c.var.store;
  const customer = await customers.get(idOf(c));
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
