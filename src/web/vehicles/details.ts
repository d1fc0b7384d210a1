import { type Context, Hono } from "hono";
import { CHOICES, NUMBERS } from "../../../views/vehicles/details-fields.ts";
import { DetailsPage, type DetailsPageProps, type Difference } from "../../../views/vehicles/details-page.tsx";
import { questionOf } from "../../core/question/question.ts";
import { NEW_VEHICLE, type Vehicle } from "../../core/question/record.ts";
import { Conflict } from "../../store/errors.ts";
import type { OwnBook } from "../../store/price-books.ts";
import { type AssessedRecord, moneyIn, termsOf } from "../../store/vehicle-record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { handlersWith } from "../edge/handler.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { pricesUsed, vehicleRequest } from "../vehicle-answer.ts";
import { dayContextOf, todayIn, unitsOf } from "../workspace.ts";
import { detailsFieldsOf, readDetails, typedDetails, usualDetails } from "./details-form.ts";
import { savedVehicle } from "./saved.ts";

type GrantedContext = Context<GrantedEnv>;

/** Entering a vehicle, editing what is said about one, and taking it out of the list and back. */
export function detailsRoutes(deps: Deps) {
  const editor = requireRole("editor");
  const by = handlersWith(deps);
  return new Hono<GrantedEnv>()
    .get("/vehicles/new", editor, by(answerBlank))
    .post("/vehicles/new", editor, by(enterVehicle))
    .get("/vehicles/:id/details", editor, by(answerDetails))
    .post("/vehicles/:id/details", editor, by(saveDetails))
    .post("/vehicles/:id/archive", editor, by(archive))
    .post("/vehicles/:id/unarchive", editor, by(unarchive));
}

/** GET `/vehicles/new`: the form, empty. */
async function answerBlank(c: GrantedContext, deps: Deps) {
  const record = await newRecord(c.var.store);
  return show(c, deps, 200, record, { vehicle: null, fields: { refrigerant: "R-134a" } });
}

/** POST `/vehicles/new`: the vehicle of the form, or the form with what is to be put right. */
async function enterVehicle(c: GrantedContext, deps: Deps) {
  const form = await formOf(c);
  const fields = detailsFieldsOf(form);
  const record = await newRecord(c.var.store);
  const read = readDetails(fields, context(deps, record));
  if (!read.ok) return show(c, deps, 422, record, { vehicle: null, fields, errors: read.errors });
  const kept = await unlessOvertaken(c.var.store.vehicles.create(read.input, {}, submitKeyOf(form)));
  if (!(kept instanceof Conflict)) return c.redirect(savedVehicle(kept.id, "kept"), 303);
  return show(c, deps, 409, record, { vehicle: null, fields, conflict: conflictOf(kept, fields, record) });
}

/** GET `/vehicles/:id/details`: the form, as the vehicle is recorded. */
async function answerDetails(c: GrantedContext, deps: Deps) {
  const record = await c.var.store.record(idOf(c));
  const fields = typedDetails(inItsMoney(record), unitsOf(record.workspace));
  return show(c, deps, 200, record, { vehicle: record.vehicle, fields });
}

/** POST `/vehicles/:id/details`: the details of the form, or the form with what stands in the way. */
async function saveDetails(c: GrantedContext, deps: Deps) {
  const id = idOf(c);
  const form = await formOf(c);
  const fields = detailsFieldsOf(form);
  const record = await c.var.store.record(id);
  const read = readDetails(fields, context(deps, record));
  const version = versionOf(form);
  if (!read.ok) {
    const vehicle = { ...record.vehicle, version };
    return show(c, deps, 422, record, { vehicle, fields, errors: read.errors });
  }
  const saved = await unlessOvertaken(c.var.store.vehicles.update(id, version, read.input, submitKeyOf(form)));
  if (!(saved instanceof Conflict)) return c.redirect(savedVehicle(id, "details"), 303);
  return show(c, deps, 409, record, { vehicle: saved.current, fields, conflict: conflictOf(saved, fields, record) });
}

/** POST `/vehicles/:id/archive`: out of the list. */
async function archive(c: GrantedContext) {
  const [id, form] = [idOf(c), await formOf(c)];
  await c.var.store.vehicles.archive(id, versionOf(form), submitKeyOf(form));
  return c.redirect(savedVehicle(id, "archived"), 303);
}

/** POST `/vehicles/:id/unarchive`: back into the list. */
async function unarchive(c: GrantedContext) {
  const [id, form] = [idOf(c), await formOf(c)];
  await c.var.store.vehicles.unarchive(id, versionOf(form), submitKeyOf(form));
  return c.redirect(savedVehicle(id, "unarchived"), 303);
}

function idOf(c: GrantedContext): string {
  return c.req.param("id") ?? "";
}

function context(deps: Deps, record: AssessedRecord) {
  return { units: unitsOf(record.workspace), ...dayContextOf(record.workspace, deps.now()), record };
}

function show(
  c: GrantedContext,
  deps: Deps,
  status: 200 | 409 | 422,
  record: AssessedRecord,
  { vehicle, fields, errors = [], conflict = null }: Shown,
) {
  const as_usual = { ...record.vehicle, plan: {}, prices: {}, assumptions: {} };
  const usual = vehicleRequest({ ...record, vehicle: as_usual }, todayIn(record.workspace, deps.now()));
  const page = DetailsPage({
    vehicle,
    fields,
    usual: usualDetails(questionOf(usual), usual.plan ?? {}),
    prices: pricesUsed(record),
    errors,
    submit_key: newSubmitKey(deps.random),
    conflict,
    asset: deps.asset,
  });
  return answerPage(c, page, status);
}

type Shown = Pick<DetailsPageProps, "vehicle" | "fields"> & Partial<Pick<DetailsPageProps, "errors" | "conflict">>;

/** The vehicle with the prices that are in the currency of its answer; others are left out. */
function inItsMoney(record: AssessedRecord): Vehicle {
  const { vehicle, workspace } = record;
  return { ...vehicle, ...moneyIn(vehicle, workspace.currency, termsOf(record).currency) };
}

async function newRecord(store: WorkspaceStore): Promise<AssessedRecord> {
  const [workspace, books] = await Promise.all([store.settings.get(), store.priceBooks.own()]);
  return recordOfNone(workspace, books);
}

const NO_FLEET = { fleet_terms: [], logged: null, group_belief: null };

/** Stands for the record of a vehicle that is being entered. */
function recordOfNone(workspace: Workspace, price_books: OwnBook[]): AssessedRecord {
  const unsaved = { id: "", example: false, archived_at: null, version: 0 };
  const unwritten = { created_at: "", created_by: "", updated_at: "", updated_by: "" };
  const vehicle = {
    ...NEW_VEHICLE,
    label: "",
    refrigerant: "R-134a",
    nameplate_g: 650,
    ...unsaved,
    ...unwritten,
  } as const;
  return { workspace, vehicle, charge_log: [], findings: [], readings: [], price_books, ...NO_FLEET };
}

const LABELS: Readonly<Record<string, string>> = {
  label: "Name",
  refrigerant: "Refrigerant",
  nameplate: "Nameplate charge",
  climate: "Climate",
  system_volume: "Volume of the refrigerant system",
  fleet_group: "Group",
  depot: "Depot",
  model_year: "Model year",
  odometer: "Odometer",
  odometer_on: "Odometer read on",
  electric_compressor: "High-voltage compressor",
  dye_in_own_oil: "Leak dye in the compressor's own oil",
  kind: "Kind of vehicle",
  ...Object.fromEntries([...NUMBERS, ...CHOICES].map(({ name, label }) => [name, label])),
};

/** The stored values against the typed ones, field by field. */
function conflictOf(
  { message, current }: Conflict<Vehicle>,
  fields: DetailsPageProps["fields"],
  { workspace }: AssessedRecord,
): NonNullable<DetailsPageProps["conflict"]> {
  const saved = typedDetails(current, unitsOf(workspace));
  const differences = Object.entries(LABELS).flatMap(([name, label]): Difference[] => {
    const [ours, theirs] = [fields[name]?.trim() ?? "", saved[name] ?? ""];
    return ours === theirs ? [] : [{ label, saved: theirs, typed: ours }];
  });
  return { message, differences };
}
